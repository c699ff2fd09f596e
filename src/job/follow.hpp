#pragma once

#include "job/decide.hpp"

namespace kp::job {

/// The accepted record, with the entry of the next stage behind it where the record completes the
/// present one. Safety's own refusals are asked here once more, so that no rule can forget them.
[[nodiscard]] Decision follow(const State& state, Body body, const Stamp& now,
                              const Context& context);

}  // namespace kp::job
