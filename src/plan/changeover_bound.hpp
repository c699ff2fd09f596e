#pragma once

#include <cstdint>
#include <vector>

#include "plan/landmarks.hpp"
#include "plan/sequence.hpp"
#include "plan/walk_bound.hpp"

namespace kp::plan {

/// A lower bound on the changeovers that are still needed.
///
/// Take any chain of jobs of which each must come before the next. Whatever the order of the
/// rest, a tool has to be taken up again for each run of its jobs on the chain that is cut off
/// from the run before by a job it cannot do. So the longest such count over all chains is a
/// bound on the times that this tool is taken, and the bounds of all tools add up, because each
/// change counts for one tool only. The same holds for positions. Where changes cost by what is
/// left (Sequence::by_exit) exits are counted in place of entries.
///
/// Positions are counted in groups that do not overlap, at first each for itself: jobs that can be
/// done in several positions say nothing about one of them, but something about all together.
///
/// Jobs that bind group and tool count for the pair: a pair is entered by turning the unit or by
/// taking the tool there, and each turn into a group stands for one take in it at most. So either
/// all entries but as many as there are turns are takes; or all are, and each turn costs so much
/// less as the dearest take that it can stand for.
class ChangeoverBound {
 public:
  /// `before`: landmarks within `wanted`, all of which must be reachable.
  /// `groups`: masks of positions, each position in one of them.
  ChangeoverBound(const Sequence& sequence, const ItemSet& wanted, const Landmarks& before,
                  std::vector<std::uint64_t> groups);

  /// Each position for itself.
  static std::vector<std::uint64_t> single_positions(const Sequence& sequence);
  /// Other groups worth trying: the positions of some job together, then of others beside them.
  static std::vector<std::vector<std::uint64_t>> joint_positions(const Sequence& sequence,
                                                                 const ItemSet& wanted);

  /// For the state in which `rest` of the wanted jobs are undone. kNever: no way on from here.
  [[nodiscard]] Cost of(const ItemSet& rest, int position, int tool) const;

 private:
  /// Groups or tools, each with its cheapest entry (or exit).
  struct Axis {
    std::size_t offset = 0;
    std::vector<std::uint64_t> masks;
    std::vector<Cost> cost;
  };
  struct Pair {
    int group = 0;
    int tool = 0;
    Cost take = 0;     ///< or one more turn into the group, if that is cheaper
  };

  void price_groups(const Sequence& sequence);
  void price_tools(const Sequence& sequence);
  void pair_up(const Sequence& sequence, const ItemSet& wanted);
  [[nodiscard]] std::vector<Cost> discounted(const Sequence& sequence) const;
  void chain(const Sequence& sequence, const ItemSet& wanted, const Landmarks& before);
  void step(const Job& job, std::uint8_t* row) const;
  void step_axis(const Axis& axis, std::uint64_t mask, std::uint8_t* row) const;
  void count(std::uint8_t* at, bool exact, bool barred) const;
  [[nodiscard]] Cost sum(const Axis& axis, int now, const std::uint8_t* most) const;
  [[nodiscard]] Cost paired(const ItemSet& rest, int position, int group, int tool,
                            const std::uint8_t* most) const;
  [[nodiscard]] Cost free_hand(const ItemSet& rest, int tool, const std::uint8_t* most) const;

  bool by_exit_ = false;
  Axis groups_;
  Axis tools_;
  std::vector<Pair> pairs_;   ///< by group, the dearest first
  std::uint64_t paired_ = 0;  ///< tools that are in some pair
  bool empty_hand_ = false;
  int end_empty_ = -1;        ///< the end, if it wants the hand empty
  std::vector<Cost> once_;    ///< cost of each tool out of, or into, the empty hand
  WalkBound walk_;
  WalkBound discounted_;      ///< each turn cheaper by the dearest take it can stand for
  /// Per job two rows of `width_` counters, for groups, tools and pairs: changeovers needed when
  /// the value is not held now, and when it is.
  std::size_t width_ = 0;
  std::size_t pair_offset_ = 0;
  std::vector<std::uint8_t> rows_;
};

}  // namespace kp::plan
