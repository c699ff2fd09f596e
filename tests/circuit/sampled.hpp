#pragma once
// Units as they leave the works: every tolerance of a netlist and of its faults drawn anew.

#include <vector>

#include "circuit/netlist.hpp"
#include "circuit/setting.hpp"
#include "support/random.hpp"

namespace kp::test {

/// A value of the range: now and then one of its ends, where bands are tried hardest.
inline double drawn(Random& random, double low, double high) {
  if (random.chance(0.25)) return low;
  if (random.chance(0.25)) return high;
  return low + (high - low) * random.unit();
}

inline void settle(Random& random, circuit::Spread& spread) {
  spread = circuit::exact(drawn(random, spread.low, spread.high));
}

[[nodiscard]] inline circuit::Netlist sampled(Random& random, circuit::Netlist netlist) {
  for (circuit::Element& element : netlist.elements) {
    settle(random, element.ohm);
    settle(random, element.henry);
    settle(random, element.farad);
    settle(random, element.volt);
    settle(random, element.beta);
  }
  return netlist;
}

[[nodiscard]] inline std::vector<circuit::Fault> sampled(Random& random, std::vector<circuit::Fault> faults) {
  for (circuit::Fault& fault : faults) settle(random, fault.amount);
  return faults;
}

}  // namespace kp::test
