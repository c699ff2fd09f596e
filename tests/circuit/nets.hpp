#pragma once
// Netlists for tests: plain networks of resistors, and what is asked of them.

#include <utility>
#include <vector>

#include "base/text.hpp"
#include "circuit/netlist.hpp"
#include "circuit/network.hpp"
#include "circuit/solve.hpp"

namespace kp::test {

/// `nodes` nodes without names; node 0 is the one that voltages are given against.
[[nodiscard]] inline circuit::Netlist net(int nodes, std::vector<circuit::Element> elements) {
  circuit::Netlist netlist;
  netlist.nodes.resize(to_size(nodes));
  netlist.elements = std::move(elements);
  return netlist;
}

/// Resistors of one ohm between these pairs of nodes.
[[nodiscard]] inline circuit::Netlist units(int nodes, const std::vector<std::pair<int, int>>& pairs) {
  std::vector<circuit::Element> elements;
  for (const auto& [a, b] : pairs) elements.push_back(circuit::resistor(a, b, 1.0));
  return net(nodes, std::move(elements));
}

/// Ohms between two nodes with the supplies taken out.
[[nodiscard]] inline double ohms(const circuit::Netlist& netlist, int a, int b) {
  return circuit::Solver(circuit::dead_network(netlist, {}, {})).impedance_between(a, b).real();
}

/// A solved netlist with its supplies on.
struct Live {
  explicit Live(const circuit::Netlist& netlist, circuit::Setting setting = {},
                const std::vector<circuit::Fault>& faults = {}) {
    setting.powered = true;
    network = circuit::live_network(netlist, setting, faults);
    solution = circuit::solve(network);
  }

  [[nodiscard]] circuit::Complex volt(int a, int b = 0) const { return solution.between(a, b); }
  /// From a to b through an element.
  [[nodiscard]] circuit::Complex ampere(int element) const {
    return solution.ampere[to_size(network.branch_of[to_size(element)])];
  }
  /// Power that an element takes up; below zero it gives.
  [[nodiscard]] circuit::Complex watt(int element) const {
    const circuit::Branch& branch = network.branches[to_size(network.branch_of[to_size(element)])];
    return volt(branch.a, branch.b) * std::conj(ampere(element));
  }

  circuit::Network network;
  circuit::Solution solution;
};

}  // namespace kp::test
