#pragma once

#include "bill/service.hpp"
#include "job/state.hpp"

namespace kp::job {

/// Adds to the record's remarks what was written down beside the work: refusals of the gate, cautions
/// shown, photographs, the tester, orders, refused quotes, and papers that were made.
void add_written_down(const State& state, bill::ServiceRecord& record);

}  // namespace kp::job
