#pragma once

#include "plan/rules.hpp"
#include "plan/sequence.hpp"

namespace kp::plan {

/// Taking apart, as a sequence: job i is "open item i". Jobs of their own (points, the end) may
/// be appended.
[[nodiscard]] Sequence opening(const Rules& rules, const State& state);

/// Putting together with time turned round: it starts with the closed unit at home, "opens" what
/// is to be closed and ends in `state`. Turning time round makes closing as simple as opening:
/// nothing that is done hinders anything else. The last job is the end: all of `state`'s open
/// items, its position and the tool then in the hand.
[[nodiscard]] Sequence closing_backwards(const Rules& rules, const State& state);

}  // namespace kp::plan
