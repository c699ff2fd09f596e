// The pieces of the layout, each alone.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "scene/column.hpp"
#include "scene/explode.hpp"
#include "scene/words.hpp"
#include "support/random.hpp"

using kp::scene::attach;
using kp::scene::blocked;
using kp::scene::Body;
using kp::scene::Box;
using kp::scene::boxes_at;
using kp::scene::Column;
using kp::scene::ColumnEntry;
using kp::scene::explode;
using kp::scene::first_free;
using kp::scene::hull_of;
using kp::scene::Offset;
using kp::scene::Range;
using kp::scene::spread_column;
using kp::scene::squeeze;
using kp::scene::Vec;
using kp::test::Random;

namespace {

Body body(Box box, Vec away) {
  Body out;
  out.boxes = {box};
  out.away = away;
  return out;
}

}  // namespace

TEST_CASE("sliding boxes: the blocked range is where they come nearer than the gap") {
  Random random(61);
  CAPTURE(random.seed());
  for (int round = 0; round < 300; ++round) {
    const Box still = Box::of(0, 0, 1 + 9 * random.unit(), 1 + 9 * random.unit());
    const Box moving = Box::of(0, 0, 1 + 5 * random.unit(), 1 + 5 * random.unit())
                           .moved(Vec(20 * random.unit() - 10, 20 * random.unit() - 10));
    const double angle = 6.28 * random.unit();
    const Vec along(std::cos(angle), std::sin(angle));
    const double gap = 2 * random.unit();
    const Range range = blocked(still, moving, along, gap);
    for (int i = 0; i < 40; ++i) {
      const double t = 60 * random.unit() - 30;
      const bool near = still.grown(gap).overlaps(moving.moved(along * t));
      const double edge = std::min(std::abs(t - range.from), std::abs(t - range.to));
      if (range.empty() || edge > 1e-6) {
        CHECK(near == (!range.empty() && t > range.from && t < range.to));
      }
    }
  }
  CHECK(first_free({{1, 3}, {2, 5}, {8, 9}}, 0) == 0);
  CHECK(first_free({{-1, 3}, {2, 5}, {8, 9}}, 0) == 5);
  CHECK(first_free({{-1, 3}, {2, 8.5}, {8, 9}}, 0) == 9);
}

TEST_CASE("a stack comes apart with the gap between, the covered one first") {
  // Three plates one above the other; the top one covers the next, and so on; all go up.
  std::vector<Body> bodies;
  for (int i = 0; i < 3; ++i) {
    bodies.push_back(body(Box::of(0, 10.0 * i, 20, 10.0 * i + 10), Vec(0, -1)));
  }
  bodies[2].covered_by = {1};
  bodies[1].covered_by = {0};
  const std::vector<Offset> offsets = explode(bodies, {}, 4);
  CHECK(offsets[2].move == Vec(0, 0));
  CHECK(offsets[1].move == Vec(0, -4));
  CHECK(offsets[0].move == Vec(0, -8));
}

TEST_CASE("a cover that lies inside at home still ends up outside") {
  std::vector<Body> bodies{body(Box::of(0, 0, 10, 10), Vec(0, 1)),
                           body(Box::of(0, 2, 10, 6), Vec(0, 1))};
  bodies[0].covered_by = {1};
  const std::vector<Offset> offsets = explode(bodies, {}, 1);
  CHECK(offsets[0].move == Vec(0, 0));
  CHECK(offsets[1].move == Vec(0, 9));
}

TEST_CASE("an assembly comes apart in itself and slides as one") {
  std::vector<Body> bodies{body(Box::of(-50, 0, 50, 10), Vec(0, 0)),   // floor
                           body(Box::of(-10, 5, 10, 25), Vec(0, 0)),   // carried: stays in it
                           body(Box::of(5, 8, 25, 20), Vec(1, 0))};    // carried: goes right
  bodies[1].group = 0;
  bodies[2].group = 0;
  const std::vector<Offset> offsets = explode(bodies, {{Vec(0, 1), -1}}, 2);
  CHECK(offsets[0].move == Vec(0, 0));
  CHECK(offsets[1].move == Vec(0, 7));
  CHECK(offsets[2].move == Vec(7, 7));
}

TEST_CASE("squeezing takes out empty bands and keeps order") {
  const std::vector<Body> bodies{body(Box::of(0, 0, 10, 10), Vec(0, 1)),
                                 body(Box::of(0, 100, 10, 110), Vec(0, 1)),
                                 body(Box::of(300, 104, 310, 114), Vec(0, 1))};
  std::vector<Offset> offsets(3);
  squeeze(bodies, offsets, 20);
  CHECK(offsets[0].move == Vec(0, 0));
  CHECK(offsets[1].move == Vec(0, -70));
  CHECK(offsets[2].move == Vec(-270, -70));
}

TEST_CASE("loose bodies go with what they hold, to a free place, twins mirrored") {
  std::vector<Body> bodies{body(Box::of(-40, 0, 40, 20), Vec(0, 1)),
                           body(Box::of(30, 5, 40, 15), Vec(0, 1))};
  bodies[1].loose = true;
  bodies[1].twins = {Box::of(-40, 5, -30, 15)};
  bodies[1].holder = 0;
  std::vector<Offset> offsets(2);
  offsets[0].move = Vec(0, 100);
  attach(bodies, offsets, 2);
  const std::vector<Box> boxes = boxes_at(bodies[1], offsets[1]);
  const Box held = bodies[0].boxes[0].moved(offsets[0].move);
  REQUIRE(boxes.size() == 2);
  for (const Box& box : boxes) {
    CHECK_FALSE(box.grown(2 - 1e-6).overlaps(held));
    CHECK(held.distance(box.centre()) < 30);
  }
  CHECK(boxes[0].centre().x == doctest::Approx(-boxes[1].centre().x));
  CHECK(boxes[0].centre().y == doctest::Approx(boxes[1].centre().y));
}

// Oracle: every choice of rows, tried in turn.
TEST_CASE("the column's heights are the best on the raster") {
  Random random(71);
  CAPTURE(random.seed());
  for (int round = 0; round < 60; ++round) {
    const Column column{0, 24, 2};
    std::vector<ColumnEntry> entries;
    for (int i = random.between(1, 3); i > 0; --i) {
      entries.push_back({24 * random.unit(), 4 + 4.0 * random.between(0, 1)});
    }
    const double barred = 24 * random.unit();
    const auto cost = [&entries, barred](std::size_t i, double y) {
      return std::abs(y - barred) < 2 ? std::numeric_limits<double>::infinity()
                                      : std::abs(y - entries[i].anchor);
    };
    double best = std::numeric_limits<double>::infinity();
    std::vector<int> rows(entries.size(), 0);
    for (;;) {
      double sum = 0;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const double y = 2.0 * rows[i];
        const double half = entries[i].height / 2;
        const bool inside = y - half >= 0 && y + half <= 24;
        const bool apart =
            i == 0 || y - 2.0 * rows[i - 1] >= half + entries[i - 1].height / 2 - 1e-9;
        sum += inside && apart ? cost(i, y) : std::numeric_limits<double>::infinity();
      }
      best = std::min(best, sum);
      std::size_t digit = 0;
      while (digit < rows.size() && ++rows[digit] > 12) {
        rows[digit++] = 0;
      }
      if (digit == rows.size()) {
        break;
      }
    }
    const auto found = spread_column(entries, column, cost);
    double sum = 0;
    bool all = true;
    for (std::size_t i = 0; i < found.size(); ++i) {
      all = all && found[i].has_value();
      sum += found[i] ? cost(i, *found[i]) : 0;
    }
    CHECK(all == (best < std::numeric_limits<double>::infinity()));
    if (all) {
      CHECK(sum == doctest::Approx(best));
    }
  }
}

// Advance widths of B612 as its font files state them (hmtx table, 2000 units per em).
TEST_CASE("line widths are those of the face") {
  CHECK(kp::scene::words_width("a", 20) == doctest::Approx(11));
  CHECK(kp::scene::words_width("W", 20) == doctest::Approx(19));
  CHECK(kp::scene::words_width("i", 20) == doctest::Approx(6));
  CHECK(kp::scene::words_width("0.00", 10) == doctest::Approx(3 * 6.5 + 3));
  CHECK(kp::scene::words_width("", 20) == 0);
}

TEST_CASE("names break at blanks and are cut with an ellipsis") {
  const auto measure = [](std::string_view text) { return kp::scene::words_width(text, 20); };
  CHECK(kp::scene::wrapped("motor mount", 400, measure) ==
        std::vector<std::string>{"motor mount"});
  CHECK(kp::scene::wrapped("motor mount", 80, measure) ==
        std::vector<std::string>{"motor", "mount"});
  CHECK(kp::scene::wrapped("a\xC2\xA0\xC3\x97\xC2\xA0" "3", 9999, measure) ==
        std::vector<std::string>{"a \xC3\x97 3"});
  const auto cut = kp::scene::wrapped("one two three four five six seven", 66, measure);
  CHECK(cut.size() == 3);
  CHECK(cut.back().find("\xE2\x80\xA6") != std::string::npos);
  for (const std::string& line : cut) {
    CHECK(measure(line) <= 66);
  }
  // Never in the middle of a character.
  CHECK(kp::scene::shortened("\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4", 40, measure) ==
        "\xC3\xA4\xE2\x80\xA6");
}
