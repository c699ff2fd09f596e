#pragma once

#include <vector>

#include "base/text.hpp"
#include "circuit/network.hpp"
#include "circuit/solve.hpp"

namespace kp::circuit {

/// Nodes that branches without impedance hold together are one super-node. Within it each node has
/// a fixed offset, the sum of the ideal sources on the way. Super-nodes that any branch joins form
/// a part; each part has one super-node at its reference (unknown -1), the others are unknowns.
struct Joints {
  struct Place {
    int super = 0;
    Complex offset;          ///< volt of the node over its super-node's own
    int by = -1;             ///< the ideal branch that led here, -1: the first node of its super-node
  };
  std::vector<Place> node;
  std::vector<int> order;    ///< nodes; each stands after the one that it was reached from
  std::vector<int> unknown;  ///< of each super-node
  std::vector<int> part;     ///< of each super-node; 0 holds the network's reference
  int unknowns = 0;
  bool shorted = false;
  std::vector<Issue> issues; ///< rings of ideal branches: ideal_loop, short_circuit

  [[nodiscard]] int unknown_of(int n) const { return unknown[to_size(node[to_size(n)].super)]; }
  [[nodiscard]] int part_of(int n) const { return part[to_size(node[to_size(n)].super)]; }
};

[[nodiscard]] Joints find_joints(const Network& network);

/// Offsets of all nodes with these sources in the branches instead of their own.
[[nodiscard]] std::vector<Complex> offsets(const Network& network, const Joints& joints,
                                           const std::vector<Complex>& emf);

/// Currents of the ideal branches, by Kirchhoff's current law from those of all others, which
/// `ampere` holds already. The branch that closes a ring gets none.
void share_out(const Network& network, const Joints& joints, std::vector<Complex>& ampere);

}  // namespace kp::circuit
