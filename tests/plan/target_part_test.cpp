#include <doctest/doctest.h>

#include <algorithm>
#include <bit>
#include <vector>

#include "plan/builder.hpp"

// Source: the project's own worked example of a target part with tools and orientation (eight
// parts, all orders enumerated). Times in seconds: A 20 T up; B 30 hand up, after A; C 40 T up;
// D 25 P back, after A; E 15 pliers back, after D; F 60 P back, after E and B; G 35 hand back,
// after F; H 50 T up. Change of tool 8, turning 45, first tool free, the unit stands up.

namespace kp::plan {
namespace {

enum { kA, kB, kC, kD, kE, kF, kG, kH };
enum { kT, kHand, kP, kPliers };
constexpr int kUp = 0, kBack = 1;

Part part(int seconds, int tool, int position, std::vector<int> after) {
  Part part;
  part.tool = tool;
  part.cost_ms = seconds * 1000;
  part.positions = {position};
  if (!after.empty()) part.behind = {std::move(after)};
  return part;
}

Problem example() {
  Problem p;
  p.positions = {Position{"up"}, Position{"back"}};
  p.turns = {Turn{kUp, kBack, 45'000, {}}, Turn{kBack, kUp, 45'000, {}}};
  for (const char* name : {"T", "hand", "P", "pliers"}) p.tools.push_back(Tool{name, 8'000});
  p.first_tool_free = true;
  p.parts = {part(20, kT, kUp, {}),          part(30, kHand, kUp, {kA}),
             part(40, kT, kUp, {}),          part(25, kP, kBack, {kA}),
             part(15, kPliers, kBack, {kD}), part(60, kP, kBack, {kE, kB}),
             part(35, kHand, kBack, {kF}),   part(50, kT, kUp, {})};
  return p;
}

/// All orders of the wanted parts, each with the changeovers it cannot do without, in seconds.
void all_orders(const Rules& rules, const State& state, const std::vector<int>& wanted,
                std::int64_t spent, std::vector<std::int64_t>& costs) {
  bool done = true;
  for (const int p : wanted) {
    if (state.removed.test(p)) continue;
    done = false;
    State now = state;
    std::int64_t cost = spent;
    const auto act = [&](Action action) {
      cost += rules.cost_ms(now, action);
      now = rules.apply(now, action);
    };
    const int place = std::countr_zero(rules.item(p).positions);
    if (now.position != place) act(Action{Kind::turn, now.position == kUp ? 0 : 1});
    if (now.tool != rules.item(p).tool) act(Action{Kind::take_tool, rules.item(p).tool});
    if (!rules.legal(now, Action{Kind::remove, p})) continue;
    act(Action{Kind::remove, p});
    all_orders(rules, now, wanted, cost, costs);
  }
  if (done) costs.push_back(spent / 1000);
}

std::vector<int> subjects(const Plan& plan, Kind kind) {
  std::vector<int> all;
  for (const Step& step : plan.steps) {
    if (step.kind == kind) all.push_back(step.subject);
  }
  return all;
}

}  // namespace

TEST_CASE("target part: 270 s, six parts, C and H stay on") {
  const Problem problem = example();
  const Plan plan = reach(problem, State{}, Targets{{kG}, {}, {}});
  REQUIRE_FALSE(plan.error.has_value());
  CHECK(plan.cost_ms == 270'000);
  CHECK(plan.proved);
  CHECK(plan.lower_bound_ms == 270'000);
  CHECK(subjects(plan, Kind::remove) == std::vector<int>{kA, kB, kD, kE, kF, kG});
  // 185 s of work, five changes of tool after the free first one, one turn.
  CHECK(subjects(plan, Kind::take_tool) == std::vector<int>{kT, kHand, kP, kPliers, kP, kHand});
  CHECK(subjects(plan, Kind::turn) == std::vector<int>{0});
}

TEST_CASE("target part: three feasible orders cost 270, 360 and 360 s") {
  const Result<Rules> rules = Rules::make(example());
  REQUIRE(rules.has_value());
  std::vector<std::int64_t> costs;
  all_orders(rules.value(), State{}, {kA, kB, kD, kE, kF, kG}, 0, costs);
  std::sort(costs.begin(), costs.end());
  CHECK(costs == std::vector<std::int64_t>{270, 360, 360});
}

TEST_CASE("target part: the way back has exactly the same six operations") {
  const Result<Rules> rules = Rules::make(example());
  REQUIRE(rules.has_value());
  const Plan out = reach(rules.value(), State{}, Targets{{kG}, {}, {}});
  const State open = test::after(rules.value(), State{}, out);
  const Plan back = refit(rules.value(), open);
  REQUIRE_FALSE(back.error.has_value());
  std::vector<int> set = subjects(back, Kind::set);
  CHECK(set == std::vector<int>{kG, kF, kE, kD, kB, kA});
  CHECK(subjects(back, Kind::remove).empty());
  CHECK(back.proved);
  // The hand holds the right tool for G; five changes and one turn remain: 185 + 40 + 45.
  CHECK(back.cost_ms == 270'000);
  const State closed = test::after(rules.value(), open, back);
  CHECK(closed.removed.none());
  CHECK(closed.position == kUp);
}

TEST_CASE("target part: without the free first tool every order costs one change more") {
  Problem problem = example();
  problem.first_tool_free = false;
  CHECK(reach(problem, State{}, Targets{{kG}, {}, {}}).cost_ms == 278'000);
  State with_t;
  with_t.tool = kT;
  CHECK(reach(problem, with_t, Targets{{kG}, {}, {}}).cost_ms == 270'000);
}

TEST_CASE("target part: reasons name what had to come first") {
  const Plan plan = reach(example(), State{}, Targets{{kG}, {}, {}});
  // T, A, hand, B, turn, P, D, pliers, E, P, F, hand, G
  REQUIRE(plan.steps.size() == 13);
  CHECK(plan.steps[1].needs == std::vector<int>{0});            // A: tool T
  CHECK(plan.steps[3].needs == std::vector<int>{1, 2});         // B: A away, hand
  CHECK(plan.steps[6].needs == std::vector<int>{1, 4, 5});      // D: A away, turned, P
  CHECK(plan.steps[10].needs == std::vector<int>{3, 4, 8, 9});  // F: B and E away, turned, P
}

}  // namespace kp::plan
