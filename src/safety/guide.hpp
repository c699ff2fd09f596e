#pragma once

#include <optional>
#include <string>
#include <vector>

#include "safety/gate.hpp"

namespace kp::safety {

/// One thing to do now, the event that records it, and the words around it.
struct Todo {
  EventKind kind = EventKind::prepared;
  std::optional<Station> station;  ///< for a reading
  std::string lock;                ///< for a lock to take off
  std::string sentence;            ///< one instruction, at most 20 words
  std::string how;
  std::string why;                 ///< for the trainee, with its source
  Caution caution;                 ///< empty sentence: none
};

/// The order of work that opens the gate for `demand`, first thing first; empty when permit()
/// allows it. Follows 29 CFR 1910.147(d) and 1910.333(b)(2).
[[nodiscard]] std::vector<Todo> make_safe(const State& state, const Demand& demand,
                                          std::int64_t now_ms, const Policy& policy);

/// The order of work that puts power and water back: inspect, panels, people, locks, then on.
/// Empty when both are on. 29 CFR 1910.147(e), from memory; 1910.333(b)(2)(v), from memory.
[[nodiscard]] std::vector<Todo> put_back(const State& state, bool power, bool water);

/// The order of work that lets the visit end so, the ending itself last.
[[nodiscard]] std::vector<Todo> wind_up(const State& state, Ending ending, std::int64_t now_ms,
                                        const Policy& policy);

/// Words of trade rules for the trainee: five rules, probes and fuses, categories.
struct Teaching {
  const char* title;
  const char* text;
  const char* source;
};
[[nodiscard]] const std::vector<Teaching>& teachings();

}  // namespace kp::safety
