#pragma once

#include <vector>

#include "job/state.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// Why a prove test cannot be made at the unit as it stands: covered, another position, a joint that
/// must be loose or fast. Empty: its place is open.
[[nodiscard]] std::vector<safety::Reason> place_open(const Model& model, const plan::State& unit,
                                                     const pack::ProveTest& test);

}  // namespace kp::job
