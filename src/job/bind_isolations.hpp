#pragma once

#include <string>
#include <vector>

#include "bill/service.hpp"
#include "job/state.hpp"

namespace kp::job {

/// The isolations in the order in which they were made, as the facts decided them: a new one begins
/// where an energy was given back or a proof was lost. A proof stands only where it was decided.
[[nodiscard]] std::vector<bill::IsolationTaken> bind_isolations(const State& state);

/// "voltage on the isolated machine": what nearly went wrong, for the record.
[[nodiscard]] std::string near_miss_words(const std::string& code);

}  // namespace kp::job
