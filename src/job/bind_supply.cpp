#include "job/bind_supply.hpp"

namespace kp::job {

Result<physics::HouseSupply> house_band(const pack::Supply& supply) {
  const bool split = supply.system == pack::System::split;
  if (supply.volts_high <= 0) {
    return physics::house_supply(supply.volts, split);
  }
  const physics::VoltRange written{supply.volts_low, supply.volts_high};
  return physics::HouseSupply{
      written, split ? physics::VoltRange{2 * written.low, 2 * written.high} : physics::VoltRange{}};
}

}  // namespace kp::job
