#pragma once

#include <cstdint>

#include "plan/sequence.hpp"

namespace kp::plan {

struct ChoiceResult {
  Solution best;          ///< cost, bound and batches over all choices
  ItemSet wanted;         ///< the jobs of the best order
  bool possible = true;   ///< the goal can be met at all
};

/// The cheapest order that does the job `goal`, which stands on other jobs in alternative ways.
///
/// Which jobs are done is chosen first, best bound first: a choice names one way for each job
/// that has several, and says of each set of jobs that opens a move whether all of it is done.
/// The jobs a choice stands on are then put in order by solve(), where all ways count again.
/// Any plan is an order of the jobs of one such choice, so the best over all choices is the best.
///
/// Jobs from `virtual_from` on are conditions, not work; of them only `goal` may bind the position
/// in which the order ends.
[[nodiscard]] ChoiceResult choose(const Sequence& sequence, int goal, int virtual_from,
                                  std::uint64_t limit);

}  // namespace kp::plan
