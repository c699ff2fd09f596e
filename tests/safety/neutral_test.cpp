// The neutral of the house before it is parted: I9 of the order of safety, 1.7, and its table 1.4.

#include <doctest/doctest.h>

#include <limits>
#include <utility>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using kp::test::Story;

namespace {

NeutralRead clamped(double amperes) {
  return {amperes, MeterFunction::amperes, "C1", false};
}

Verdict parting(Story& story, bool neutral) {
  Demand demand = test::demand(Act::part_supply);
  demand.parts_neutral = neutral;
  return story.may(demand);
}

}  // namespace

TEST_CASE("neutral: it is parted where a clamp shows no current, and not before (I9)") {
  Story story;
  REQUIRE(story.make_safe());
  CHECK(parting(story, false).allowed);
  CHECK(Story::has(parting(story, true).reasons, "neutral-not-read"));
  CHECK(story.tell(clamped(0)));
  CHECK(story.state.neutral_quiet.holds());
  CHECK(parting(story, true).allowed);
  // It ages like any proof, and counts for who read it.
  story.wait(5 * test::kHourMs);
  CHECK(Story::has(parting(story, true).reasons, "neutral-not-read"));
}

TEST_CASE("neutral: current in it is another line's, and the machine counts as live") {
  // Value 15 of the order of safety: 48 ohms on the other line of 120 V draw 2.5 A through it.
  Story story;
  REQUIRE(story.make_safe());
  CHECK(story.tell(clamped(120.0 / 48)));
  CHECK_FALSE(story.is_dead());
  CHECK(story.state.exposed);
  CHECK_FALSE(story.state.neutral_quiet.holds());
  REQUIRE(story.state.near_misses.size() == 1);
  CHECK(story.state.near_misses.front().code == "neutral-carries");
  CHECK(story.state.lost == Loss::meter_says_live);
}

TEST_CASE("neutral: a clamp that shows tenths shows 0.0 below 0.05 A (common practice, no source)") {
  const std::pair<double, bool> readings[] = {{0, true},     {0.049, true},  {-0.049, true},
                                              {0.05, false}, {-0.05, false}, {0.1, false}};
  for (const auto& [amperes, quiet] : readings) {
    Story story;
    REQUIRE(story.make_safe());
    CHECK(story.tell(clamped(amperes)));
    CHECK(story.state.neutral_quiet.holds() == quiet);
  }
}

TEST_CASE("neutral: only a named clamp with a number, after the proof, counts") {
  Story story;
  REQUIRE(story.approach());
  CHECK_FALSE(story.tell(clamped(0)));
  CHECK(story.was_refused_for("power-not-proved"));
  REQUIRE(story.prove());
  CHECK_FALSE(story.tell(NeutralRead{0, MeterFunction::volts_ac, "C1", false}));
  CHECK(story.was_refused_for("wrong-function"));
  CHECK_FALSE(story.tell(NeutralRead{0, MeterFunction::amperes, "", false}));
  CHECK(story.was_refused_for("tester-missing"));
  CHECK_FALSE(story.tell(clamped(std::numeric_limits<double>::infinity())));
  CHECK(story.was_refused_for("out-of-range"));
  CHECK_FALSE(story.tell(clamped(std::numeric_limits<double>::quiet_NaN())));
  CHECK(story.tell(clamped(0)));
}

TEST_CASE("neutral: nothing of it is left once power may be on, or the supply is read anew") {
  const auto read = [] {
    Story story;
    CHECK(story.make_safe());
    CHECK(story.tell(clamped(0)));
    return story;
  };
  Story found = read();
  found.happens(Fact{Doubted{Doubt::power_found_on}});
  CHECK_FALSE(found.state.neutral_quiet.holds());
  Story left = read();
  left.happens(Fact{Doubted{Doubt::left}});   // who was away does not know which breakers are on
  CHECK_FALSE(left.state.neutral_quiet.holds());
  Story again = read();
  again.state.series = {};
  CHECK(again.tell(again.next(again.place), again.place));
  CHECK_FALSE(again.state.neutral_quiet.holds());
}
