#pragma once
// Every state that can be reached, by breadth first, gate and oracle side by side.

#include <unordered_set>
#include <vector>

#include "model/bridge.hpp"

namespace kp::model {

/// What an onlooker knows who sees only the accepted events: good readings in a row since power
/// was last on (5: proved), and water 0 on, 1 shut, 2 relieved since it was last on.
struct Onlooker {
  int good = 0;
  int water = 0;
};

inline void watch_power(Onlooker& seen, Ev ev) {
  static constexpr Ev kGood[] = {Ev::k1_ok, Ev::ln_ok, Ev::le_ok, Ev::ne_ok, Ev::k2_ok};
  static constexpr Ev kBreaks[] = {
      Ev::k1_fail, Ev::k1_ohms, Ev::ln_live, Ev::ln_other_meter, Ev::le_live,     Ev::le_ohms,
      Ev::ne_live, Ev::ne_ghost, Ev::k2_fail, Ev::k2_other_meter, Ev::try_answered,
      Ev::power_back, Ev::found_live, Ev::re_energised};
  for (int i = 0; i < 5; ++i) {
    if (kGood[i] == ev) {
      seen.good = i == 0 || seen.good == i ? i + 1 : 0;
    }
  }
  for (const Ev breaks : kBreaks) {
    seen.good = breaks == ev ? 0 : seen.good;
  }
}

inline void watch_water(Onlooker& seen, Ev ev) {
  if (ev == Ev::shut) {
    seen.water = 1;
  } else if (ev == Ev::relieve) {
    seen.water = seen.water >= 1 ? 2 : 0;
  } else if (ev == Ev::water_back || ev == Ev::found_wet) {
    seen.water = 0;
  }
}

inline bool is_hands_in(Ev ev) {
  return ev == Ev::step_plain || ev == Ev::step_charge || ev == Ev::step_hot ||
         ev == Ev::step_heavy || ev == Ev::step_two;
}

/// The state of gate and onlooker in one number: the onlooker above the bits.
inline Bits key_of(Bits bits, Onlooker seen) {
  return bits | (static_cast<Bits>(seen.good) << 48) | (static_cast<Bits>(seen.water) << 52);
}
inline Bits bits_of(Bits key) { return key & ((Bits{1} << 48) - 1); }
inline Onlooker onlooker_of(Bits key) {
  return Onlooker{static_cast<int>((key >> 48) & 15), static_cast<int>((key >> 52) & 15)};
}
static_assert(kBits <= 48);

struct Move {
  bool accepted = false;
  Bits bits = 0;
};

/// All events as the worker of concrete() would write them, made once.
inline std::vector<safety::Event> all_events() {
  std::vector<safety::Event> events;
  for (int e = 0; e < kEvents; ++e) {
    events.push_back(event_of(static_cast<Ev>(e), 101, kNow, "Ana", "Ben"));
  }
  return events;
}

/// One event on the real gate.
inline Move move(const safety::State& state, Bits bits, Ev ev, const safety::Event& event,
                 const safety::Policy& policy) {
  if (ev == Ev::pass_ten_minutes || ev == Ev::pass_half_day) {
    const std::int64_t later = kNow + (ev == Ev::pass_half_day ? kHalfDay : kTenMinutes);
    return Move{true, abstract(state, later)};
  }
  if (!safety::refusals(state, event, policy).empty()) {
    return Move{false, bits};
  }
  return Move{true, abstract(safety::apply(state, event, policy), kNow)};
}

/// Breadth first from the start over all events that `wanted` lets through, with or without an
/// onlooker beside. Calls
/// on_state(key, state) for each state and on_move(key, state, event, move, next_key) for each
/// transition tried; returns the keys in the order in which they were found.
template <class Wanted, class OnState, class OnMove>
std::vector<Bits> explore(Wanted wanted, bool with_onlooker, OnState on_state, OnMove on_move) {
  const safety::Policy policy;
  const std::vector<safety::Event> events = all_events();
  std::unordered_set<Bits> seen;
  std::vector<Bits> queue = {key_of(kStart, {})};
  seen.insert(queue[0]);
  for (std::size_t i = 0; i < queue.size(); ++i) {
    const Bits key = queue[i];
    const safety::State state = concrete(bits_of(key));
    on_state(key, state);
    for (int e = 0; e < kEvents; ++e) {
      const auto ev = static_cast<Ev>(e);
      if (!wanted(ev)) {
        continue;
      }
      const Move made = move(state, bits_of(key), ev, events[static_cast<unsigned>(e)], policy);
      Onlooker onlooker = onlooker_of(key);
      if (made.accepted && with_onlooker) {
        watch_power(onlooker, ev);
        watch_water(onlooker, ev);
      }
      const Bits next = key_of(made.bits, onlooker);
      on_move(key, state, ev, made, next);
      if (seen.insert(next).second) {
        queue.push_back(next);
      }
    }
  }
  return queue;
}

}  // namespace kp::model
