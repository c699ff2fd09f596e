// People: hand-over, locks of others, power found on, sight lost, a helper (S10).

#include <doctest/doctest.h>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

Story proved() {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.prove(test::group_place("pump")));
  return story;
}

}  // namespace

TEST_CASE("people: another person records nothing but a look, a lock or a hand-over") {
  Story story = proved();
  story.person = "Ben";
  for (int i = 0; i < kActs; ++i) {
    const auto act = static_cast<Act>(i);
    const bool free = act == Act::look_outside || act == Act::look_inside ||
                      act == Act::lock_off || act == Act::hand_over;
    CHECK(Story::has(story.may(test::demand(act)).reasons, "other-person") == !free);
  }
}

TEST_CASE("people: hand-over, the new lock before the old, the new person proves again, 147(f)(4)") {
  Story story = proved();
  CHECK_FALSE(story.tell(HandedOn{"Ben", ""}));
  CHECK(story.was_refused_for("lock-missing"));
  CHECK_FALSE(story.tell(HandedOn{"", "8"}));
  CHECK(story.was_refused_for("no-name"));
  CHECK_FALSE(story.tell(HandedOn{"Ben", "7"}));   // Ana's own
  CHECK(story.was_refused_for("lock-of-another"));
  CHECK(story.tell(HandedOn{"Ben", "8"}));
  CHECK(story.state.power == Power::held);
  CHECK(story.state.worker == "Ben");
  CHECK(story.state.locks.size() == 2);
  CHECK(story.state.tried == Tried::no);
  CHECK(story.state.groups.empty());
  CHECK(story.state.water == Water::shut);
  // Now the old one comes off, and the isolation is kept.
  CHECK(story.tell(LockOff{"7"}));
  CHECK(story.state.power == Power::held);
  CHECK(story.state.locks.size() == 1);
  story.person = "Ben";
  CHECK_FALSE(story.may(test::demand(Act::hands_in)).allowed);
  CHECK(story.try_it());
  CHECK(story.prove());
  CHECK(story.relieve());
  CHECK(story.may(test::demand(Act::hands_in)).allowed);
  // Ben's own lock is the one that holds: off with it, and all is live.
  CHECK_FALSE(story.tell(LockOff{"8"}));
  CHECK(story.was_refused_for("people-not-warned"));
}

TEST_CASE("people: who comes back proves again") {
  Story story = proved();
  CHECK(story.tell(HandedOn{"Ben", "8"}));
  story.person = "Ben";
  CHECK(story.tell(HandedOn{"Ana", "7"}));
  story.person = "Ana";
  CHECK(story.try_it());
  CHECK(story.prove());
  CHECK_FALSE(water_off(story.state, story.now(), story.law.policy));
  CHECK(Story::has(story.may(test::demand(Act::hands_in)).reasons, "water-not-relieved"));
}

TEST_CASE("people: a machine that no lock held is handed over live") {
  Story story(Connection::cord);
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK(story.shut());
  CHECK(story.tell(HeldFast{Control::in_hand, "", "", ""}));
  CHECK(story.tell(HandedOn{"Ben", ""}));
  CHECK(story.state.power == Power::live);
  CHECK(story.state.water == Water::open);
  CHECK(story.state.lost == Loss::handed_over);
}

TEST_CASE("people: a lock that is not mine hangs on, and nobody else's number is used") {
  Story story;
  CHECK(story.prepare());
  story.happens(Fact{ForeignLock{"9", "Ida"}});
  CHECK(story.isolate());
  CHECK_FALSE(story.hold("9"));
  CHECK(story.was_refused_for("lock-of-another"));
  CHECK(story.hold("7"));
  REQUIRE(story.state.locks.size() == 2);
  CHECK(story.state.locks[0].foreign);
  CHECK_FALSE(story.state.locks[1].foreign);
  // It may come off by its owner without ado while mine holds.
  story.person = "Ida";
  CHECK(story.tell(LockOff{"9"}));
  CHECK(story.state.power == Power::held);
}

TEST_CASE("people: power, water, a lock found otherwise: live, on the record, locks stay") {
  Story found = proved();
  found.happens(Fact{Doubted{Doubt::power_found_on}});
  CHECK(found.state.power == Power::live);
  CHECK(found.state.locks.size() == 1);
  CHECK(found.state.water == Water::relieved);
  REQUIRE(found.state.near_misses.size() == 1);
  CHECK(found.state.near_misses[0].code == "power-found-on");

  Story wet = proved();
  wet.happens(Fact{Doubted{Doubt::water_found_on}});
  CHECK(wet.state.water == Water::open);
  CHECK(wet.is_dead());
  CHECK_FALSE(wet.may(test::demand(Act::hands_in)).allowed);

  Story lock = proved();
  lock.happens(Fact{Doubted{Doubt::lock_found_off}});
  CHECK(lock.state.power == Power::live);
  CHECK(lock.state.water == Water::open);
  CHECK(lock.state.locks.empty());
  CHECK(lock.state.near_misses[0].code == "lock-found-off");
}

TEST_CASE("people: sight lost or left: a lock keeps the isolation, a hand does not") {
  for (const Doubt what : {Doubt::sight_lost, Doubt::left}) {
    Story locked = proved();
    locked.happens(Fact{Doubted{what}});
    CHECK(locked.is_dead());
    CHECK(locked.state.groups.empty());

    Story plug(Connection::cord);
    CHECK(plug.prepare());
    CHECK(plug.isolate());
    CHECK(plug.shut());
    CHECK(plug.tell(HeldFast{Control::reach_and_sight, "", "", ""}));
    CHECK(plug.try_it());
    plug.happens(Fact{Doubted{what}});
    CHECK(plug.state.power == Power::live);
    CHECK(plug.state.lost == Loss::left);
  }
}

TEST_CASE("people: a helper counts for one step and is remembered by name") {
  Story story = proved();
  Demand lift = test::demand(Act::hands_in);
  lift.people = 2;
  CHECK(Story::has(story.may(lift).reasons, "helper-missing"));
  CHECK_FALSE(story.tell(HelperHere{2, ""}));
  CHECK(story.was_refused_for("no-name"));
  for (const int people : {-1, 1, 7}) {
    CHECK_FALSE(story.tell(HelperHere{people, "Ida"}));
    CHECK(story.was_refused_for("people-out-of-range"));
  }
  CHECK(story.tell(HelperHere{2, "Ida"}));
  CHECK(story.work(lift));
  CHECK_FALSE(story.work(lift));
  CHECK(story.tell(HelperHere{2, "Ida"}));
  CHECK(story.state.helpers.size() == 1);
}

TEST_CASE("people: leaving an open machine: lock, tag, water shut, upright, steady") {
  Story story = proved();
  CHECK(story.may(test::demand(Act::leave)).allowed);
  const auto refused = [&](auto spoil, const char* code) {
    Story other = story;
    spoil(other);
    const Verdict verdict = other.may(test::demand(Act::leave));
    CHECK_FALSE(verdict.allowed);
    CHECK(Story::has(verdict.reasons, code));
  };
  refused([](Story& s) { s.machine.upright = false; }, "not-upright");
  refused([](Story& s) { s.machine.stable = false; }, "would-tip");
  // A prop holds for one step, not for a night.
  refused(
      [](Story& s) {
        CHECK(s.tell(Propped{}));
        s.machine.stable = false;
      },
      "would-tip");
  // Children and pets come near: what is open is barred, and again after more work.
  Story open = story;
  open.machine.nothing_open = false;
  CHECK(Story::has(open.may(test::demand(Act::leave)).reasons, "leave-open"));
  CHECK(open.tell(OpeningsBarred{}));
  CHECK(open.may(test::demand(Act::leave)).allowed);
  CHECK(open.work(test::demand(Act::hands_in)));
  CHECK(Story::has(open.may(test::demand(Act::leave)).reasons, "leave-open"));
  refused([](Story& s) { s.happens(Fact{Doubted{Doubt::water_found_on}}); }, "water-not-shut");
  refused([](Story& s) { s.happens(Fact{Doubted{Doubt::lock_found_off}}); }, "leave-power-locked");
  refused([](Story& s) { s.happens(Fact{HandedOn{"Ana", "8"}}); }, "leave-tag");
}

TEST_CASE("people: a second visit starts live, with the locks that hang and the frame unread") {
  Story story = proved();
  CHECK(story.tell(FrameRead{{true, 0}, MeterFunction::two_pole_detector, "T1"}));
  story.happens(VisitEnded{Ending::waiting_for_parts});
  CHECK(Story::has(story.may(test::demand(Act::look_outside)).reasons, "job-ended"));
  story.happens(VisitReopened{});
  CHECK(story.state.power == Power::live);
  CHECK(story.state.water == Water::open);
  CHECK(story.state.locks.size() == 1);
  CHECK_FALSE(story.state.frame_nil.holds());
  CHECK_FALSE(story.tell(WaterShut{"valve"}));
  CHECK(story.was_refused_for("not-prepared"));
}
