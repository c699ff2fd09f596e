#pragma once
// The strip with its evidence in the words of the machine at hand.

#include <functional>
#include <string>

#include "safety/strip.hpp"

namespace kp::safety {

/// What people call a place or a terminal, by its id.
using Named = std::function<std::string(const std::string&)>;

/// As `summarise`; the evidence carries names instead of ids.
[[nodiscard]] Strip summarise_named(const State& state, Now now, const Policy& policy,
                                    const Named& named);

}  // namespace kp::safety
