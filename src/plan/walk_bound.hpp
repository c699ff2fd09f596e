#pragma once

#include <cstdint>
#include <vector>

#include "plan/sequence.hpp"

namespace kp::plan {

/// The least cost of a walk that takes the unit through a position for each job that is left,
/// whatever the order of the jobs: shortest ways between positions (Floyd, Warshall 1962), then
/// the best order by dynamic programming over subsets (Held, Karp 1962). Jobs with the same
/// positions are one demand; where there are too many demands the rest of them is left out.
class WalkBound {
 public:
  /// Says 0 for everything.
  WalkBound() = default;
  /// `costs`: of each move, in place of its own; none below 0.
  WalkBound(const Sequence& sequence, const ItemSet& wanted, const std::vector<Cost>& costs);

  /// From `position` with `rest` of the wanted jobs undone. kNever: there is no way.
  [[nodiscard]] Cost of(const ItemSet& rest, int position) const;

 private:
  static constexpr std::size_t kMostDemands = 7;

  struct Demand {
    std::uint64_t positions = 0;
    ItemSet jobs;
  };

  void find_demands(const Sequence& sequence, const ItemSet& wanted);
  void find_ways(const Sequence& sequence, const std::vector<Cost>& costs);
  [[nodiscard]] Cost& way(int from, int to) { return ways_[index(from, to)]; }
  [[nodiscard]] Cost onwards(std::size_t set, int position) const;
  [[nodiscard]] std::size_t index(int from, int to) const {
    return static_cast<std::size_t>(from * positions_ + to);
  }

  int positions_ = 1;
  int last_ = -1;  ///< where the walk has to end, -1: anywhere
  std::vector<Demand> demands_;
  std::vector<std::size_t> met_;  ///< per position, the demands that it meets
  std::vector<Cost> ways_;
  std::vector<Cost> best_;  ///< [demands that are left][position]
};

}  // namespace kp::plan
