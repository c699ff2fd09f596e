// How the machine is parted and kept so: means, exclusive control (value 2), one lock a number.

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

TEST_CASE("control: value 2, exclusive control of a plug, 29 CFR 1910.147(a)(2)(iii)(A) [read]") {
  const ControlAsked one{Means::plug_out, false, 1, false};
  CHECK(exclusive(Control::in_hand, one));            // in possession: yes
  CHECK(exclusive(Control::reach_and_sight, one));    // within reach and in sight: yes
  CHECK_FALSE(exclusive(Control::sight_only, one));   // sight only: no
  CHECK_FALSE(exclusive(Control::reach_only, one));   // reach only: no
  CHECK(exclusive(Control::locked, one));             // locked: yes
  ControlAsked two = one;
  two.workers = 2;                                    // two workers: no [2nd]
  CHECK_FALSE(exclusive(Control::reach_and_sight, two));
  CHECK_FALSE(exclusive(Control::in_hand, two));
  CHECK(exclusive(Control::locked, two));
}

TEST_CASE("control: built in or leaving: locked, 1910.333 note 1 as state text [read]") {
  for (const bool built_in : {false, true}) {
    for (const bool leaves : {false, true}) {
      const ControlAsked asked{Means::plug_out, built_in, 1, leaves};
      CHECK(exclusive(Control::in_hand, asked) == (!built_in && !leaves));
      CHECK(exclusive(Control::locked, asked));
    }
  }
  // The exception is the plug's alone: a breaker in sight is not covered.
  for (const Control control : {Control::in_hand, Control::reach_and_sight, Control::sight_only}) {
    CHECK_FALSE(exclusive(control, {Means::breaker_off, false, 1, false}));
  }
}

TEST_CASE("control: the gate takes no other control, and says so") {
  for (int i = 0; i < kControls; ++i) {
    const auto control = static_cast<Control>(i);
    Story story(Connection::cord);
    CHECK(story.prepare());
    CHECK(story.isolate());
    const bool taken = story.tell(HeldFast{control, needs_lock(control) ? "7" : "", "card", "fuse"});
    CHECK(taken == exclusive(control, {Means::plug_out, false, 1, false}));
    CHECK((taken || story.was_refused_for("control-refused")));
  }
}

TEST_CASE("control: no lock fits: a tag and one more measure, and the measure is said [2nd]") {
  Story story;
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK_FALSE(story.tell(HeldFast{Control::tag_and_measure, "", "card", ""}));
  CHECK_FALSE(story.tell(HeldFast{Control::tag_and_measure, "", "", "wire off"}));
  CHECK(story.was_refused_for("tag-missing"));
  CHECK(story.tell(HeldFast{Control::tag_and_measure, "", "card", "wire off"}));
}

TEST_CASE("control: a plug in the hand does not hold for a helper or a machine that is built in") {
  Story story(Connection::cord);
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK(story.shut());
  CHECK(story.tell(HeldFast{Control::in_hand, "", "", ""}));
  CHECK(story.try_it());
  CHECK(story.prove());
  CHECK(story.relieve());
  CHECK(story.may(test::demand(Act::hands_in)).allowed);
  CHECK(story.tell(HelperHere{2, "Ida"}));
  CHECK(Story::has(story.may(test::demand(Act::hands_in)).reasons, "control-lost"));
  // A lock put on what is held takes no proof away.
  CHECK(story.hold());
  CHECK(story.is_dead());
  CHECK(story.may(test::demand(Act::hands_in)).allowed);

  Story other(Connection::cord);
  CHECK(other.prepare());
  CHECK(other.isolate());
  CHECK(other.shut());
  CHECK(other.tell(HeldFast{Control::in_hand, "", "", ""}));
  CHECK(other.try_it());
  CHECK(other.prove());
  CHECK(other.relieve());
  Prepared built;
  built.connection = Connection::cord;
  built.built_in = true;
  built.energies = other.state.energies;
  CHECK(other.tell(built));
  CHECK(Story::has(other.may(test::demand(Act::hands_in)).reasons, "control-lost"));
}

TEST_CASE("control: no switch, button, timer or word isolates, 1910.333(b)(2)(ii)(B) [read]") {
  int refused = 0;
  for (const Connection connection : {Connection::cord, Connection::fixed}) {
    for (const MeansRule& rule : means_rules()) {
      Story story(connection);
      CHECK(story.prepare());
      CHECK(story.tell(Stopped{}));
      const bool taken = story.tell(Isolated{rule.means});
      CHECK(taken == counts(rule.means, connection, System::single));
      refused += taken ? 0 : 1;
      CHECK((taken || story.was_refused_for("means-refused")));
    }
  }
  // Nine words never isolate; a plug is none on fixed wiring.
  CHECK(refused == 19);
}

TEST_CASE("control: one pole of two, and one fuse of two lines, leave a line live, 1.4") {
  for (const Connection connection : {Connection::cord, Connection::fixed}) {
    CHECK_FALSE(counts(Means::one_pole_of_two, connection, System::split));
    CHECK_FALSE(counts(Means::spur_fuse_out, connection, System::split));
    CHECK(counts(Means::breaker_off, connection, System::split));
    CHECK_FALSE(offered(connection, System::split).empty());
  }
  CHECK(offered(Connection::cord, System::single).front() == Means::plug_out);
}

TEST_CASE("control: one lock a number (S25): hung again it is the same lock") {
  Story story;
  CHECK(story.prepare());
  for (int i = 0; i < 3; ++i) {
    CHECK(story.isolate());
    CHECK(story.hold("7"));
  }
  REQUIRE(story.state.locks.size() == 1);
  CHECK(story.state.locks[0].id == "7");
  CHECK(story.state.locks[0].owner == "Ana");
  CHECK(story.hold("12"));
  CHECK(story.state.locks.size() == 2);
  CHECK(story.state.lock == "12");
  CHECK_FALSE(story.hold(""));
  CHECK(story.was_refused_for("lock-missing"));
}

TEST_CASE("control: the wrong breaker: the machine answers, and all is live") {
  Story story;
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK(story.hold());
  CHECK(story.tell(ControlsTried{Answer::answered}));
  CHECK(story.state.power == Power::live);
  CHECK(story.state.lost == Loss::controls_answered);
  CHECK(story.state.locks.size() == 1);
  CHECK_FALSE(story.hold());
}

TEST_CASE("control: a machine that did nothing before tells nothing, and that is said (S13)") {
  Story story;
  CHECK(story.prepare());
  CHECK(story.tell(Stopped{false}));
  CHECK(story.tell(Isolated{Means::breaker_off}));
  CHECK(story.hold());
  story.machine.door_open = true;
  CHECK_FALSE(story.try_it());
  CHECK(story.was_refused_for("door-open"));
  story.machine.door_open = false;
  CHECK(story.tell(ControlsTried{Answer::tells_nothing}));
  CHECK(story.state.tried == Tried::tells_nothing);
  CHECK(story.shut());
  CHECK(story.prove());
}
