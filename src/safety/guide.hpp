#pragma once

#include <string>
#include <vector>

#include "safety/gate.hpp"

namespace kp::safety {

/// What to do next on the way to an act. `step` asks for something of the machine, which whoever
/// knows its parts turns into a step of a plan.
enum class TodoKind {
  answer_gap, doubt_clock, reopen, prepare, read_frame, stop, isolate, shut_water, hold,
  try_controls, open_way, take_reading, restart_series, discharge, read_neutral, relieve, watch, cool, secure,
  prop, helper, put_away,   ///< water back to shut, power off again: leaving a test
  inspect, warn, water_on, water_static, lock_off, look_clear, power_on, tag, bar_openings, end
};
inline constexpr int kTodoKinds = static_cast<int>(TodoKind::end) + 1;

/// One thing to do now and the words around it.
struct Todo {
  TodoKind kind = TodoKind::prepare;
  Place place;                     ///< of a reading or a discharge
  Wanted wanted;                   ///< of a reading
  std::string lock;                ///< a lock to take off; empty: the plug
  std::string owner;               ///< of that lock
  std::string sentence;            ///< one instruction, at most 20 words
  std::string how;
  std::string why;                 ///< for the trainee, with its source
  std::vector<Caution> cautions;
};

/// The order of work that opens the gate for `ask`, first thing first; empty when permit() allows
/// it, or when only the machine itself stands against it (a cover, the position). Follows
/// safety-order: stop, isolate, shut the water, hold both, wait, try, approach, prove the supply;
/// then at each place: discharge, prove the point of work; then relieve and watch; cool.
[[nodiscard]] std::vector<Todo> make_safe(const State& state, const Ask& ask, Now now,
                                          const Law& law, const Place& supply);

/// The order of work that puts water and power back: inspect, warn, water, locks, look, power; the
/// supply is read before all that where a protective device opened. Empty when they are on.
/// 29 CFR 1910.333(b)(2)(v), 1910.147(e), 1910.334(b)(2).
[[nodiscard]] std::vector<Todo> put_back(const State& state, bool power, bool water,
                                         const Ask& ask, Now now, const Law& law,
                                         const Place& supply);

/// The order of work that lets the visit end so, the ending itself last.
[[nodiscard]] std::vector<Todo> wind_up(const State& state, Ending ending, const Ask& ask, Now now,
                                        const Law& law, const Place& supply);

[[nodiscard]] const char* words(TodoKind kind);   ///< "take-reading": identifies a card

/// Words of trade rules for the trainee: five rules, probes and fuses, categories.
struct Teaching {
  const char* title;
  const char* text;
  const char* source;
};
[[nodiscard]] const std::vector<Teaching>& teachings();

}  // namespace kp::safety
