#pragma once

#include "base/findings.hpp"
#include "plan/problem.hpp"

namespace kp::plan {

/// The faults that make a problem unusable: indices, numbers, sizes, carriers in a circle. The
/// first half of check(); Rules::make stands on it.
void check_structure(const Problem& problem, Findings& findings);

}  // namespace kp::plan
