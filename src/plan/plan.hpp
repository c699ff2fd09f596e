#pragma once
// plan: the cheapest sound order to take a unit apart down to a target, and to put it together
// again. It works on its own plain problem and knows nothing of packs, safety or screens.
//
// Cost is time in whole milliseconds: work, changes of position, changes of tool. Two plans of
// equal cost: the one that takes fewer tools wins; then the search's own fixed order, lowest index
// first. The same input gives the same plan on every target.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "plan/problem.hpp"
#include "plan/rules.hpp"

namespace kp::plan {

struct Step {
  Kind kind = Kind::turn;
  int subject = 0;           ///< by kind: index of a turn, tool, joint or part of the problem
  std::int64_t cost_ms = 0;
  int position = 0;          ///< after the step
  int tool = -1;             ///< after the step
  /// Earlier steps (indices) without which this one could not be done: the reason for the order.
  /// With the steps that those need in turn they make a sound plan of their own up to here.
  std::vector<int> needs;
};

/// What stands in the way of an impossible plan: a joint, a part or a position.
struct Blocker {
  enum class What { joint, part, position };
  What what = What::part;
  int index = 0;
  friend bool operator==(const Blocker&, const Blocker&) = default;
};

/// A plan is a value: it can be kept, compared and printed, and it does nothing.
struct Plan {
  std::vector<Step> steps;
  std::int64_t cost_ms = 0;
  bool proved = false;              ///< no order is cheaper
  std::int64_t lower_bound_ms = 0;  ///< no order is cheaper than this; equals cost_ms if proved
  std::uint64_t expanded = 0;       ///< states looked at
  /// Why there is no plan. Codes: bad-problem, bad-state, bad-target, no-way, limit. Empty `steps`
  /// without an error: nothing is left to do.
  std::optional<Error> error;
  std::vector<Blocker> in_the_way;  ///< with no-way: from the thing wanted to the root of it
};

/// Stops the search after that many states; the plan is then sound, `proved` may be false and
/// `lower_bound_ms` says how much could be gained at most.
struct Limits {
  std::uint64_t expansions = 50'000;
};

/// The cheapest order of turns, tools, releases and removals from `state` to the targets.
[[nodiscard]] Plan reach(const Rules& rules, const State& state, const Targets& targets,
                         Limits limits = {});
[[nodiscard]] Plan reach(const Problem& problem, const State& state, const Targets& targets,
                         Limits limits = {});

/// Whether nothing is left to do: reach() would be a plan without steps. No search. False for targets
/// or a state that reach() refuses.
[[nodiscard]] bool is_reached(const Rules& rules, const State& state, const Targets& targets);

/// The cheapest way back from any state to the unit in its home position with every part set and
/// every joint fastened. Nothing is opened again unless there is no way back without it; then the
/// plan holds releases and removals too and is the cheapest of all ways.
[[nodiscard]] Plan refit(const Rules& rules, const State& state, Limits limits = {});
[[nodiscard]] Plan refit(const Problem& problem, const State& state, Limits limits = {});

}  // namespace kp::plan
