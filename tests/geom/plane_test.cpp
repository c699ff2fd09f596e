#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>

#include "geom/affine.hpp"
#include "geom/box.hpp"
#include "geom/segment.hpp"
#include "support/random.hpp"

using kp::geom::Affine;
using kp::geom::Box;
using kp::geom::Contour;
using kp::geom::crossing;
using kp::geom::distance;
using kp::geom::length;
using kp::geom::meets;
using kp::geom::touch;
using kp::geom::Vec;

namespace {

void check_point(Vec got, Vec wanted) {
  CHECK(got.x == doctest::Approx(wanted.x).epsilon(1e-12));
  CHECK(got.y == doctest::Approx(wanted.y).epsilon(1e-12));
}

}  // namespace

TEST_CASE("a box holds what was added and its border") {
  Box box;
  CHECK(box.empty());
  CHECK(box.area() == 0.0);
  box.add(Vec(1, 2));
  box.add(Vec(-3, 5));
  CHECK(box.width() == 4.0);
  CHECK(box.height() == 3.0);
  CHECK(box.centre() == Vec(-1, 3.5));
  CHECK(box.contains(Vec(1, 5)));
  CHECK_FALSE(box.contains(Vec(1.001, 5)));
  CHECK(box.contains(Box{}));
  CHECK(box.grown(1).contains(Vec(2, 1)));
  CHECK(box.moved(Vec(10, 0)).contains(Vec(7, 2)));
  CHECK(box.scaled(2).max == Vec(2, 10));
}

TEST_CASE("boxes that share only a border do not overlap") {
  const Box a = Box::of(0, 0, 1, 1);
  CHECK_FALSE(a.overlaps(Box::of(1, 0, 2, 1)));
  CHECK(a.overlaps(Box::of(0.999, 0, 2, 1)));
  CHECK(a.distance(Vec(4, 5)) == doctest::Approx(5));
  CHECK(a.distance(Vec(0.5, 0.5)) == 0.0);
}

TEST_CASE("a segment meets a box where it passes through, touches or lies in it") {
  const Box box = Box::of(0, 0, 4, 2);
  CHECK(meets(box, Vec(-1, 1), Vec(5, 1)));
  CHECK(meets(box, Vec(1, 1), Vec(2, 1)));
  CHECK(meets(box, Vec(-1, 0), Vec(5, 0)));
  CHECK_FALSE(meets(box, Vec(-1, -1), Vec(5, -1)));
  CHECK_FALSE(meets(box, Vec(-2, 1), Vec(0, 4)));
  CHECK_FALSE(meets(box, Vec(1, 3), Vec(1, 9)));
  CHECK(meets(box, Vec(1, -3), Vec(1, 9)));
}

TEST_CASE("transforms act as the matrices of SVG 1.1, section 7.6") {
  check_point(Affine::move(Vec(3, 4)).apply(Vec(1, 1)), Vec(4, 5));
  check_point(Affine::scale(2, -1).apply(Vec(3, 4)), Vec(6, -4));
  // rotate(90) carries the x axis onto the y axis: [cos a, sin a, -sin a, cos a, 0, 0].
  check_point(Affine::rotate(90).apply(Vec(1, 0)) + Vec(1, 0), Vec(1, 1));
  check_point(Affine::skew_x(45).apply(Vec(0, 2)), Vec(2, 2));
  check_point(Affine::skew_y(45).apply(Vec(2, 0)), Vec(2, 2));
  // "translate(3,4) scale(2,2)" scales first (section 7.6, nested transforms).
  const Affine both = Affine::move(Vec(3, 4)) * Affine::scale(2, 2);
  check_point(both.apply(Vec(1, 1)), Vec(5, 6));
  CHECK(both.mean_scale() == doctest::Approx(2));
}

TEST_CASE("a transform and its inverse leave points where they are") {
  kp::test::Random random(41);
  CAPTURE(random.seed());
  for (int i = 0; i < 200; ++i) {
    const Affine there = Affine::move(Vec(random.unit(), 9 * random.unit())) *
                         Affine::rotate(360 * random.unit()) *
                         Affine::scale(0.2 + random.unit(), 0.2 + random.unit());
    const auto back = there.inverse();
    REQUIRE(back.has_value());
    const Vec point(random.unit() * 10, random.unit() * 10);
    CHECK(length(back->apply(there.apply(point)) - point) < 1e-9);
  }
  CHECK_FALSE(Affine::scale(0, 1).inverse().has_value());
}

TEST_CASE("segments cross, touch or miss") {
  const auto point = crossing(Vec(0, 0), Vec(4, 4), Vec(0, 4), Vec(4, 0));
  REQUIRE(point.has_value());
  check_point(*point, Vec(2, 2));
  CHECK_FALSE(crossing(Vec(0, 0), Vec(4, 0), Vec(2, 0), Vec(2, 3)).has_value());
  CHECK(touch(Vec(0, 0), Vec(4, 0), Vec(2, 0), Vec(2, 3)));
  CHECK(touch(Vec(0, 0), Vec(4, 0), Vec(3, 0), Vec(9, 0)));
  CHECK_FALSE(touch(Vec(0, 0), Vec(4, 0), Vec(5, 0), Vec(9, 0)));
  CHECK_FALSE(touch(Vec(0, 0), Vec(4, 0), Vec(0, 1), Vec(4, 1)));
}

TEST_CASE("the distance to a line is that of its nearest point") {
  const Contour line{Vec(0, 0), Vec(10, 0), Vec(10, 10)};
  CHECK(distance(line, false, Vec(5, 3)) == doctest::Approx(3));
  CHECK(distance(line, false, Vec(13, -4)) == doctest::Approx(5));
  // The closing edge is the diagonal x = y: (0, 10) lies 10 / sqrt 2 from it.
  CHECK(distance(line, false, Vec(0, 10)) == doctest::Approx(10));
  CHECK(distance(line, true, Vec(0, 10)) == doctest::Approx(10 / std::numbers::sqrt2));
  CHECK(distance(Contour{}, false, Vec(0, 0)) == std::numeric_limits<double>::infinity());
  CHECK(distance(Contour{Vec(3, 4)}, false, Vec(0, 0)) == doctest::Approx(5));
}
