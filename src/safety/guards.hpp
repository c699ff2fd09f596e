#pragma once
// Shared by the predicates of the gate.

#include <cstdint>
#include <vector>

#include "safety/gate.hpp"

namespace kp::safety {

using Events = std::vector<std::int64_t>;

/// Notes the record that a guard stands on, where it holds.
inline bool stand_on(bool holds, const Stamp& proof, Events& out) {
  if (holds && proof.holds()) {
    out.push_back(proof.event);
  }
  return holds;
}

/// The fact that is to be recorded, if it is of that kind.
template <class T>
[[nodiscard]] const T* said(const Ask& ask) {
  return ask.fact == nullptr ? nullptr : std::get_if<T>(ask.fact);
}

/// What is said with a fact, and whether it may be believed; false for the other guards.
[[nodiscard]] bool holds_said(Guard guard, const State& state, const Ask& ask, Now now,
                              const Policy& policy, Events& out);

}  // namespace kp::safety
