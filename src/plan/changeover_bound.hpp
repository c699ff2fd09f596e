#pragma once

#include <cstdint>
#include <vector>

#include "plan/landmarks.hpp"
#include "plan/sequence.hpp"

namespace kp::plan {

/// A lower bound on the changeovers that are still needed.
///
/// Take any chain of jobs of which each must come before the next. Whatever the order of the
/// rest, a tool has to be taken up again for each run of its jobs on the chain that is cut off
/// from the run before by a job it cannot do. So the longest such count over all chains is a
/// bound on the times that this tool is taken, and the bounds of all tools add up, because each
/// change counts for one tool only. The same holds for positions, and for leaving in place of
/// entering; the greater sum counts.
class ChangeoverBound {
 public:
  /// `before`: landmarks within `wanted`, all of which must be reachable.
  ChangeoverBound(const Sequence& sequence, const ItemSet& wanted, const Landmarks& before);

  /// For the state in which `rest` of the wanted jobs are undone. kNever: no way on from here.
  [[nodiscard]] Cost of(const ItemSet& rest, int position, int tool) const;

 private:
  /// One kind of changeover: positions or tools, each with its cheapest entry and exit.
  struct Axis {
    int count = 0;
    std::size_t offset = 0;
    std::vector<Cost> enter;
    std::vector<Cost> leave;
  };
  void price(const Sequence& sequence);
  void chain(const Sequence& sequence, const ItemSet& wanted, const Landmarks& before);
  void step(Axis axis, std::uint64_t mask, std::uint8_t* row) const;
  struct Sums {
    Cost in = 0;
    Cost out = 0;
  };
  [[nodiscard]] Sums sum(const Axis& axis, int now, const std::uint8_t* most) const;
  [[nodiscard]] Cost free_start(const std::uint8_t* most) const;

  Axis positions_;
  Axis tools_;
  bool empty_hand_ = false;
  std::vector<Cost> first_;  ///< cost of each tool out of the empty hand
  /// Per job four rows of `width_` counters: entries when the value is not held, entries when it
  /// is, exits when it is not held, exits when it is.
  std::size_t width_ = 0;
  std::vector<std::uint8_t> rows_;
};

}  // namespace kp::plan
