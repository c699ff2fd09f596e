// One accidental touch confirms nothing. Times are a policy of this tool.

#include <doctest/doctest.h>

#include <array>
#include <set>

#include "safety/confirm.hpp"
#include "support/random.hpp"

using namespace kp;
using safety::ConfirmMachine;
using safety::ConfirmPhase;
using safety::ConfirmPolicy;
using safety::Touch;

namespace {

// Holds the button for some time with a frame every 16 ms, and lets go.
ConfirmPhase hold(ConfirmMachine& machine, std::int64_t from_ms, int for_ms,
                  Touch last = Touch::release) {
  machine.on({Touch::press, from_ms, 0});
  for (int ms = 16; ms < for_ms; ms += 16) {
    machine.on({Touch::tick, from_ms + ms, 0});
  }
  return machine.on({last, from_ms + for_ms, 0});
}

void tap(ConfirmMachine& machine, std::int64_t at_ms, int spot) {
  machine.on({Touch::press, at_ms, spot});
  machine.on({Touch::release, at_ms + 80, spot});
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
  CHECK(machine.phase() == ConfirmPhase::idle);
}

TEST_CASE("confirm: it shows when to let go, and the ring fills") {
  const ConfirmPolicy policy;
  ConfirmMachine machine;
  machine.on({Touch::press, 0, 0});
  CHECK(machine.on({Touch::tick, 350, 0}) == ConfirmPhase::holding);
  CHECK(machine.progress(350) == doctest::Approx(350.0 / policy.hold_ms));
  CHECK(machine.on({Touch::tick, 700, 0}) == ConfirmPhase::let_go);
  CHECK(machine.progress(700) == 1.0);
}

TEST_CASE("confirm: sliding off, a cancel, a second finger, a gap and a resting hand all break it") {
  for (const Touch breaks : {Touch::move_out, Touch::cancel, Touch::second_pointer}) {
    ConfirmMachine machine;
    CHECK(hold(machine, 0, 2000, breaks) == ConfirmPhase::idle);
    CHECK(machine.on({Touch::release, 2100, 0}) == ConfirmPhase::idle);
  }
  const ConfirmPolicy policy;
  ConfirmMachine asleep;
  asleep.on({Touch::press, 0, 0});
  CHECK(asleep.on({Touch::tick, policy.gap_ms + 1, 0}) == ConfirmPhase::idle);
  ConfirmMachine backwards;
  backwards.on({Touch::press, 5000, 0});
  CHECK(backwards.on({Touch::tick, 4000, 0}) == ConfirmPhase::idle);
  ConfirmMachine resting;
  CHECK(hold(resting, 0, policy.hold_most_ms + 100) == ConfirmPhase::idle);
}

TEST_CASE("confirm: two separate presses on two spots, the alternative") {
  const ConfirmPolicy policy;
  ConfirmMachine machine;
  tap(machine, 1000, 1);
  CHECK(machine.phase() == ConfirmPhase::first_done);
  tap(machine, 2000, 2);
  CHECK(machine.phase() == ConfirmPhase::confirmed);

  ConfirmMachine same_spot;
  tap(same_spot, 1000, 1);
  tap(same_spot, 2000, 1);
  CHECK(same_spot.phase() == ConfirmPhase::first_done);

  ConfirmMachine wrong_order;
  tap(wrong_order, 1000, 2);
  CHECK(wrong_order.phase() == ConfirmPhase::idle);
  tap(wrong_order, 2000, 1);
  CHECK(wrong_order.phase() == ConfirmPhase::first_done);

  ConfirmMachine bounce;
  tap(bounce, 1000, 1);
  tap(bounce, 1080 + policy.apart_ms - 1, 2);
  CHECK(bounce.phase() == ConfirmPhase::idle);

  ConfirmMachine late;
  tap(late, 1000, 1);
  tap(late, 1080 + policy.second_within_ms + 1, 2);
  CHECK(late.phase() == ConfirmPhase::idle);
}

TEST_CASE("confirm: no policy makes a short touch enough") {
  ConfirmPolicy wild;
  wild.hold_ms = 0;
  wild.apart_ms = 0;
  wild.gap_ms = 100000;
  const ConfirmPolicy kept = safety::bounded(wild);
  CHECK(kept.hold_ms == 500);
  CHECK(kept.apart_ms == 150);
  CHECK(kept.gap_ms < kept.hold_ms);
  ConfirmMachine machine(wild);
  tap(machine, 0, 0);
  CHECK(machine.phase() == ConfirmPhase::idle);
}

TEST_CASE("confirm: one touch, every way it can run, never confirms in under the hold time") {
  // All sequences of up to six events between one press and the first lift, at every 100 ms.
  const ConfirmPolicy policy;
  const std::array<Touch, 5> between = {Touch::tick, Touch::move_in, Touch::move_out, Touch::cancel,
                                        Touch::second_pointer};
  int confirmed_early = 0;
  int confirmed_in_time = 0;
  for (int code = 0; code < 15625; ++code) {
    for (const int step_ms : {50, 100, 150, 300}) {
      for (const int spot : {0, 1, 2}) {
        ConfirmMachine machine;
        machine.on({Touch::press, 0, spot});
        int rest = code;
        std::int64_t now = 0;
        bool broken = false;
        for (int i = 0; i < 6; ++i, rest /= 5) {
          now += step_ms;
          const Touch touch = between[static_cast<std::size_t>(rest % 5)];
          broken = broken || rest % 5 >= 2;
          machine.on({touch, now, spot});
        }
        const bool done = machine.on({Touch::release, now, spot}) == ConfirmPhase::confirmed;
        const bool held = spot == 0 && now >= policy.hold_ms && !broken;
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
      const std::int64_t until = now + random.between(1, policy.hold_ms - 1);
      while (now + 16 < until) {
        now += 16;
        machine.on({Touch::tick, now, spot});
      }
      now = until;
      confirmed = confirmed ||
                  machine.on({random.chance(0.8) ? Touch::release : Touch::cancel, now, spot}) ==
                      ConfirmPhase::confirmed;
    }
    CHECK_FALSE(confirmed);
  }
}

TEST_CASE("confirm: every phase is reached, and from each a cancel leads out") {
  std::set<ConfirmPhase> seen;
  const auto note = [&](ConfirmMachine machine) {
    seen.insert(machine.phase());
    if (machine.phase() != ConfirmPhase::confirmed) {
      CHECK(machine.on({Touch::cancel, 100000, 0}) == ConfirmPhase::idle);
    }
  };
  ConfirmMachine machine;
  note(machine);
  machine.on({Touch::press, 0, 0});
  note(machine);
  machine.on({Touch::tick, 350, 0});
  machine.on({Touch::tick, 700, 0});
  note(machine);
  machine.on({Touch::cancel, 710, 0});
  machine.on({Touch::press, 1000, 1});
  note(machine);
  machine.on({Touch::release, 1100, 1});
  note(machine);
  machine.on({Touch::press, 2000, 2});
  note(machine);
  machine.on({Touch::release, 2100, 2});
  note(machine);
  CHECK(seen.size() == 7);
}
