// What went wrong and hurt nobody is told and stands in the record (S5, S20).

#include <doctest/doctest.h>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

bool tell_pair(Story& story, double volts) {
  ReadingTaken pair = story.next(story.place);
  pair.shown = {false, volts};
  return story.tell(pair, story.place);
}

Story at_the_pairs() {
  Story story(Connection::cord);
  CHECK(story.approach());
  CHECK(story.tell(story.next(story.place), story.place));
  return story;
}

std::string misses(const Story& story) {
  std::string out;
  for (const NearMiss& miss : story.state.near_misses) {
    out += miss.code + " ";
  }
  return out;
}

}  // namespace

TEST_CASE("near misses: 118 V on the isolated machine: live, exposed, told, and the numbers kept") {
  Story story = at_the_pairs();
  CHECK(tell_pair(story, 118));
  CHECK(misses(story) == "live-on-isolated ");
  CHECK(story.state.near_misses[0].stamp.person == "Ana");
  CHECK(story.state.exposed);
  REQUIRE(story.state.series.readings.size() == 2);
  CHECK(story.state.series.readings[1].shown.volts == 118);
  CHECK(story.state.series.readings[1].found == Found::live);
  // No further cover where live was found and the point of proof is open already.
  story.place = test::supply_place(Connection::cord, System::single);
  CHECK(story.isolate());
  CHECK(story.hold());
  CHECK(story.try_it());
  Demand cover = test::demand(Act::cover);
  cover.on_way = true;
  CHECK(Story::has(story.may(cover).reasons, "found-live"));
  // Where it is closed, its cover is the only way on.
  story.machine.supply_open = false;
  CHECK(story.may(cover).allowed);
  story.machine.supply_open = true;
  CHECK(story.prove());
  CHECK_FALSE(story.state.exposed);
  CHECK(misses(story) == "live-on-isolated ");
}

TEST_CASE("near misses: the machine answers, the frame is live, the tester dies: each has its code") {
  Story answers;
  CHECK(answers.prepare());
  CHECK(answers.isolate());
  CHECK(answers.hold());
  CHECK(answers.tell(ControlsTried{Answer::answered}));
  CHECK(misses(answers) == "controls-answered ");

  Story frame;
  CHECK(frame.prepare());
  CHECK(frame.tell(FrameRead{{false, 118}, MeterFunction::two_pole_detector, "T1"}));
  CHECK(misses(frame) == "frame-live ");

  Story dies = at_the_pairs();
  while (dies.next(dies.place).role != Role::known_after) {
    CHECK(dies.tell(dies.next(dies.place), dies.place));
  }
  ReadingTaken after = dies.next(dies.place);
  after.shown = {true, 0};
  CHECK(dies.tell(after, dies.place));
  CHECK(misses(dies) == "tester-failed ");
  CHECK(dies.state.lost == Loss::series_failed);
  CHECK_FALSE(dies.is_dead());
}

TEST_CASE("near misses: nothing takes one away again: not power, a visit, a hand-over or a doubt") {
  Story story = at_the_pairs();
  CHECK(tell_pair(story, 118));
  const std::vector<NearMiss> before = story.state.near_misses;
  for (int i = 0; i < kDoubts; ++i) {
    story.happens(Fact{Doubted{static_cast<Doubt>(i)}});
  }
  story.happens(Fact{PowerOn{}});
  story.happens(Fact{HandedOn{"Ben", "8"}});
  story.happens(VisitEnded{Ending::repaired});
  story.happens(VisitReopened{});
  REQUIRE(story.state.near_misses.size() >= before.size());
  for (std::size_t i = 0; i < before.size(); ++i) {
    CHECK(story.state.near_misses[i] == before[i]);
  }
  // Power, water and lock found otherwise are near misses of their own.
  CHECK(story.state.near_misses.size() == before.size() + 3);
}

TEST_CASE("near misses: a live frame is not touched, and is isolated at the board") {
  Story story(Connection::cord);
  CHECK(story.prepare());
  CHECK(story.may(test::demand(Act::touch_outside)).allowed);
  CHECK(story.tell(FrameRead{{false, 118}, MeterFunction::two_pole_detector, "T1"}));
  CHECK(Story::has(story.may(test::demand(Act::touch_outside)).reasons, "frame-not-read"));
  CHECK(story.tell(Stopped{}));
  CHECK_FALSE(story.tell(Isolated{Means::plug_out}));
  CHECK(story.was_refused_for("means-refused"));
  CHECK(story.tell(Isolated{Means::breaker_off}));
  CHECK(story.hold());
  CHECK_FALSE(story.try_it());
  CHECK(story.tell(FrameRead{{true, 0}, MeterFunction::two_pole_detector, "T1"}));
  CHECK(story.try_it());
}

TEST_CASE("near misses: the frame is read by a contact tester, with a number") {
  Story story;
  CHECK(story.prepare());
  CHECK_FALSE(story.tell(FrameRead{{false, 0}, MeterFunction::ohms, "T1"}));
  CHECK(story.was_refused_for("wrong-function"));
  CHECK_FALSE(story.tell(FrameRead{{true, 0}, MeterFunction::non_contact, "T1"}));
  CHECK_FALSE(story.tell(FrameRead{{true, 0}, MeterFunction::two_pole_detector, ""}));
  CHECK(story.was_refused_for("tester-missing"));
  CHECK_FALSE(story.tell(FrameRead{{false, 1e9}, MeterFunction::volts_ac, "T1"}));
  CHECK(story.was_refused_for("out-of-range"));
}

TEST_CASE("near misses: with a complaint of tingle the frame comes before the first touch") {
  Story story;
  Prepared told;
  told.frame_first = true;
  told.energies = (1U << kEnergies) - 1;
  CHECK(story.tell(told));
  for (const Act act : {Act::touch_outside, Act::cover, Act::move_out, Act::relieve_outside}) {
    CHECK(Story::has(story.may(test::demand(act)).reasons, "frame-not-read"));
  }
  CHECK(Story::has(story.may(test::demand(Act::reach_tub)).reasons, "power-not-proved"));
  CHECK(story.tell(FrameRead{{true, 0}, MeterFunction::two_pole_detector, "T1"}));
  CHECK(story.may(test::demand(Act::touch_outside)).allowed);
  // In the tub a frame that read nil once is no proof: order of safety, section 2 [ours].
  CHECK(Story::has(story.may(test::demand(Act::reach_tub)).reasons, "power-not-proved"));
  // After power it is read anew: what was mended may have joined it to the line.
  story.happens(Fact{PowerOn{}});
  CHECK_FALSE(story.may(test::demand(Act::touch_outside)).allowed);
}
