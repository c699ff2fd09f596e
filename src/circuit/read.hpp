#pragma once

#include <span>
#include <utility>
#include <vector>

#include "circuit/meter.hpp"
#include "circuit/netlist.hpp"
#include "circuit/setting.hpp"

namespace kp::circuit {

/// Where a meter is put and on what range. Points are nodes; a clamp goes round elements, each
/// counted from its a to its b; live and neutral, both with their a at the supply, cancel out but
/// for what leaks to earth.
struct Probe {
  Mode mode = Mode::ohms;
  int a = 0;
  int b = 0;
  std::vector<int> clamped;
};

[[nodiscard]] inline Probe between(Mode mode, int a, int b) { return {mode, a, b, {}}; }
[[nodiscard]] inline Probe clamp(std::vector<int> elements) {
  return {Mode::amperes, 0, 0, std::move(elements)};
}

/// What the meter shows in a unit that stands in `setting`, with these faults in it (none: a good
/// unit whose parts are all typical). The meter is part of the network: its input loads what it
/// measures. Ohms are read with the supply out and the meter as the only source: volts over its own
/// amperes, which may be of any size, since everything here is linear.
[[nodiscard]] Reading read(const Netlist& netlist, const Meter& meter, const Probe& probe,
                           const Setting& setting, std::span<const Fault> faults = {});

}  // namespace kp::circuit
