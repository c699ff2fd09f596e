// Long random jobs with rising numbers and times, two people in turn: gate and oracle must see the
// same after every event. This also shows that the states of reach_test stand for all real ones.

#include <doctest/doctest.h>

#include "model/bridge.hpp"
#include "safety/gate.hpp"
#include "support/random.hpp"

using namespace kp;
using model::Bits;
using model::Ev;

namespace {

// A locks with "own" and B with "other": after a hand-over the names change places.
safety::Event named(Ev ev, std::int64_t id, std::int64_t now_ms, bool swapped) {
  safety::Event event =
      model::event_of(ev, id, now_ms, swapped ? "Ben" : "Ana", swapped ? "Ana" : "Ben");
  if (swapped && !event.lock.empty()) {
    event.lock = event.lock == "own" ? "other" : "own";
  }
  return event;
}

// A step back on the way to the open gate.
bool goes_back(Ev ev, Bits bits) {
  const bool off = (bits & model::of(model::kIso, model::kDead)) != 0;
  const bool shut = (bits & model::of(model::kWShut, model::kWRel)) != 0;
  return (ev == Ev::iso_lock && off) || (ev == Ev::shut && shut) ||
         (ev == Ev::k1_ok && model::has(bits, model::kDead)) ||
         (ev == Ev::power_back || ev == Ev::water_back || ev == Ev::unlock_own);
}

// Events that lead on are drawn more often, so that a walk gets as far as the open gate.
Ev draw(test::Random& random, Bits bits) {
  if (random.chance(0.93)) {
    static const Ev onward[] = {
        Ev::prepare_fixed, Ev::stop,       Ev::iso_lock, Ev::try_quiet,  Ev::k1_ok,
        Ev::ln_ok,         Ev::le_ok,      Ev::ne_ok,    Ev::k2_ok,      Ev::shut,
        Ev::relieve,       Ev::step_plain, Ev::inspect,  Ev::panels,     Ev::clear,
        Ev::unlock_own,    Ev::power_back, Ev::water_back, Ev::charge_gone};
    for (int i = 0; i < 12; ++i) {
      const Ev ev = onward[random.between(0, 17)];
      const model::Outcome told = model::step(bits, ev);
      if (told.accepted && told.next != bits && !goes_back(ev, bits)) {
        return ev;
      }
    }
  }
  return static_cast<Ev>(random.between(0, model::kEvents - 1));
}

struct Walk {
  int steps = 0;
  int gate_open = 0;
  int differ = 0;
};

Walk walk(std::uint64_t seed, int length) {
  test::Random random(seed);
  const safety::Policy policy;
  safety::State state;
  Bits bits = model::kStart;
  std::int64_t now_ms = model::kNow;
  bool swapped = false;
  Walk out;
  for (int i = 1; i <= length; ++i) {
    const Ev ev = draw(random, bits);
    const model::Outcome told = model::step(bits, ev);
    bits = told.next;
    if (ev == Ev::pass_ten_minutes || ev == Ev::pass_half_day) {
      now_ms += ev == Ev::pass_half_day ? model::kHalfDay : model::kTenMinutes;
    } else {
      safety::Event event = named(ev, i, now_ms, swapped);
      if (ev == Ev::shut_earlier || ev == Ev::fact_earlier) {
        event.at.utc_ms = state.newest.utc_ms - 1000;
      }
      out.differ += safety::refusals(state, event, policy).empty() == told.accepted ? 0 : 1;
      state = safety::apply(state, event, policy);
      const bool handed = ev == Ev::taken_over || ev == Ev::reopen_other ||
                          (ev == Ev::prepare_other_person && told.accepted);
      swapped = handed ? !swapped : swapped;
    }
    out.differ += model::abstract(state, now_ms) == bits ? 0 : 1;
    out.gate_open += safety::permit(state, safety::Demand{}, now_ms, policy).allowed ? 1 : 0;
    ++out.steps;
  }
  return out;
}

}  // namespace

TEST_CASE("walk: 200 random jobs of 200 events agree with the oracle") {
  int open = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    const Walk done = walk(seed, 200);
    CHECK(done.differ == 0);
    open += done.gate_open;
  }
  CHECK(open > 500);
}
