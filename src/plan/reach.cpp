#include <algorithm>
#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"
#include "plan/choices.hpp"
#include "plan/emit.hpp"
#include "plan/explain.hpp"
#include "plan/plan.hpp"

namespace kp::plan {
namespace {

std::uint64_t bit(int i) { return std::uint64_t{1} << static_cast<unsigned>(i); }

Plan refuse(std::string code, std::string what) {
  Plan plan;
  plan.error = Error{std::move(code), std::move(what), {}, {}};
  return plan;
}

std::optional<Error> fault_of(const Rules& rules, const Targets& targets) {
  const auto bad = [](std::string what) {
    return std::optional<Error>(Error{"bad-target", std::move(what), {}, {}});
  };
  for (const int part : targets.parts) {
    if (part < 0 || part >= rules.parts()) return bad(cat("there is no part ", part));
  }
  for (const int position : targets.positions) {
    if (position < 0 || position >= rules.positions()) {
      return bad(cat("there is no position ", position));
    }
  }
  if (to_int(targets.points.size()) > kMaxPoints) {
    return bad(cat("more than ", kMaxPoints, " points at once"));
  }
  return std::nullopt;
}

/// Each way of the one with each way of the other, where some position serves both. The unit is
/// then in a position in which all is uncovered at once: where the plan ends.
std::vector<ItemWay> both(const std::vector<ItemWay>& one, const std::vector<ItemWay>& other) {
  std::vector<ItemWay> out;
  for (const ItemWay& a : one) {
    for (const ItemWay& b : other) {
      const std::uint64_t positions = a.positions & b.positions;
      if (positions != 0) out.push_back(ItemWay{a.items | b.items, positions});
    }
  }
  return out;
}

/// The sequence with one job for each point that can be uncovered anywhere, and one, the last, for
/// the whole target.
struct Goal {
  Sequence sequence;
  std::vector<Item> points;
  int first_virtual = 0;
  int goal = 0;
};

Result<Goal> goal_of(const Rules& rules, const State& state, const Targets& targets) {
  Goal out;
  out.sequence = opening(rules, state);
  out.first_virtual = rules.items();
  Sequence& s = out.sequence;
  Job goal;
  goal.tools = s.every_tool();
  goal.positions = targets.positions.empty() ? rules.every_position() : 0;
  for (const int p : targets.positions) goal.positions |= bit(p);
  ItemSet all;
  for (const int part : targets.parts) all.set(rules.joints() + part);
  goal.ways.push_back(ItemWay{all, goal.positions});
  for (const Point& point : targets.points) {
    Result<Item> item = rules.point(point);
    if (!item.has_value()) return fail(item.error());
    const std::vector<ItemWay>& ways = item.value().ways;
    const bool anywhere = std::all_of(ways.begin(), ways.end(), [&](const ItemWay& way) {
      return (rules.every_position() & ~way.positions) == 0;
    });
    if (anywhere) {
      for (ItemWay& way : goal.ways) way.items.set(to_int(s.jobs.size()));
      s.jobs.push_back(Job{0, rules.every_position(), s.every_tool(), ways});
    } else {
      goal.ways = both(goal.ways, ways);
      if (goal.ways.size() > to_size(kMaxWays)) {
        return fail("bad-target", "the points have too many alternatives together", "points");
      }
    }
    out.points.push_back(std::move(item.value()));
  }
  std::uint64_t ends = 0;
  for (const ItemWay& way : goal.ways) ends |= way.positions;
  if (ends != 0) goal.positions = ends;
  out.goal = to_int(s.jobs.size());
  s.end = out.goal;
  s.jobs.push_back(std::move(goal));
  return out;
}

/// Heedless of what is forbidden there is a way: the first bar that it runs against is told.
bool forbidden(const Rules& rules, const Goal& goal, Plan& plan) {
  Sequence free = goal.sequence;
  free.bars.clear();
  const ChoiceResult found = choose(free, goal.goal, goal.first_virtual, Limits{}.expansions);
  if (!found.best.found) return false;
  ItemSet open = free.done;
  int position = free.position;
  const auto met = [&] {
    const int k = barred_by(rules.bars(), open, position);
    if (k < 0) return false;
    const Bar& bar = rules.bars()[to_size(k)];
    plan.error->what = cat("the target cannot be reached: ", forbidden_words(rules, bar, position));
    bar.items.each([&](int i) { plan.in_the_way.push_back(Blocker{Blocker::What::joint, i}); });
    return true;
  };
  for (const Event& event : arrange(rules, free, found.best.batches)) {
    if (event.what == Event::What::turn) {
      position = rules.turns()[to_size(event.index)].to;
    } else {
      open.set(event.index);
    }
    if (met()) return true;
  }
  return false;
}

/// The target is out of reach: what stands in the way.
Plan impossible(const Rules& rules, const Goal& goal, const Targets& targets) {
  const Sequence& s = goal.sequence;
  Scope scope;
  scope.jobs = ItemSet::up_to(to_int(s.jobs.size()));
  const Landmarks marks = landmarks(s, scope);
  Plan plan = refuse("no-way", {});
  const auto report = [&plan](const std::string& wanted, Reason reason) {
    plan.error->what = cat(wanted, " cannot be reached: ", reason.words);
    plan.in_the_way = std::move(reason.chain);
    return plan;
  };
  for (const int part : targets.parts) {
    const int item = rules.joints() + part;
    if (!marks.reached.test(item)) {
      return report(rules.item_name(item), explain(rules, s, marks, item));
    }
  }
  for (int k = 0; k < to_int(goal.points.size()); ++k) {
    const std::vector<ItemWay>& ways = goal.points[to_size(k)].ways;
    const bool open = std::any_of(ways.begin(), ways.end(), [&](const ItemWay& way) {
      return way.items.within(marks.reached) && (way.positions & marks.places) != 0;
    });
    if (!open) {
      return report(cat("point ", k), explain_point(rules, s, marks, goal.points[to_size(k)]));
    }
  }
  for (const int position : targets.positions) {
    if ((marks.places & bit(position)) == 0) {
      return report(rules.position_name(position), explain_position(rules, s, marks, position));
    }
  }
  if (forbidden(rules, goal, plan)) return plan;
  // Each thing can be reached, but not all of them: a position is left for good on the way.
  plan.error->what = "the targets cannot be reached together: a position cannot be taken again";
  return plan;
}

}  // namespace

bool is_reached(const Rules& rules, const State& state, const Targets& targets) {
  if (rules.fault(state) || fault_of(rules, targets)) return false;
  const ItemSet open = rules.open(state);
  const std::vector<int>& ends = targets.positions;
  return std::all_of(targets.parts.begin(), targets.parts.end(),
                     [&](int part) { return state.removed.test(part); }) &&
         (ends.empty() || std::find(ends.begin(), ends.end(), state.position) != ends.end()) &&
         std::all_of(targets.points.begin(), targets.points.end(), [&](const Point& point) {
           const Result<Item> item = rules.point(point);
           return item.has_value() &&
                  std::any_of(item.value().ways.begin(), item.value().ways.end(),
                              [&](const ItemWay& way) { return way.stands(open, state.position); });
         });
}

Plan reach(const Rules& rules, const State& state, const Targets& targets, Limits limits) {
  Plan plan;
  plan.error = rules.fault(state);
  if (!plan.error) plan.error = fault_of(rules, targets);
  if (plan.error) return plan;
  if (is_reached(rules, state, targets)) {
    plan.proved = true;
    return plan;
  }
  Result<Goal> goal = goal_of(rules, state, targets);
  if (!goal.has_value()) {
    plan.error = goal.error();
    return plan;
  }
  const Goal& to = goal.value();
  ChoiceResult found = choose(to.sequence, to.goal, to.first_virtual, limits.expansions);
  if (!found.best.found) {
    if (!found.best.stopped) return impossible(rules, to, targets);
    plan = refuse("limit", "no plan was found within the limit");
    plan.lower_bound_ms = ms_of_cost(found.best.bound);
    plan.expanded = found.best.expanded;
    return plan;
  }
  emit(rules, state, arrange(rules, to.sequence, found.best.batches), plan);
  KP_CHECK(plan.cost_ms == ms_of_cost(found.best.cost));
  plan.expanded = found.best.expanded;
  plan.lower_bound_ms = ms_of_cost(found.best.bound);
  plan.proved = found.best.bound >= found.best.cost;
  return plan;
}

Plan reach(const Problem& problem, const State& state, const Targets& targets, Limits limits) {
  const Result<Rules> rules = Rules::make(problem);
  if (rules.has_value()) return reach(rules.value(), state, targets, limits);
  Plan plan;
  plan.error = rules.error();
  return plan;
}

}  // namespace kp::plan
