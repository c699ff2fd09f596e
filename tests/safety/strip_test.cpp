// The strip at the top of the screen: words, symbols, meanings of colours (ISO 3864), evidence.

#include <algorithm>

#include <doctest/doctest.h>

#include "model/explore.hpp"
#include "safety/story.hpp"
#include "safety/strip.hpp"
#include "support/random.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

Strip strip_of(const Story& story) { return summarise(story.state, story.now(), story.law.policy); }

bool mentions(const StripSide& side, const std::string& text) {
  std::vector<std::string> all = side.evidence;
  all.insert(all.end(), side.readings.begin(), side.readings.end());
  return std::any_of(all.begin(), all.end(), [&](const std::string& line) {
    return line.find(text) != std::string::npos;
  });
}

}  // namespace

TEST_CASE("strip: from taken as live to proved") {
  Story story;
  story.wall_ms = parse_rfc3339("2026-03-02T10:40:00Z").value().utc_ms;
  CHECK(strip_of(story).power.word == "LIVE");
  CHECK(strip_of(story).power.meaning == Meaning::danger);
  CHECK(strip_of(story).power.symbol == Symbol::closed);
  CHECK(strip_of(story).water.word == "OPEN");
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK(strip_of(story).power.word == "NOT HELD");
  CHECK(strip_of(story).power.symbol == Symbol::open);
  CHECK(story.hold());
  CHECK(strip_of(story).power.word == "NOT PROVED");
  CHECK(story.shut());
  CHECK(story.try_it());
  CHECK(strip_of(story).power.line == "Approach: treat as live, held 10:40");
  CHECK(strip_of(story).water.word == "SHUT");
  CHECK(strip_of(story).water.meaning == Meaning::not_proved);
  CHECK(story.prove());
  CHECK(story.relieve());
  const Strip done = strip_of(story);
  CHECK(done.power.word == "DEAD");
  CHECK(done.power.symbol == Symbol::crossed);
  CHECK(done.power.line == "Supply, proved 10:40");
  CHECK(done.water.meaning == Meaning::safe);
  CHECK(mentions(done.power, "Breaker off, Ana, 10:40"));
  CHECK(mentions(done.power, "no step lit, tester T1"));
  CHECK(mentions(done.power, "lock 7"));
  CHECK(mentions(done.water, "valve under the sink"));
}

TEST_CASE("strip: from the first lock off it is live, and why is said") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK(story.tell(LockOff{"7"}));
  CHECK(strip_of(story).power.word == "LIVE");
  CHECK(mentions(strip_of(story).power, "a lock was taken off"));
}

TEST_CASE("strip: an unanswered gap, an old proof, a clock in doubt and a live reading are no green") {
  Story gap;
  CHECK(gap.make_safe());
  gap.happens(Away{test::kHourMs, true});
  CHECK(strip_of(gap).power.word == "NOT PROVED");
  CHECK(strip_of(gap).water.meaning == Meaning::not_proved);

  Story old;
  CHECK(old.make_safe());
  old.wait(5 * test::kHourMs);
  CHECK(strip_of(old).power.meaning == Meaning::not_proved);
  CHECK(strip_of(old).water.meaning == Meaning::not_proved);

  Story clock;
  CHECK(clock.make_safe());
  clock.wall_ms -= 60'000;
  CHECK(strip_of(clock).power.meaning != Meaning::safe);

  Story live;
  CHECK(live.approach());
  CHECK(live.tell(live.next(live.place), live.place));
  ReadingTaken earth = live.next(live.place);
  earth.function = MeterFunction::volts_ac;
  earth.shown = {false, 120};
  CHECK(live.tell(earth, live.place));
  CHECK(strip_of(live).power.line == "Power, found live: hands back");
}

TEST_CASE("strip: locks of others are named, and what is not known is taken as live") {
  Story story;
  CHECK(story.make_safe());
  story.happens(Fact{ForeignLock{"9", "Ida"}});
  CHECK(mentions(strip_of(story).power, "Lock 9 of Ida hangs"));
  const Strip none = unknown("The record is damaged at line 40.");
  CHECK(none.power.word == "LIVE");
  CHECK(none.water.meaning == Meaning::danger);
  CHECK(mentions(none.power, "line 40"));
}

TEST_CASE("strip: never green where the gate would not believe it: 300 random jobs") {
  int greens = 0;
  int looked_at = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Random random(seed);
    CAPTURE(random.seed());
    const model::Site site = static_cast<model::Site>(random.between(0, 2));
    static const std::vector<model::Move> all[] = {model::Moves(model::Site::cord).take(),
                                                   model::Moves(model::Site::fixed).take(),
                                                   model::Moves(model::Site::split).take()};
    const std::vector<model::Move>& moves = all[static_cast<int>(site)];
    Story story;
    const Place supply = model::supply_of(site);
    for (int i = 0; i < 60; ++i) {
      const model::Move& move = moves[to_size(random.between(0, to_int(moves.size()) - 1))];
      if (random.chance(0.6) && story.state.tried != Tried::no) {
        (void)story.tell(story.next(supply), supply);
      } else if (random.chance(0.5)) {
        // On the way: whatever the order of making safe wants.
        (void)(story.prepare() && story.isolate() && story.shut() && story.hold() && story.try_it());
      } else if (move.fact.has_value()) {
        (void)story.tell(*move.fact, move.place);
      } else if (move.happens.has_value()) {
        story.happens(*move.happens);
      }
      story.wait(random.between(0, 3) * test::kMinuteMs);
      if (random.chance(0.02)) {
        story.wall_ms -= test::kHourMs;
      }
      const Strip strip = strip_of(story);
      const bool dead = supply_dead(story.state, story.now(), story.law.policy);
      const bool dry = water_off(story.state, story.now(), story.law.policy);
      // Green says what a hands-in act would be refused for, were it not so.
      const Verdict verdict = story.may(test::demand(Act::hands_in));
      const bool power_green = strip.power.meaning == Meaning::safe;
      const bool water_green = strip.water.meaning == Meaning::safe;
      const bool as_gate = power_green == dead && water_green == dry &&
                           !(power_green && Story::has(verdict.reasons, "power-not-proved")) &&
                           !(water_green && Story::has(verdict.reasons, "water-not-relieved"));
      REQUIRE(as_gate);
      REQUIRE((!power_green || (strip.power.word == "DEAD" && strip.power.symbol == Symbol::crossed)));
      greens += power_green ? 1 : 0;
      ++looked_at;
    }
  }
  MESSAGE(greens << " green of " << looked_at);
  CHECK(greens > 100);
}
