#include <algorithm>
#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"
#include "plan/emit.hpp"
#include "plan/explain.hpp"
#include "plan/plan.hpp"
#include "plan/reopen.hpp"

namespace kp::plan {
namespace {

void finish(Plan& plan, Cost cost, Cost bound, std::uint64_t expanded) {
  KP_CHECK(plan.cost_ms == ms_of_cost(cost));
  plan.expanded = expanded;
  plan.lower_bound_ms = ms_of_cost(std::min(bound, cost));
  plan.proved = bound >= cost;
}

/// Time turned round: the last opening becomes the first closing.
std::vector<Event> turned_round(std::vector<Event> events) {
  std::reverse(events.begin(), events.end());
  for (Event& event : events) {
    if (event.what == Event::What::open) event.what = Event::What::close;
  }
  return events;
}

/// Nothing leads back: an open item that cannot be closed, or a position that cannot be left.
Plan impossible(const Rules& rules, const State& state) {
  State closed;
  closed.position = rules.home();
  const Sequence s = opening(rules, closed);
  Scope scope;
  scope.jobs = ItemSet::up_to(rules.items());
  const Landmarks marks = landmarks(s, scope);
  Plan plan;
  Error error{"no-way", {}, {}, {}};
  const int stuck = (rules.open(state) - marks.reached).first();
  if (stuck >= 0) {
    Reason reason = explain(rules, s, marks, stuck);
    error.what = cat(rules.item_name(stuck), " cannot be put back: ", reason.words);
    plan.in_the_way = std::move(reason.chain);
  } else {
    error.what = cat("there is no way back from here to: ", rules.position_name(rules.home()));
    plan.in_the_way.push_back(Blocker{Blocker::What::position, state.position});
  }
  plan.error = std::move(error);
  return plan;
}

}  // namespace

Plan refit(const Rules& rules, const State& state, Limits limits) {
  Plan plan;
  plan.error = rules.fault(state);
  if (plan.error) return plan;

  const Sequence back = closing_backwards(rules, state);
  ItemSet wanted = rules.open(state);
  wanted.set(to_int(back.jobs.size()) - 1);
  Solution found = solve(back, wanted, kNever, limits.expansions);
  std::uint64_t expanded = found.expanded;
  Cost bound = found.bound;
  if (found.stopped) {
    found = solve(back, wanted, kNever, std::max<std::uint64_t>(limits.expansions, 100'000), true);
    if (!found.found && found.stopped) {
      plan.error = Error{"limit", "no way back was found within the limit", {}, {}};
      plan.lower_bound_ms = ms_of_cost(bound);
      plan.expanded = expanded;
      return plan;
    }
  }
  if (found.found) {
    emit(rules, state, turned_round(arrange(rules, back, found.batches)), plan);
    finish(plan, found.cost, bound, expanded);
    return plan;
  }

  ReopenResult again = reopen(rules, state, limits.expansions);
  expanded += again.expanded;
  if (again.found) {
    emit(rules, state, again.events, plan);
    finish(plan, again.cost, again.bound, expanded);
    return plan;
  }
  plan = impossible(rules, state);
  if (again.stopped) plan.error = Error{"limit", "no way back was found within the limit", {}, {}};
  plan.expanded = expanded;
  return plan;
}

Plan refit(const Problem& problem, const State& state, Limits limits) {
  const Result<Rules> rules = Rules::make(problem);
  if (rules.has_value()) return refit(rules.value(), state, limits);
  Plan plan;
  plan.error = rules.error();
  return plan;
}

}  // namespace kp::plan
