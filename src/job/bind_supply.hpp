#pragma once

#include "base/result.hpp"
#include "pack/model.hpp"
#include "physics/mains.hpp"

namespace kp::job {

/// What the house of this machine supplies, in volts: the band that the pack writes from line to
/// neutral (between two lines twice that), else the published ranges for its nominal voltage
/// (physics::house_supply, which names the sources). Error `no-range` where there is neither.
[[nodiscard]] Result<physics::HouseSupply> house_band(const pack::Supply& supply);

}  // namespace kp::job
