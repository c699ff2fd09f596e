// Age, gaps and clocks. No public text was found for their times: they are the tool's own (order of
// safety, sections 1.8 and 4).

#include <doctest/doctest.h>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

bool hands(const Story& story) { return story.may(test::at_group(Act::hands_in, "pump")).allowed; }

Story proved(Connection connection = Connection::fixed) {
  Story story(connection);
  CHECK(story.make_safe());
  CHECK(story.prove(test::group_place("pump")));
  CHECK(hands(story));
  return story;
}

}  // namespace

TEST_CASE("gaps: S6, the clock set back six times by 3 h 45 makes no proof young") {
  Story story = proved();
  const std::int64_t back = 3 * test::kHourMs + 45 * test::kMinuteMs;
  int believed = 0;
  for (int i = 0; i < 6; ++i) {
    story.wait(back);
    story.wall_ms -= back;
    believed += hands(story) ? 1 : 0;
  }
  // 3 h 45 is within the four hours of a proof, 7 h 30 is not.
  CHECK(believed == 1);
  CHECK_FALSE(story.is_dead());
  CHECK(age_ms(story.state.supply_dead, story.now()) > 22 * test::kHourMs);
}

TEST_CASE("gaps: the age is the greater of both clocks") {
  const Stamp stamp{1, {1000, 0}, 500, "Ana"};
  CHECK(age_ms(stamp, {9000, 600}) == 8000);
  CHECK(age_ms(stamp, {1100, 9500}) == 9000);
}

TEST_CASE("gaps: a wall clock before the newest record is in doubt and refuses all but a look") {
  Story story = proved();
  story.wall_ms -= 60'000;
  for (int i = 0; i < kActs; ++i) {
    const auto act = static_cast<Act>(i);
    const bool doubt = Story::has(story.may(test::demand(act)).reasons, "clock-doubt");
    CHECK(doubt == (act != Act::look_outside));
  }
  // What is recorded then gives the proofs up.
  story.happens(Worked{Act::look_outside, false, {}});
  CHECK(story.state.power == Power::live);
  CHECK(story.state.water == Water::open);
  CHECK(story.state.lost == Loss::clock_doubt);
  CHECK(story.state.locks.size() == 1);
}

TEST_CASE("gaps: S7, dark, paused and closed are one thing: what asks closes the gate") {
  Story story = proved();
  story.happens(Away{301'000, false});   // short enough: nobody is asked
  CHECK(hands(story));
  story.happens(Away{3 * test::kHourMs + 45 * test::kMinuteMs, true});
  CHECK_FALSE(hands(story));
  CHECK_FALSE(story.is_dead());
  CHECK_FALSE(story.tell(Warned{}));
  CHECK(story.was_refused_for("gap-open"));
  CHECK(story.may(test::demand(Act::look_inside)).allowed);
  // The next fact does not close it, an answer does.
  story.happens(Worked{Act::look_outside, false, {}});
  CHECK_FALSE(hands(story));
  CHECK(story.tell(GapAnswered{Stayed::here}));
  CHECK(hands(story));
}

TEST_CASE("gaps: stayed: the proof ages on") {
  Story story = proved();
  story.wait(3 * test::kHourMs);
  story.happens(Away{3 * test::kHourMs, true});
  CHECK(story.tell(GapAnswered{Stayed::here}));
  CHECK(hands(story));
  story.wait(test::kHourMs);
  CHECK_FALSE(hands(story));
}

TEST_CASE("gaps: left with one's own lock intact: only the point of work is read again") {
  Story story = proved();
  story.happens(Away{test::kHourMs, true});
  CHECK(story.tell(GapAnswered{Stayed::left_locked}));
  CHECK(story.is_dead());
  CHECK(water_off(story.state, story.now(), story.law.policy));
  CHECK_FALSE(hands(story));
  CHECK(story.prove(test::group_place("pump")));
  CHECK(hands(story));
}

TEST_CASE("gaps: left with a plug that nobody locked, or nobody knows: live and open") {
  Story plug(Connection::cord);
  CHECK(plug.prepare());
  CHECK(plug.isolate());
  CHECK(plug.shut());
  CHECK(plug.tell(HeldFast{Control::in_hand, "", "", ""}));
  CHECK(plug.try_it());
  CHECK(plug.prove());
  Story unlocked = plug;
  unlocked.happens(Away{test::kHourMs, true});
  CHECK(unlocked.tell(GapAnswered{Stayed::left_locked}));
  CHECK(unlocked.state.power == Power::live);

  Story story = proved();
  story.happens(Away{test::kHourMs, true});
  CHECK(story.tell(GapAnswered{Stayed::unknown}));
  CHECK(story.state.power == Power::live);
  CHECK(story.state.water == Water::open);
  CHECK(story.state.locks.size() == 1);
  CHECK(story.state.lost == Loss::gap);
}

TEST_CASE("gaps: a proof is believed for the policy's time, and no shop may make it a day") {
  Story story = proved();
  story.wait(std::int64_t{story.law.policy.proof_seconds} * 1000 - 60'000);
  CHECK(hands(story));
  story.wait(61'000);
  CHECK_FALSE(hands(story));
  story.law.policy.proof_seconds = 24 * 3600;
  story.wait(4 * test::kHourMs);
  CHECK_FALSE(hands(story));
}

TEST_CASE("gaps: a relieved joint is watched for the whole time, 2 min [practice]") {
  Story story;
  CHECK(story.make_safe());
  Demand joint = test::demand(Act::hands_in);
  joint.opens_wet = true;
  CHECK(Story::has(story.may(joint).reasons, "water-not-watched"));
  story.wait(117'000);
  CHECK_FALSE(story.tell(Watched{true}));
  CHECK(story.was_refused_for("too-early"));
  story.wait(3'000);
  CHECK(story.tell(Watched{true}));
  CHECK(story.may(joint).allowed);
  // It seeps: nothing of the water is known any more.
  Story seeping;
  CHECK(seeping.make_safe());
  seeping.wait(120'000);
  CHECK(seeping.tell(Watched{false}));
  CHECK(seeping.state.water == Water::open);
  CHECK(seeping.state.lost == Loss::seeps);
}
