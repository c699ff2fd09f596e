#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace kp::circuit {

/// An undirected edge of a graph of nodes; what it costs to use it.
struct Edge {
  int a = 0;
  int b = 0;
  std::int64_t cost = 0;
};

/// Edges (indices) from one node to another, in their order.
using Way = std::vector<int>;

/// Two ways, from either of two nodes to either of two others, that share no node, with the least
/// cost together. `first` starts at from[0], `second` at from[1]. A way may be empty (its start is
/// a goal). `found` is false where there is no such pair.
struct TwoWays {
  bool found = false;
  Way first;
  Way second;
  bool crossed = false;  ///< first ends at to[1]
};
[[nodiscard]] TwoWays two_ways(int nodes, const std::vector<Edge>& edges, std::array<int, 2> from,
                               std::array<int, 2> to);

/// The cheapest way between two nodes; empty where there is none.
[[nodiscard]] Way cheapest_way(int nodes, const std::vector<Edge>& edges, int from, int to);

}  // namespace kp::circuit
