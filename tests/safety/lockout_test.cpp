// The sequence of 29 CFR 1910.147(d), (e) and (f), and the rules of 1910.333(b)(2), as refusals.

#include <doctest/doctest.h>

#include "safety/guide.hpp"
#include "safety/story.hpp"

using namespace kp;
using safety::Connection;
using safety::Contact;
using safety::Demand;
using safety::EventKind;
using safety::Means;
using test::Story;

TEST_CASE("lockout: six steps, each the guard of the next, 1910.147(d)(1) to (6)") {
  Story story;
  // (d)(1) prepare: the energies are known.
  CHECK_FALSE(story.tell(EventKind::stopped));
  CHECK(story.was_refused_for("not-prepared"));
  safety::Event short_list;
  short_list.kind = EventKind::prepared;
  short_list.energies = safety::bit(safety::Energy::mains);
  CHECK_FALSE(story.tell(short_list));
  CHECK(story.was_refused_for("energies-missing"));
  CHECK(story.prepare(Connection::fixed));
  // (d)(2) shut down by the normal control.
  CHECK_FALSE(story.isolate(Means::breaker_locked, "L1"));
  CHECK(story.was_refused_for("not-stopped"));
  CHECK(story.tell(EventKind::stopped));
  // (d)(3) isolate, (d)(4) lock.
  CHECK_FALSE(story.isolate(Means::breaker_locked, ""));
  CHECK(story.was_refused_for("lock-missing"));
  CHECK_FALSE(story.prove());
  CHECK(story.was_refused_for("power-not-isolated"));
  CHECK(story.isolate(Means::breaker_locked, "L1"));
  CHECK(story.state.locks.size() == 1);
  CHECK(story.state.locks[0].owner == "Ana");
  // (d)(5) stored energy: water is relieved only after it is shut.
  CHECK_FALSE(story.tell(EventKind::water_relieved));
  CHECK(story.was_refused_for("water-not-shut"));
  CHECK(story.water_off());
  // (d)(6) verify before work starts.
  CHECK_FALSE(story.hands_in());
  CHECK(Story::has(story.may(Demand{}).reasons, "power-not-proved"));
  CHECK(story.prove());
  CHECK(story.hands_in());
}

TEST_CASE("lockout: hands-in needs power and water both, whatever else it touches") {
  Story power_only;
  CHECK(power_only.prepare(Connection::fixed));
  CHECK(power_only.tell(EventKind::stopped));
  CHECK(power_only.isolate(Means::breaker_locked, "L1"));
  CHECK(power_only.prove());
  CHECK_FALSE(power_only.hands_in());
  CHECK(Story::has(power_only.may(Demand{}).reasons, "water-not-shut"));
  CHECK(power_only.tell(EventKind::water_shut));
  CHECK(Story::has(power_only.may(Demand{}).reasons, "water-not-relieved"));
  CHECK(power_only.tell(EventKind::water_relieved));
  CHECK(power_only.hands_in());
  // The same for a step whose only tag is a sharp edge.
  CHECK(power_only.may(Demand{{Contact::sharp}, true, false, 1}).allowed);
  CHECK(power_only.tell(EventKind::water_shut));
  CHECK_FALSE(power_only.may(Demand{{Contact::sharp}, true, false, 1}).allowed);
}

TEST_CASE("lockout: cord and plug skips the lock, not the verification, 1910.147(a)(2)(iii)(A)") {
  Story story;
  CHECK(story.prepare(Connection::cord));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(Means::unplugged_in_sight, ""));
  CHECK(story.state.locks.empty());
  CHECK(story.water_off());
  CHECK_FALSE(story.hands_in());
  CHECK(Story::has(story.may(Demand{}).reasons, "power-not-proved"));
  CHECK(story.prove());
  CHECK(story.hands_in());
}

TEST_CASE("lockout: fixed wiring has no plug to pull, and a lock is mandatory") {
  Story story;
  CHECK(story.prepare(Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  CHECK_FALSE(story.isolate(Means::unplugged_in_sight, "L1"));
  CHECK(story.was_refused_for("means-refused"));
  for (const Means means : {Means::breaker_locked, Means::fused_spur_locked}) {
    CHECK_FALSE(story.isolate(means, ""));
    CHECK(story.was_refused_for("lock-missing"));
    CHECK(story.isolate(means, "L1"));
  }
}

TEST_CASE("lockout: no switch, button or console ever isolates, 1910.333(b)(2)(ii)(B)") {
  int refused = 0;
  for (const Connection connection : {Connection::cord, Connection::fixed}) {
    for (const safety::MeansRule& rule : safety::means_rules()) {
      Story story;
      CHECK(story.prepare(connection));
      CHECK(story.tell(EventKind::stopped));
      const bool accepted = story.isolate(rule.means, "L1");
      CHECK(accepted == safety::counts(rule.means, connection));
      if (!rule.isolates) {
        ++refused;
        CHECK_FALSE(accepted);
        CHECK(story.was_refused_for("means-refused"));
        CHECK(story.refused[0].sentence.find(rule.why) != std::string::npos);
        CHECK(story.state.power == safety::PowerState::taken_as_live);
        CHECK_FALSE(story.prove());
      }
    }
  }
  CHECK(refused == 20);
  CHECK(safety::offered(Connection::fixed).size() == 2);
  CHECK(safety::offered(Connection::cord).front() == Means::unplugged_in_sight);
  for (const Means means : {Means::door_switch, Means::cycle_button, Means::panel_off}) {
    CHECK_FALSE(safety::rule_of(means).isolates);
  }
}

TEST_CASE("lockout: controls are tried before the readings, 1910.333(b)(2)(iv)(A)") {
  Story story;
  CHECK(story.prepare(Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(Means::breaker_locked, "L1"));
  CHECK_FALSE(story.read(safety::Station::known_before, 121));
  CHECK(story.was_refused_for("controls-not-tried"));
  safety::Event answered;
  answered.kind = EventKind::controls_tried;
  answered.answered = true;
  CHECK(story.tell(answered));
  CHECK(story.state.power == safety::PowerState::taken_as_live);
  CHECK(story.state.lost == safety::VoidCause::controls_answered);
}

TEST_CASE("lockout: release in its order, 1910.147(e), from memory") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.tell(EventKind::step_done));
  const auto unlock = [&](const std::string& person, bool supervisor) {
    safety::Event event;
    event.kind = EventKind::lock_removed;
    event.lock = "L1";
    event.person = person;
    event.by_supervisor = supervisor;
    return story.tell(event);
  };
  CHECK_FALSE(unlock("Ana", false));
  CHECK(story.was_refused_for("not-inspected"));
  CHECK(story.tell(EventKind::inspected));
  CHECK_FALSE(unlock("Ana", false));
  CHECK(story.was_refused_for("people-not-clear"));
  CHECK(story.tell(EventKind::panels_set));
  CHECK(story.tell(EventKind::people_clear));
  CHECK_FALSE(story.tell(EventKind::power_restored));
  CHECK(story.was_refused_for("lock-hanging"));
  CHECK_FALSE(unlock("Ben", false));
  CHECK(story.was_refused_for("lock-of-another"));
  CHECK(unlock("Ana", false));
  CHECK(story.state.power == safety::PowerState::taken_as_live);
  CHECK(story.state.lost == safety::VoidCause::lock_off);
  CHECK(story.tell(EventKind::water_restored));
  CHECK(story.tell(EventKind::power_restored));
  CHECK(safety::running(story.state));
}

TEST_CASE("lockout: a hands-in step after the inspection asks for another inspection") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.tell(EventKind::inspected));
  CHECK(story.tell(EventKind::panels_set));
  CHECK(story.tell(EventKind::people_clear));
  CHECK(story.tell(EventKind::step_done));
  CHECK_FALSE(story.tell(EventKind::water_restored));
  CHECK(story.was_refused_for("not-inspected"));
  CHECK(story.was_refused_for("panels-not-set"));
}

TEST_CASE("lockout: power on for a test voids all, the whole sequence again, 1910.147(f)(1)") {
  Story story;
  CHECK(story.prepare(Connection::cord));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(Means::unplugged_in_sight, ""));
  CHECK(story.water_off());
  CHECK(story.prove());
  CHECK(story.hands_in());
  for (const EventKind kind :
       {EventKind::inspected, EventKind::panels_set, EventKind::people_clear,
        EventKind::power_restored}) {
    CHECK(story.tell(kind));
  }
  Demand running;
  running.hands_in = false;
  running.running = true;
  running.contacts = {Contact::live};
  CHECK(story.may(running).allowed);
  running.hands_in = true;
  CHECK_FALSE(story.may(running).allowed);
  CHECK_FALSE(story.hands_in());
  CHECK_FALSE(story.isolate(Means::unplugged_in_sight, ""));
  CHECK(story.was_refused_for("not-stopped"));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(Means::unplugged_in_sight, ""));
  CHECK_FALSE(story.hands_in());
  CHECK(story.prove());
  CHECK(story.hands_in());
}

TEST_CASE("lockout: what voids a proof") {
  struct Row {
    EventKind kind;
    std::int64_t away_seconds;
    const char* person;
    bool voids;
  };
  const safety::Policy policy;
  const Row rows[] = {{EventKind::power_found_on, 0, "Ana", true},
                      {EventKind::water_found_on, 0, "Ana", true},
                      {EventKind::re_energised, 0, "Ana", true},
                      {EventKind::left_alone, 0, "Ana", true},
                      {EventKind::taken_over, 0, "Ben", true},
                      {EventKind::resumed, policy.pause_seconds, "Ana", false},
                      {EventKind::resumed, policy.pause_seconds + 1, "Ana", true},
                      {EventKind::resumed, -5, "Ana", true},
                      {EventKind::clock_doubted, 0, "Ana", true},
                      {EventKind::reopened, 0, "Ana", true}};
  for (const Row& row : rows) {
    Story story;
    CHECK(story.make_safe());
    safety::Event event;
    event.kind = row.kind;
    event.away_seconds = row.away_seconds;
    event.person = row.person;
    CHECK(story.tell(event));
    CAPTURE(safety::words(row.kind));
    CHECK(story.hands_in() == !row.voids);
    CHECK((story.state.lost != safety::VoidCause::none) == row.voids);
  }
}

TEST_CASE("lockout: a lock keeps the isolation while nobody looks, a plug does not") {
  Story locked;
  CHECK(locked.make_safe());
  CHECK(locked.tell(EventKind::left_alone));
  CHECK(locked.state.power == safety::PowerState::isolated);
  Story plug;
  CHECK(plug.prepare(Connection::cord));
  CHECK(plug.tell(EventKind::stopped));
  CHECK(plug.isolate(Means::unplugged_in_sight, ""));
  CHECK(plug.tell(EventKind::left_alone));
  CHECK(plug.state.power == safety::PowerState::taken_as_live);
}

TEST_CASE("lockout: a lock on the wrong breaker does not stand for the right one") {
  Story story;
  CHECK(story.prepare(Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(Means::breaker_locked, "wrong"));
  CHECK(story.isolate(Means::breaker_locked, "right"));
  CHECK(story.state.locks.size() == 2);
  CHECK(story.tell(EventKind::inspected));
  CHECK(story.tell(EventKind::people_clear));
  safety::Event off;
  off.kind = EventKind::lock_removed;
  off.lock = "right";
  CHECK(story.tell(off));
  CHECK(story.state.power == safety::PowerState::taken_as_live);
}

TEST_CASE("lockout: an old proof and a clock that ran back close the gate") {
  const safety::Policy policy;
  Story story;
  CHECK(story.make_safe());
  story.wait(policy.proof_seconds - 60);
  CHECK(story.hands_in());
  story.wait(120);
  CHECK_FALSE(story.hands_in());
  CHECK(Story::has(story.may(Demand{}).reasons, "power-proof-old"));
  CHECK(Story::has(story.may(Demand{}).reasons, "water-proof-old"));
  Story back;
  CHECK(back.make_safe());
  back.now_ms = back.state.newest.utc_ms - 1;
  CHECK_FALSE(back.hands_in());
  CHECK(Story::has(back.may(Demand{}).reasons, "clock-doubt"));
}

TEST_CASE("lockout: another person neither proves nor steps without a hand-over") {
  Story story;
  CHECK(story.make_safe());
  story.person = "Ben";
  CHECK_FALSE(story.tell(EventKind::step_done));
  CHECK(story.was_refused_for("other-person"));
  CHECK(story.tell(EventKind::taken_over));
  CHECK_FALSE(story.hands_in());
  // Ana's lock still hangs; only she takes it off.
  CHECK(story.state.locks.size() == 1);
  CHECK(story.state.locks[0].owner == "Ana");
}

TEST_CASE("lockout: a doctored journal opens no gate") {
  // An event that would have been refused leaves the state as it was.
  Story story;
  CHECK(story.prepare(Connection::fixed));
  const safety::State before = story.state;
  CHECK_FALSE(story.read(safety::Station::known_after, 121));
  CHECK(story.state == before);
  safety::Event step;
  step.kind = EventKind::step_done;
  CHECK_FALSE(story.tell(step));
  CHECK(story.state == before);
}

TEST_CASE("lockout: left for another visit means isolated, tagged and shut") {
  Story story;
  CHECK(story.make_safe());
  safety::Event end;
  end.kind = EventKind::ended;
  end.ending = safety::Ending::waiting_for_parts;
  CHECK_FALSE(story.tell(end));
  CHECK(story.was_refused_for("leave-tag"));
  safety::Event tag;
  tag.kind = EventKind::tag_hung;
  tag.tag = "7";
  CHECK(story.tell(tag));
  end.ending = safety::Ending::repaired;
  CHECK_FALSE(story.tell(end));
  CHECK(story.was_refused_for("power-still-isolated"));
  end.ending = safety::Ending::not_to_be_used;
  CHECK(story.tell(end));
  CHECK_FALSE(story.hands_in());
  CHECK(Story::has(story.may(Demand{}).reasons, "job-ended"));
  CHECK(story.tell(EventKind::reopened));
  CHECK_FALSE(story.hands_in());
  CHECK(story.state.locks.size() == 1);
}

TEST_CASE("lockout: a visit that touched nothing may end at once") {
  Story story;
  safety::Event end;
  end.kind = EventKind::ended;
  end.ending = safety::Ending::no_fault;
  CHECK(story.tell(end));
}
