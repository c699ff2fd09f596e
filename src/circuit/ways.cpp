#include "circuit/ways.hpp"

#include <algorithm>
#include <limits>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;

/// Least-cost flow by cheapest augmenting ways (Bellman and Ford's search on the residual graph).
class Flow {
 public:
  explicit Flow(int nodes) : out_(to_size(nodes)) {}

  void arc(int from, int to, std::int64_t cost, int edge) {
    out_[to_size(from)].push_back(to_int(arcs_.size()));
    arcs_.push_back({from, to, cost, true, edge});
    out_[to_size(to)].push_back(to_int(arcs_.size()));
    arcs_.push_back({to, from, -cost, false, edge});
  }

  /// One more unit from source to sink, if it can flow.
  bool push(int source, int sink) {
    std::vector<std::int64_t> cost(out_.size(), kFar);
    std::vector<int> by(out_.size(), -1);
    cost[to_size(source)] = 0;
    for (bool changed = true; changed;) {
      changed = false;
      for (int k = 0; k < to_int(arcs_.size()); ++k) {
        const Arc& arc = arcs_[to_size(k)];
        if (!arc.free || cost[to_size(arc.from)] == kFar) continue;
        const std::int64_t through = cost[to_size(arc.from)] + arc.cost;
        if (through >= cost[to_size(arc.to)]) continue;
        cost[to_size(arc.to)] = through;
        by[to_size(arc.to)] = k;
        changed = true;
      }
    }
    if (cost[to_size(sink)] == kFar) return false;
    for (int n = sink; n != source; n = arcs_[to_size(by[to_size(n)])].from) {
      const int k = by[to_size(n)];
      arcs_[to_size(k)].free = false;
      arcs_[to_size(k ^ 1)].free = true;
    }
    return true;
  }

  /// The node to which the unit goes on from `from`, and the edge that it takes; -1: none.
  [[nodiscard]] int next(int from, int& edge) const {
    for (const int k : out_[to_size(from)]) {
      const Arc& arc = arcs_[to_size(k)];
      if ((k & 1) != 0 || arc.free) continue;
      edge = arc.edge;
      return arc.to;
    }
    return -1;
  }

 private:
  struct Arc {
    int from, to;
    std::int64_t cost;
    bool free;
    int edge;
  };
  std::vector<Arc> arcs_;  ///< each with its opposite beside it
  std::vector<std::vector<int>> out_;
};

}  // namespace

TwoWays two_ways(int nodes, const std::vector<Edge>& edges, std::array<int, 2> from,
                 std::array<int, 2> to) {
  // Each node is split into an entry 2n and an exit 2n + 1, so that one unit at most passes it.
  const auto in = [](int n) { return 2 * n; };
  const auto out = [](int n) { return 2 * n + 1; };
  const int source = 2 * nodes;
  const int sink = source + 1;
  Flow flow(2 * nodes + 2);
  for (int n = 0; n < nodes; ++n) flow.arc(in(n), out(n), 0, -1);
  for (int e = 0; e < to_int(edges.size()); ++e) {
    const Edge& edge = edges[to_size(e)];
    flow.arc(out(edge.a), in(edge.b), edge.cost, e);
    flow.arc(out(edge.b), in(edge.a), edge.cost, e);
  }
  for (const int n : from) flow.arc(source, in(n), 0, -1);
  for (const int n : to) flow.arc(out(n), sink, 0, -1);
  TwoWays ways;
  if (!flow.push(source, sink) || !flow.push(source, sink)) return ways;
  ways.found = true;
  for (const int start : {0, 1}) {
    Way& way = start == 0 ? ways.first : ways.second;
    int at = from[to_size(start)];
    for (int edge = -1;;) {
      const int entry = flow.next(out(at), edge);
      if (entry == sink || entry < 0) break;
      way.push_back(edge);
      at = entry / 2;
    }
    if (start == 0) ways.crossed = at == to[1];
  }
  return ways;
}

Way cheapest_way(int nodes, const std::vector<Edge>& edges, int from, int to) {
  Flow flow(nodes);
  for (int e = 0; e < to_int(edges.size()); ++e) {
    const Edge& edge = edges[to_size(e)];
    flow.arc(edge.a, edge.b, edge.cost, e);
    flow.arc(edge.b, edge.a, edge.cost, e);
  }
  Way way;
  if (from == to || !flow.push(from, to)) return way;
  for (int at = from; at != to;) {
    int edge = -1;
    at = flow.next(at, edge);
    way.push_back(edge);
  }
  return way;
}

}  // namespace kp::circuit
