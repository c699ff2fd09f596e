// One accidental touch confirms nothing. Times are a policy of this tool; the faults of touch that
// are told here (lost releases, a resting hand, a second finger) are public ones, collected for
// this project as phone cases UI-05 and UI-09.

#include <doctest/doctest.h>

#include <array>
#include <set>

#include "support/random.hpp"
#include "ui/confirm.hpp"

using namespace kp;
using ui::ConfirmMachine;
using ui::ConfirmPhase;
using ui::ConfirmPolicy;
using ui::Touch;

namespace {

// Holds the button for some time and lets go.
ConfirmPhase hold(ConfirmMachine& machine, std::int64_t from_ms, int for_ms,
                  Touch last = Touch::release) {
  machine.on({Touch::press, from_ms, 0});
  return machine.on({last, from_ms + for_ms, 0});
}

void tap(ConfirmMachine& machine, std::int64_t at_ms, int spot) {
  machine.on({Touch::press, at_ms, spot});
  machine.on({Touch::release, at_ms + 80, spot});
}

ConfirmPhase after_taps(std::int64_t second_ms, int first_spot, int second_spot) {
  ConfirmMachine machine;
  tap(machine, 1000, first_spot);
  tap(machine, second_ms, second_spot);
  return machine.phase(second_ms + 80);
}

}  // namespace

TEST_CASE("confirm: a hold of the set time confirms when the finger lifts") {
  const ConfirmPolicy policy;
  ConfirmMachine machine;
  CHECK(hold(machine, 1000, policy.hold_ms - 1) == ConfirmPhase::idle);
  CHECK(hold(machine, 5000, policy.hold_ms) == ConfirmPhase::confirmed);
  // Once: more touches change nothing until the caller resets.
  tap(machine, 9000, 0);
  CHECK(machine.on({Touch::cancel, 9500, 0}) == ConfirmPhase::confirmed);
  machine.reset();
  CHECK(machine.phase(9600) == ConfirmPhase::idle);
}

TEST_CASE("confirm: it shows when to let go, the bar fills, and looking changes nothing") {
  const ConfirmPolicy policy;
  ConfirmMachine machine;
  machine.on({Touch::press, 0, 0});
  CHECK(machine.phase(350) == ConfirmPhase::holding);
  CHECK(machine.changes_ms(350) == policy.hold_ms);
  CHECK(machine.progress(350) == doctest::Approx(350.0 / policy.hold_ms));
  CHECK(machine.phase(700) == ConfirmPhase::let_go);
  CHECK(machine.progress(700) == 1.0);
  CHECK(machine.phase(policy.hold_most_ms + 1) == ConfirmPhase::idle);
  CHECK(machine.changes_ms(700) == policy.hold_most_ms + 1);
  // A picture that was drawn late decides nothing: the lift has a time of its own.
  CHECK(machine.on({Touch::release, 900, 0}) == ConfirmPhase::confirmed);
}

TEST_CASE("confirm: sliding off, a cancel, a second finger and a resting hand all break it") {
  for (const Touch breaks : {Touch::move_out, Touch::cancel, Touch::second_pointer}) {
    ConfirmMachine machine;
    CHECK(hold(machine, 0, 2000, breaks) == ConfirmPhase::idle);
    CHECK(machine.on({Touch::release, 2100, 0}) == ConfirmPhase::idle);
  }
  const ConfirmPolicy policy;
  ConfirmMachine resting;
  CHECK(hold(resting, 0, policy.hold_most_ms) == ConfirmPhase::confirmed);
  ConfirmMachine cloth;
  CHECK(hold(cloth, 0, policy.hold_most_ms + 1) == ConfirmPhase::idle);
}

TEST_CASE("confirm: a gap in what is told breaks it: a lost release, a time that runs backwards") {
  ConfirmMachine lost;
  lost.on({Touch::press, 0, 0});
  CHECK(lost.on({Touch::press, 800, 0}) == ConfirmPhase::idle);
  CHECK(lost.on({Touch::release, 1600, 0}) == ConfirmPhase::idle);
  ConfirmMachine backwards;
  backwards.on({Touch::press, 5000, 0});
  CHECK(backwards.on({Touch::release, 4000, 0}) == ConfirmPhase::idle);
  CHECK(backwards.on({Touch::release, 6000, 0}) == ConfirmPhase::idle);
}

TEST_CASE("confirm: two separate presses on two spots, the alternative") {
  const ConfirmPolicy policy;
  CHECK(after_taps(2000, 1, 2) == ConfirmPhase::confirmed);
  CHECK(after_taps(2000, 1, 1) == ConfirmPhase::first_done);
  CHECK(after_taps(2000, 2, 2) == ConfirmPhase::idle);
  CHECK(after_taps(2000, 2, 1) == ConfirmPhase::first_done);
  CHECK(after_taps(1080 + policy.apart_ms - 1, 1, 2) == ConfirmPhase::idle);   // a bounce
  CHECK(after_taps(1080 + policy.apart_ms, 1, 2) == ConfirmPhase::confirmed);
  CHECK(after_taps(1080 + policy.second_within_ms + 1, 1, 2) == ConfirmPhase::idle);
}

TEST_CASE("confirm: no policy makes a short touch enough") {
  ConfirmPolicy wild;
  wild.hold_ms = 0;
  wild.hold_most_ms = 1'000'000;
  wild.apart_ms = 0;
  const ConfirmPolicy kept = ui::bounded(wild);
  CHECK(kept.hold_ms == 500);
  CHECK(kept.hold_most_ms == 10'000);
  CHECK(kept.apart_ms == 150);
  ConfirmMachine machine(wild);
  tap(machine, 0, 0);
  CHECK(machine.phase(80) == ConfirmPhase::idle);
}

TEST_CASE("confirm: one touch, every way it can run, never confirms in under the hold time") {
  // All sequences of up to six events between one press and the first lift.
  const ConfirmPolicy policy;
  const std::array<Touch, 4> breaks = {Touch::move_out, Touch::cancel, Touch::second_pointer,
                                       Touch::press};
  int confirmed_early = 0;
  int confirmed_in_time = 0;
  for (int code = 0; code < 15625; ++code) {
    for (const int step_ms : {50, 100, 150, 300}) {
      for (const int spot : {0, 1, 2}) {
        ConfirmMachine machine;
        machine.on({Touch::press, 0, spot});
        int rest = code;
        std::int64_t now = 0;
        std::int64_t pressed = 0;
        bool broken = false;
        for (int i = 0; i < 6; ++i, rest /= 5) {
          now += step_ms;
          if (rest % 5 == 0) continue;   // nothing is told at this time
          const Touch touch = breaks[static_cast<std::size_t>(rest % 5 - 1)];
          const bool again = touch == Touch::press;
          // A press while one is down is a lost release; after a break it begins a new touch.
          if (again && broken) pressed = now;
          broken = again ? !broken : true;
          machine.on({touch, now, spot});
        }
        const bool done = machine.on({Touch::release, now, spot}) == ConfirmPhase::confirmed;
        const bool held = spot == 0 && now - pressed >= policy.hold_ms && !broken;
        confirmed_early += done && !held ? 1 : 0;
        confirmed_in_time += done ? 1 : 0;
      }
    }
  }
  CHECK(confirmed_early == 0);
  CHECK(confirmed_in_time > 0);
}

TEST_CASE("confirm: rain on the glass, 3000 random taps shorter than the hold, confirms nothing") {
  // One spot at a time: the alternative needs a deliberate change from the first to the second.
  const ConfirmPolicy policy;
  for (const int spot : {0, 1, 2}) {
    test::Random random(7);
    CAPTURE(random.seed());
    ConfirmMachine machine;
    std::int64_t now = 0;
    bool confirmed = false;
    for (int i = 0; i < 3000; ++i) {
      now += random.between(1, 2000);
      machine.on({Touch::press, now, spot});
      now += random.between(1, policy.hold_ms - 1);
      confirmed = confirmed ||
                  machine.on({random.chance(0.8) ? Touch::release : Touch::cancel, now, spot}) ==
                      ConfirmPhase::confirmed;
    }
    CHECK_FALSE(confirmed);
  }
}

TEST_CASE("confirm: every phase is reached, and from each a cancel leads out") {
  std::set<ConfirmPhase> seen;
  const auto note = [&](ConfirmMachine machine, std::int64_t now) {
    seen.insert(machine.phase(now));
    if (machine.phase(now) != ConfirmPhase::confirmed) {
      CHECK(machine.on({Touch::cancel, now, 0}) == ConfirmPhase::idle);
    }
  };
  ConfirmMachine machine;
  note(machine, 0);
  machine.on({Touch::press, 0, 0});
  note(machine, 10);
  note(machine, 700);
  machine.on({Touch::cancel, 710, 0});
  machine.on({Touch::press, 1000, 1});
  note(machine, 1000);
  machine.on({Touch::release, 1100, 1});
  note(machine, 1100);
  machine.on({Touch::press, 2000, 2});
  note(machine, 2000);
  machine.on({Touch::release, 2100, 2});
  note(machine, 2100);
  CHECK(seen.size() == 7);
}
