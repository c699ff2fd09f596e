#pragma once

#include <cstdint>
#include <string>
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

/// The codes for which a test may be left out now, in the pack's order. "Untouched" is not believed
/// where the record says otherwise: earth and insulation once a conductor was parted or is in doubt,
/// a look at a place that stands open.
[[nodiscard]] std::vector<std::string> left_out_for(const Model& model, const State& state,
                                                    const pack::ProveTest& test);

/// Milliseconds that must still pass before this test can have run as long as it takes, by the tool's
/// own clock; 0: none. Counted from when power and water came on, or from the test before it,
/// whichever was later: by the steady clock within one life of the program, else by the wall's.
[[nodiscard]] std::int64_t wait_left_ms(const State& state, const pack::ProveTest& test,
                                        const Stamp& now);

}  // namespace kp::job
