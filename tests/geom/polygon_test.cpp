#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "geom/polygon.hpp"
#include "geom/segment.hpp"
#include "geom/shapes.hpp"
#include "support/random.hpp"

using kp::geom::contains;
using kp::geom::Contour;
using kp::geom::convex;
using kp::geom::convex_hull;
using kp::geom::distance;
using kp::geom::FillRule;
using kp::geom::meets;
using kp::geom::path_length;
using kp::geom::signed_area;
using kp::geom::simplify;
using kp::geom::Vec;
using kp::geom::winding;
using kp::geom::without_repeats;
using kp::test::Random;
using kp::test::square;

TEST_CASE("the shoelace formula on shapes whose area school books give") {
  CHECK(signed_area(square(0, 0, 3)) == 9.0);
  CHECK(signed_area(kp::test::reversed(square(0, 0, 3))) == -9.0);
  CHECK(signed_area(Contour{Vec(0, 0), Vec(4, 0), Vec(0, 3)}) == 6.0);  // half base times height
  CHECK(path_length(Contour{Vec(0, 0), Vec(4, 0), Vec(0, 3)}, true) == 12.0);  // 3-4-5
  CHECK(path_length(Contour{Vec(0, 0), Vec(4, 0), Vec(0, 3)}, false) == 9.0);
  CHECK(signed_area(Contour{Vec(0, 0), Vec(4, 0)}) == 0.0);
}

TEST_CASE("inside by the two rules of SVG 1.1, section 11.3") {
  // The five-pointed star of the specification's figure: its middle is wound twice.
  const Contour pentagram{Vec(0, -10), Vec(5.9, 8.1), Vec(-9.5, -3.1), Vec(9.5, -3.1),
                          Vec(-5.9, 8.1)};
  CHECK(winding(pentagram, Vec(0, 0)) == 2);
  CHECK(contains({pentagram}, FillRule::nonzero, Vec(0, 0)));
  CHECK_FALSE(contains({pentagram}, FillRule::even_odd, Vec(0, 0)));
  CHECK(contains({pentagram}, FillRule::even_odd, Vec(0, -8)));
  CHECK_FALSE(contains({pentagram}, FillRule::nonzero, Vec(0, 9)));
  // A ring: the hole runs the other way.
  const std::vector<Contour> ring{square(0, 0, 10), kp::test::reversed(square(3, 3, 4))};
  CHECK_FALSE(contains(ring, FillRule::nonzero, Vec(5, 5)));
  CHECK(contains(ring, FillRule::nonzero, Vec(1, 5)));
  CHECK(distance(ring, FillRule::nonzero, Vec(5, 5)) == doctest::Approx(2));
  CHECK(distance(ring, FillRule::nonzero, Vec(1, 5)) == 0.0);
  CHECK(distance(ring, FillRule::nonzero, Vec(-3, -4)) == doctest::Approx(5));
}

TEST_CASE("a segment meets an area that it enters, crosses or lies in") {
  const std::vector<Contour> ring{square(0, 0, 10), kp::test::reversed(square(3, 3, 4))};
  CHECK(meets(ring, FillRule::nonzero, Vec(-5, 5), Vec(15, 5)));
  CHECK(meets(ring, FillRule::nonzero, Vec(1, 1), Vec(1, 2)));
  CHECK_FALSE(meets(ring, FillRule::nonzero, Vec(4, 4), Vec(6, 6)));
  CHECK_FALSE(meets(ring, FillRule::nonzero, Vec(-5, 0), Vec(-1, 10)));
}

TEST_CASE("a convex hull holds all points, is convex and uses only given points") {
  Random random(7);
  CAPTURE(random.seed());
  for (int round = 0; round < 100; ++round) {
    Contour points;
    for (int i = random.between(3, 40); i > 0; --i) {
      points.emplace_back(random.between(-9, 9), random.between(-9, 9));
    }
    const Contour hull = convex_hull(points);
    if (hull.size() < 3) {
      continue;
    }
    CHECK(convex(hull));
    CHECK(signed_area(hull) > 0);
    for (const Vec& point : points) {
      CHECK(kp::geom::distance({hull}, FillRule::nonzero, point) < 1e-9);
    }
    for (const Vec& corner : hull) {
      CHECK(std::find(points.begin(), points.end(), corner) != points.end());
    }
  }
}

TEST_CASE("convex means one turn, one way") {
  CHECK(convex(square(0, 0, 1)));
  CHECK(convex(kp::test::reversed(square(0, 0, 1))));
  CHECK_FALSE(convex(Contour{Vec(0, 0), Vec(4, 0), Vec(1, 1), Vec(0, 4)}));
  CHECK_FALSE(convex(Contour{Vec(0, -10), Vec(5.9, 8.1), Vec(-9.5, -3.1), Vec(9.5, -3.1),
                             Vec(-5.9, 8.1)}));
}

TEST_CASE("a simplified line stays within its tolerance and keeps its ends") {
  Random random(11);
  CAPTURE(random.seed());
  for (int round = 0; round < 60; ++round) {
    const Contour shape = kp::test::star(random, Vec(0, 0), 50, random.between(5, 60));
    const double tolerance = 0.1 + 4 * random.unit();
    const Contour line = simplify(shape, false, tolerance);
    CHECK(line.front() == shape.front());
    CHECK(line.back() == shape.back());
    const Contour ring = simplify(shape, true, tolerance);
    CHECK(ring.size() >= 3);
    for (const Vec& point : shape) {
      CHECK(kp::geom::distance(line, false, point) <= tolerance + 1e-9);
      CHECK(kp::geom::distance(ring, true, point) <= tolerance + 1e-9);
    }
  }
  CHECK(simplify(Contour{Vec(0, 0), Vec(1, 0), Vec(2, 0), Vec(3, 0)}, false, 0.01).size() == 2);
}

TEST_CASE("repeated neighbours go, other repeats stay") {
  const Contour dirty{Vec(0, 0), Vec(0, 0), Vec(1, 0), Vec(0, 0), Vec(1, 1), Vec(0, 0)};
  CHECK(without_repeats(dirty) == Contour{Vec(0, 0), Vec(1, 0), Vec(0, 0), Vec(1, 1)});
}
