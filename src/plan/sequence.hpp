#pragma once

#include <cstdint>
#include <limits>
#include <vector>

#include "plan/bits.hpp"

namespace kp::plan {

/// Milliseconds and, below them, the number of tools taken, in one whole number: of two equal
/// times the one with fewer tools is less.
using Cost = std::int64_t;
inline constexpr int kTakesShift = 12;
inline constexpr Cost kOneTake = 1;
inline constexpr Cost kNever = std::numeric_limits<Cost>::max() / 4;
[[nodiscard]] constexpr Cost cost_of_ms(std::int64_t ms) { return ms * (Cost{1} << kTakesShift); }
[[nodiscard]] constexpr std::int64_t ms_of_cost(Cost cost) { return cost >> kTakesShift; }

/// Something to be done once: nothing that is done is ever undone.
struct Job {
  Cost work = 0;
  std::uint64_t positions = 0;  ///< bit p: can be done there
  std::uint64_t tools = 0;      ///< bit t: can be done with that in the hand
  std::vector<ItemWay> ways;    ///< one of these must be done before; none: impossible
};

struct Move {
  int from = 0;
  int to = 0;
  Cost cost = 0;
  ItemSet needs;  ///< jobs that must be done before
  int turn = 0;   ///< the caller's own number
};

/// Jobs with positions, tools and changeovers between them: the form in which taking apart and,
/// with time turned round, putting together are searched.
struct Sequence {
  std::vector<Job> jobs;
  std::vector<Move> moves;
  int positions = 0;
  int tools = 0;             ///< with the empty hand, if there is one, as the last
  bool empty_hand = false;
  std::vector<Cost> change;  ///< tools x tools, row: from
  ItemSet done;
  int position = 0;
  int tool = 0;
  bool by_exit = false;      ///< a change of tool costs by the tool that is put down
  int end = -1;              ///< the job that comes after all others, if there is one
  /// No state may stand behind one of these, save the one in which the unit was found. Beside
  /// them nothing that is done hinders anything else.
  std::vector<Bar> bars;
  ItemSet real;              ///< jobs that are work on the unit; the others are conditions
  ItemSet as_found;          ///< the real jobs that were done on the unit as it was found,
  int found_at = -1;         ///< and its position

  [[nodiscard]] Cost change_cost(int from, int to) const {
    return change[static_cast<std::size_t>(from * tools + to)];
  }
  /// With these jobs done the unit must not be in this position.
  [[nodiscard]] bool forbids(const ItemSet& done_then, int at) const {
    return barred_by(bars, done_then, at) >= 0 &&
           (at != found_at || !((done_then & real) == as_found));
  }
  [[nodiscard]] std::uint64_t every_tool() const {
    return tools == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << static_cast<unsigned>(tools)) - 1;
  }
};

/// What happens without leaving one position and one tool: the move that led there (index, -1: a
/// change of tool, or the start), then the jobs, in no order.
struct Batch {
  int move = -1;
  ItemSet jobs;
};

struct Solution {
  bool found = false;
  bool stopped = false;  ///< the limit was met before the end
  Cost cost = kNever;    ///< of the batches, work included
  Cost bound = 0;        ///< no order of these jobs costs less (or less than the cutoff)
  std::uint64_t expanded = 0;
  std::vector<Batch> batches;
};

/// The cheapest order of all jobs in `wanted`, and of no others, if one costs less than `cutoff`.
/// `hasty`: any good order, fast, without a proof.
[[nodiscard]] Solution solve(const Sequence& sequence, const ItemSet& wanted, Cost cutoff,
                             std::uint64_t limit, bool hasty = false);

/// A cost below which no order of the wanted jobs can come, kNever if there is none at all.
[[nodiscard]] Cost bound(const Sequence& sequence, const ItemSet& wanted);

}  // namespace kp::plan
