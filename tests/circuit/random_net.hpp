#pragma once
// Random networks of the sizes and values that machines have.

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "circuit/nets.hpp"
#include "support/random.hpp"

namespace kp::test {

/// Log-uniform between two values.
inline double spread_over(Random& random, double low, double high) {
  return low * std::pow(high / low, random.unit());
}

/// A tree over all nodes, so that nothing floats, and as many branches again across it.
template <class F>
[[nodiscard]] circuit::Netlist random_net(Random& random, int nodes, F element) {
  std::vector<circuit::Element> elements;
  for (int n = 1; n < nodes; ++n) elements.push_back(element(random.between(std::max(0, n - 6), n - 1), n));
  for (int k = 0; k < nodes; ++k) {
    const int a = random.between(0, nodes - 1);
    const int b = random.between(0, nodes - 1);
    if (a != b) elements.push_back(element(a, b));
  }
  return net(nodes, std::move(elements));
}

[[nodiscard]] inline circuit::Netlist random_resistors(Random& random, int nodes) {
  return random_net(random, nodes, [&](int a, int b) {
    return circuit::resistor(a, b, spread_over(random, 0.02, 1e5));
  });
}

/// Resistors, coils and capacitors of a machine's size, and three sources behind resistance.
[[nodiscard]] inline circuit::Netlist random_reactive(Random& random, int nodes) {
  using namespace circuit;
  Netlist netlist = random_net(random, nodes, [&](int a, int b) {
    if (random.chance(0.15)) {
      return coil(a, b, exact(spread_over(random, 1, 1000)), exact(spread_over(random, 1e-3, 5)));
    }
    if (random.chance(0.1)) {
      Element element = capacitor(a, b, exact(spread_over(random, 1e-9, 1e-4)));
      element.ohm = exact(spread_over(random, 0.1, 10));
      return element;
    }
    return resistor(a, b, spread_over(random, 0.02, 1e5));
  });
  for (int k = 0; k < 3; ++k) {
    const int a = random.between(1, nodes - 1);
    Element source = supply(a, random.between(0, a - 1), 10 + 220 * random.unit(),
                            spread_over(random, 0.1, 10));
    source.degrees = k == 0 ? 0 : 360 * random.unit();
    netlist.elements.push_back(source);
  }
  return netlist;
}

}  // namespace kp::test
