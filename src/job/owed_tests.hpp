#pragma once

#include <vector>

#include "job/state.hpp"

namespace kp::job {

/// How much was done to the electricity of a machine since it last had power; decides what must be
/// measured before it gets it back (safety-order section 3: 29 CFR 1910.333(b)(2)(v) asks for
/// tests "as needed", the three classes are ours).
enum class WorkClass {
  covers,      ///< covers and clips only
  conductors,  ///< a conductor was parted, or a part of the circuit was out
  doubtful     ///< tingle, trip, water below, no earth found, or a reading to earth under its limit
};
[[nodiscard]] WorkClass work_class(const Model& model, const State& state);

/// The tests before power that are still owed, by index into Pack::prove_tests: after a repair all
/// of them, else those that the class of the work asks for. What was left out for a reason counts
/// as done; what failed is owed until it passes.
[[nodiscard]] std::vector<int> tests_owed(const Model& model, const State& state);

}  // namespace kp::job
