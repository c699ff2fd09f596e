#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "geom/curve.hpp"
#include "geom/hatch.hpp"
#include "geom/segment.hpp"
#include "geom/shapes.hpp"
#include "support/random.hpp"

using kp::geom::Box;
using kp::geom::contains;
using kp::geom::Contour;
using kp::geom::cover;
using kp::geom::dashes;
using kp::geom::FillRule;
using kp::geom::hatch;
using kp::geom::length;
using kp::geom::mix;
using kp::geom::path_length;
using kp::geom::signed_area;
using kp::geom::triangulate;
using kp::geom::Vec;
using kp::test::Random;
using kp::test::reversed;
using kp::test::square;

// Cavalieri: the sum of the chords times their spacing tends to the area.
TEST_CASE("hatch lines times their spacing measure the area") {
  Random random(13);
  CAPTURE(random.seed());
  for (int round = 0; round < 40; ++round) {
    const std::vector<Contour> shape{kp::test::star(random, Vec(3, 9), 60, random.between(3, 30))};
    const double angle = random.unit() * 6.28;
    const std::vector<Vec> lines =
        hatch(shape, FillRule::nonzero, Vec(std::cos(angle), std::sin(angle)), 0.05);
    double sum = 0;
    for (std::size_t i = 0; i + 1 < lines.size(); i += 2) {
      sum += length(lines[i + 1] - lines[i]);
      CHECK(contains(shape, FillRule::nonzero, mix(lines[i], lines[i + 1], 0.5)));
    }
    CHECK(sum * 0.05 == doctest::Approx(std::abs(signed_area(shape[0]))).epsilon(0.01));
  }
}

TEST_CASE("hatching leaves holes open and keeps its direction and phase") {
  const std::vector<Contour> ring{square(0.5, 0.5, 30), reversed(square(10, 10, 10))};
  const std::vector<Vec> lines = hatch(ring, FillRule::nonzero, Vec(-1, 1), 4);
  REQUIRE(lines.size() > 10);
  for (std::size_t i = 0; i + 1 < lines.size(); i += 2) {
    const Vec along = lines[i + 1] - lines[i];
    CHECK(along.x + along.y == doctest::Approx(0));
    const double row = (lines[i].x + lines[i].y) / std::numbers::sqrt2 / 4;
    CHECK(row == doctest::Approx(std::round(row)));
    CHECK_FALSE(Box::of(10, 10, 20, 20).grown(-1e-9).contains(mix(lines[i], lines[i + 1], 0.5)));
  }
  CHECK(hatch(ring, FillRule::nonzero, Vec(0, 0), 4).empty());
  CHECK(hatch({}, FillRule::nonzero, Vec(1, 0), 4).empty());
}

TEST_CASE("dashes follow the pattern along the line and around corners") {
  const Contour line{Vec(0, 0), Vec(10, 0), Vec(10, 10)};
  const std::vector<Contour> cut = dashes(line, false, {4, 4});
  REQUIRE(cut.size() == 3);
  CHECK(cut[0] == Contour{Vec(0, 0), Vec(4, 0)});
  CHECK(cut[1] == Contour{Vec(8, 0), Vec(10, 0), Vec(10, 2)});
  CHECK(cut[2] == Contour{Vec(10, 6), Vec(10, 10)});
  CHECK(dashes(line, false, {}).size() == 1);
  CHECK(dashes(line, false, {0, 0}).front() == line);
}

TEST_CASE("dashes keep the pattern's share of a long line") {
  const Contour round = kp::geom::ellipse(Vec(0, 0), 500, 500, 0.01);
  double sum = 0;
  for (const Contour& dash : dashes(round, true, {9, 4, 2, 4})) {
    sum += path_length(dash, false);
  }
  CHECK(sum / path_length(round, true) == doctest::Approx(11.0 / 19).epsilon(0.01));
}

TEST_CASE("the covering boxes hold the area and are few") {
  Random random(19);
  CAPTURE(random.seed());
  for (int round = 0; round < 60; ++round) {
    const std::vector<Contour> shape{kp::test::star(random, Vec(0, 0), 50, random.between(3, 40))};
    const std::vector<Box> boxes = cover(triangulate(shape, FillRule::nonzero), 6);
    CHECK(boxes.size() <= 6);
    const Box whole = kp::geom::bounds(shape);
    for (int i = 0; i < 100; ++i) {
      const Vec point(whole.min.x + whole.width() * random.unit(),
                      whole.min.y + whole.height() * random.unit());
      if (contains(shape, FillRule::nonzero, point)) {
        bool held = false;
        for (const Box& box : boxes) {
          held = held || box.grown(1e-9).contains(point);
        }
        CHECK(held);
      }
    }
    for (const Box& box : boxes) {
      CHECK(whole.grown(1e-9).contains(box));
    }
  }
}

TEST_CASE("two plates with a gap get boxes that leave the gap free") {
  const std::vector<Contour> floor{square(0, 0, 40), square(100, 0, 40)};
  const std::vector<Box> boxes = cover(triangulate(floor, FillRule::nonzero), 6);
  CHECK(boxes.size() == 2);
  for (const Box& box : boxes) {
    CHECK_FALSE(box.contains(Vec(70, 20)));
  }
  CHECK(cover({}, 6).empty());
  CHECK(cover(triangulate({square(0, 0, 40)}, FillRule::nonzero), 6).size() == 1);
}
