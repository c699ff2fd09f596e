#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "geom/affine.hpp"
#include "geom/curve.hpp"
#include "geom/polygon.hpp"
#include "geom/segment.hpp"
#include "support/random.hpp"

using kp::geom::Contour;
using kp::geom::flatten_arc;
using kp::geom::flatten_cubic;
using kp::geom::flatten_quadratic;
using kp::geom::length;
using kp::geom::path_length;
using kp::geom::signed_area;
using kp::geom::Vec;

namespace {

constexpr double kPi = std::numbers::pi;

}  // namespace

// Circle: area pi r^2, circumference 2 pi r. A chord of sagitta t leaves at most t times the
// circumference of area outside, so both converge with the tolerance.
TEST_CASE("an arc has the length and the area of its circle") {
  for (const double radius : {1.0, 12.5, 200.0}) {
    for (const double tolerance : {0.1, 0.01, 0.001}) {
      Contour circle{Vec(radius, 0)};
      flatten_arc(circle, Vec(radius, 0), radius, radius, 0, false, true, Vec(-radius, 0),
                  tolerance);
      CHECK(circle.back() == Vec(-radius, 0));
      flatten_arc(circle, Vec(-radius, 0), radius, radius, 0, false, true, Vec(radius, 0),
                  tolerance);
      circle.pop_back();
      const double round = 2 * kPi * radius;
      CHECK(signed_area(circle) <= kPi * radius * radius);
      CHECK(signed_area(circle) > kPi * radius * radius - tolerance * round);
      CHECK(path_length(circle, true) <= round);
      CHECK(path_length(circle, true) > round - 8 * kPi * tolerance);
      for (const Vec& point : circle) {
        CHECK(length(point) == doctest::Approx(radius).epsilon(1e-12));
      }
    }
  }
}

// Ellipse: area pi a b.
TEST_CASE("an ellipse has the area pi a b") {
  const Contour round = kp::geom::ellipse(Vec(3, 4), 50, 20, 0.005);
  CHECK(signed_area(round) == doctest::Approx(kPi * 50 * 20).epsilon(2e-3));
  for (const Vec& point : round) {
    const double x = (point.x - 3) / 50;
    const double y = (point.y - 4) / 20;
    CHECK(x * x + y * y == doctest::Approx(1).epsilon(1e-12));
  }
}

// SVG 1.1, section 8.3.8: of the four arcs between two points, the flags choose one.
TEST_CASE("the arc flags choose the arc that SVG 1.1 section 8.3.8 shows") {
  const Vec start(0, 0);
  const Vec end(10, 10);
  const auto middle_of = [start, end](bool large, bool sweep) {
    Contour line{start};
    flatten_arc(line, start, 10, 10, 0, large, sweep, end, 1e-4);
    CHECK(line.back() == end);
    const double part = path_length(line, false) / (2 * kPi * 10);
    CHECK(part == doctest::Approx(large ? 0.75 : 0.25).epsilon(1e-4));
    return line[line.size() / 2];
  };
  // Centres are (10, 0) and (0, 10); sweep 1 runs with growing angle, clockwise on screen.
  CHECK(middle_of(false, true).x > middle_of(false, true).y);
  CHECK(middle_of(false, false).x < middle_of(false, false).y);
  CHECK(length(middle_of(false, true) - Vec(0, 10)) == doctest::Approx(10));
  CHECK(length(middle_of(true, true) - Vec(10, 0)) == doctest::Approx(10));
  CHECK(length(middle_of(true, false) - Vec(0, 10)) == doctest::Approx(10));
}

// SVG 1.1, appendix F.6.2 and F.6.6.
TEST_CASE("out-of-range arcs are mended as appendix F.6 says") {
  Contour same{Vec(1, 1)};
  flatten_arc(same, Vec(1, 1), 5, 5, 0, true, true, Vec(1, 1), 0.1);
  CHECK(same.size() == 1);
  Contour line{Vec(0, 0)};
  flatten_arc(line, Vec(0, 0), 0, 5, 0, false, true, Vec(9, 0), 0.1);
  CHECK(line == Contour{Vec(0, 0), Vec(9, 0)});
  Contour negative{Vec(0, 0)};
  flatten_arc(negative, Vec(0, 0), -5, -5, 0, false, true, Vec(10, 0), 1e-4);
  CHECK(path_length(negative, false) == doctest::Approx(5 * kPi).epsilon(1e-4));
  // Too small a radius grows until the ends are reached: a half circle of radius 5.
  Contour grown{Vec(0, 0)};
  flatten_arc(grown, Vec(0, 0), 2, 2, 30, false, true, Vec(10, 0), 1e-4);
  CHECK(path_length(grown, false) == doctest::Approx(5 * kPi).epsilon(1e-4));
}

TEST_CASE("a turned elliptic arc lies on its ellipse") {
  const double turn = 30;
  const kp::geom::Affine frame = kp::geom::Affine::rotate(turn);
  const Vec start = frame.apply(Vec(8, 0));
  const Vec end = frame.apply(Vec(0, 3));
  Contour line{start};
  flatten_arc(line, start, 8, 3, turn, false, true, end, 0.001);
  const auto back = frame.inverse();
  REQUIRE(back.has_value());
  CHECK(line.size() > 8);
  for (const Vec& point : line) {
    const Vec p = back->apply(point);
    CHECK(p.x * p.x / 64 + p.y * p.y / 9 == doctest::Approx(1).epsilon(1e-9));
    CHECK(p.x > -1e-9);
  }
}

// Bernstein polynomials give a curve's point at t directly; the control polygon bounds its length.
TEST_CASE("flattened Bezier curves stay within their tolerance") {
  kp::test::Random random(23);
  CAPTURE(random.seed());
  for (int round = 0; round < 100; ++round) {
    Vec p[4];
    for (Vec& point : p) {
      point = Vec(100 * random.unit(), 100 * random.unit());
    }
    const double tolerance = 0.02 + 0.5 * random.unit();
    Contour cubic{p[0]};
    flatten_cubic(cubic, p[0], p[1], p[2], p[3], tolerance);
    Contour quadratic{p[0]};
    flatten_quadratic(quadratic, p[0], p[1], p[2], tolerance);
    CHECK(cubic.back() == p[3]);
    CHECK(quadratic.back() == p[2]);
    for (int i = 0; i <= 50; ++i) {
      const double t = i / 50.0;
      const double u = 1 - t;
      const Vec on_cubic =
          p[0] * (u * u * u) + p[1] * (3 * u * u * t) + p[2] * (3 * u * t * t) + p[3] * (t * t * t);
      const Vec on_quadratic = p[0] * (u * u) + p[1] * (2 * u * t) + p[2] * (t * t);
      CHECK(kp::geom::distance(cubic, false, on_cubic) <= tolerance + 1e-9);
      CHECK(kp::geom::distance(quadratic, false, on_quadratic) <= tolerance + 1e-9);
    }
  }
}

// A parabola's arc y = x^2 from (0,0) to (1,1): length (2 sqrt 5 + asinh 2) / 4, area under 1/3.
TEST_CASE("a quadratic curve has the length of its parabola") {
  Contour line{Vec(0, 0)};
  flatten_quadratic(line, Vec(0, 0), Vec(0.5, 0), Vec(1, 1), 1e-6);
  CHECK(path_length(line, false) ==
        doctest::Approx((2 * std::sqrt(5.0) + std::asinh(2.0)) / 4).epsilon(1e-5));
  line.emplace_back(1, 0);
  CHECK(std::abs(signed_area(line)) == doctest::Approx(1.0 / 3).epsilon(1e-4));
}

TEST_CASE("a rounded box loses (4 - pi) r^2 at its corners") {
  const Contour box = kp::geom::rounded_box(0, 0, 40, 20, 6, 6, 0.001);
  CHECK(signed_area(box) == doctest::Approx(800 - (4 - kPi) * 36).epsilon(1e-3));
  CHECK(kp::geom::rounded_box(0, 0, 40, 20, 0, 0, 0.001).size() == 4);
  // Radii larger than half a side make half circles there: a stadium.
  const Contour stadium = kp::geom::rounded_box(0, 0, 40, 20, 10, 99, 0.001);
  CHECK(signed_area(stadium) == doctest::Approx(20 * 20 + kPi * 100).epsilon(1e-3));
}
