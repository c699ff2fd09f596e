#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "geom/curve.hpp"
#include "geom/shapes.hpp"
#include "geom/triangulate.hpp"
#include "support/random.hpp"

using kp::geom::area;
using kp::geom::contains;
using kp::geom::Contour;
using kp::geom::FillRule;
using kp::geom::signed_area;
using kp::geom::sweep_triangles;
using kp::geom::Triangles;
using kp::geom::triangulate;
using kp::geom::Vec;
using kp::geom::winding;
using kp::test::Random;
using kp::test::reversed;
using kp::test::square;

namespace {

int holding(const Triangles& triangles, Vec point) {
  int count = 0;
  for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
    count += winding(Contour{triangles[i], triangles[i + 1], triangles[i + 2]}, point) != 0 ? 1 : 0;
  }
  return count;
}

/// Every sample point lies in one triangle where the contours are filled and in none elsewhere.
void check_cover(const std::vector<Contour>& contours, FillRule rule, const Triangles& triangles,
                 Random& random) {
  const kp::geom::Box box = kp::geom::bounds(contours).grown(1);
  for (int i = 0; i < 60; ++i) {
    const Vec point(box.min.x + box.width() * random.unit(),
                    box.min.y + box.height() * random.unit());
    CHECK(holding(triangles, point) == (contains(contours, rule, point) ? 1 : 0));
  }
  for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
    CHECK(signed_area(Contour{triangles[i], triangles[i + 1], triangles[i + 2]}) > 0);
  }
}

}  // namespace

TEST_CASE("simple polygons: n - 2 triangles, area preserved, every point covered once") {
  Random random(3);
  CAPTURE(random.seed());
  for (int round = 0; round < 200; ++round) {
    Contour shape = kp::test::star(random, Vec(5, -3), 40, random.between(3, 60));
    if (random.chance(0.5)) {
      shape = reversed(shape);
    }
    const Triangles triangles = triangulate({shape}, FillRule::nonzero);
    CHECK(triangles.size() == 3 * (shape.size() - 2));
    CHECK(area(triangles) == doctest::Approx(std::abs(signed_area(shape))).epsilon(1e-9));
    check_cover({shape}, FillRule::nonzero, triangles, random);
  }
}

TEST_CASE("holes stay open, islands in holes are filled, whatever way they turn") {
  Random random(5);
  CAPTURE(random.seed());
  const std::vector<Contour> plate{square(0, 0, 100),
                                   reversed(square(10, 10, 30)),
                                   reversed(square(60, 10, 30)),
                                   reversed(square(10, 60, 30)),
                                   reversed(kp::geom::ellipse(Vec(75, 75), 20, 15, 0.05)),
                                   square(20, 20, 5)};
  const Triangles triangles = triangulate(plate, FillRule::nonzero);
  const double oval = std::abs(signed_area(plate[4]));
  CHECK(area(triangles) == doctest::Approx(10000 - 3 * 900 - oval + 25).epsilon(1e-9));
  check_cover(plate, FillRule::nonzero, triangles, random);
  // With even-odd the way of turning does not matter.
  std::vector<Contour> one_way = plate;
  for (Contour& contour : one_way) {
    contour = signed_area(contour) < 0 ? reversed(contour) : contour;
  }
  CHECK(area(triangulate(one_way, FillRule::even_odd)) == doctest::Approx(area(triangles)));
  // With nonzero it does: a hole that turns as its outline does is no hole.
  CHECK(area(triangulate(one_way, FillRule::nonzero)) == doctest::Approx(10000));
}

TEST_CASE("random plates with random holes: ears and sweep agree") {
  Random random(17);
  CAPTURE(random.seed());
  for (int round = 0; round < 100; ++round) {
    std::vector<Contour> contours{
        kp::geom::ellipse(Vec(0, 0), 120, 110, 0.3 + random.unit())};
    for (int i = 0; i < random.between(1, 6); ++i) {
      const double angle = i * std::numbers::pi / 3;
      contours.push_back(reversed(kp::test::star(
          random, Vec(60 * std::cos(angle), 60 * std::sin(angle)), 25, random.between(3, 20))));
    }
    double wanted = 0;
    for (const Contour& contour : contours) {
      wanted += signed_area(contour);
    }
    const Triangles ears = triangulate(contours, FillRule::nonzero);
    const Triangles swept = sweep_triangles(contours, FillRule::nonzero);
    CHECK(area(ears) == doctest::Approx(wanted).epsilon(1e-9));
    CHECK(area(swept) == doctest::Approx(wanted).epsilon(1e-9));
    // Ears add two corners for each bridge and nothing else.
    std::size_t corners = 0;
    for (const Contour& contour : contours) {
      corners += contour.size();
    }
    CHECK(ears.size() == 3 * (corners + 2 * (contours.size() - 1) - 2));
    check_cover(contours, FillRule::nonzero, ears, random);
    check_cover(contours, FillRule::nonzero, swept, random);
  }
}

TEST_CASE("contours that cross themselves are covered once") {
  Random random(29);
  CAPTURE(random.seed());
  const Contour bow{Vec(0, 0), Vec(10, 10), Vec(10, 0), Vec(0, 10)};
  CHECK(kp::geom::crosses_itself({bow}));
  CHECK(area(triangulate({bow}, FillRule::nonzero)) == doctest::Approx(50));
  const std::vector<Contour> pair{square(0, 0, 10), square(5, 5, 10)};
  CHECK(area(triangulate(pair, FillRule::nonzero)) == doctest::Approx(175));
  CHECK(area(triangulate(pair, FillRule::even_odd)) == doctest::Approx(150));
  for (int round = 0; round < 60; ++round) {
    Contour tangle;
    for (int i = random.between(4, 14); i > 0; --i) {
      tangle.emplace_back(100 * random.unit(), 100 * random.unit());
    }
    for (const FillRule rule : {FillRule::nonzero, FillRule::even_odd}) {
      check_cover({tangle}, rule, triangulate({tangle}, rule), random);
    }
  }
}

TEST_CASE("a ring drawn as one contour with a seam is filled like a ring") {
  Random random(31);
  CAPTURE(random.seed());
  Contour ring;
  for (const Vec& point : kp::geom::ellipse(Vec(0, 0), 56, 18, 0.05)) {
    ring.push_back(point);
  }
  ring.emplace_back(56, 0);
  const Contour inner = reversed(kp::geom::ellipse(Vec(0, 0), 43, 10.5, 0.05));
  ring.emplace_back(43, 0);
  ring.insert(ring.end(), inner.begin(), inner.end());
  const Triangles triangles = triangulate({ring}, FillRule::nonzero);
  CHECK(area(triangles) == doctest::Approx(signed_area(ring)).epsilon(1e-9));
  CHECK(area(triangles) == doctest::Approx(std::numbers::pi * (56 * 18 - 43 * 10.5)).epsilon(0.01));
  check_cover({ring}, FillRule::nonzero, triangles, random);
}

TEST_CASE("contours that meet in corners or along edges are covered once") {
  Random random(37);
  CAPTURE(random.seed());
  const Contour wedge{Vec(10, 5), Vec(20, 0), Vec(20, 10)};
  const Contour across{Vec(5, -5), Vec(5, 15), Vec(0, 5)};   // its right edge cuts the square
  const Contour over{Vec(0, 5), Vec(10, 5), Vec(10, 15), Vec(0, 15)};
  for (const Contour& other : {wedge, across, over, square(10, 0, 10), square(0, 0, 10)}) {
    const std::vector<Contour> pair{square(0, 0, 10), other};
    check_cover(pair, FillRule::nonzero, triangulate(pair, FillRule::nonzero), random);
    check_cover(pair, FillRule::even_odd, triangulate(pair, FillRule::even_odd), random);
  }
  // An eight whose lobes meet in one corner and turn both ways.
  const Contour eight{Vec(0, 0), Vec(10, 10), Vec(20, 0), Vec(20, 20), Vec(10, 10), Vec(0, 30)};
  check_cover({eight}, FillRule::nonzero, triangulate({eight}, FillRule::nonzero), random);
}

TEST_CASE("nothing to fill gives nothing") {
  CHECK(triangulate({}, FillRule::nonzero).empty());
  CHECK(triangulate({Contour{Vec(0, 0), Vec(1, 1)}}, FillRule::nonzero).empty());
  CHECK(triangulate({Contour{Vec(0, 0), Vec(1, 1), Vec(2, 2)}}, FillRule::nonzero).empty());
}
