#include <doctest/doctest.h>

#include "plan/builder.hpp"
#include "plan/oracle.hpp"
#include "plan/random_problem.hpp"

// Source of the expected values: the cheapest path by Dijkstra's method (Numerische Mathematik 1,
// 1959) over every single state, in oracle.hpp, which shares no code with the engine.

namespace kp::plan {
namespace {

struct Tally {
  int solved = 0;
  int impossible = 0;
  int reopened = 0;
};

void compare(const Plan& plan, const std::optional<test::OracleCost>& truth) {
  if (!truth) {
    CHECK(plan.error.has_value());
    if (plan.error) CHECK(plan.error->code == "no-way");
    return;
  }
  CHECK_FALSE(plan.error.has_value());
  CHECK(plan.cost_ms == truth->first);
  CHECK(test::takes_of(plan) == truth->second);
  CHECK(plan.proved);
  CHECK(plan.lower_bound_ms == plan.cost_ms);
}

void reach_once(std::uint64_t seed, test::RandomShape shape, Tally& tally) {
  test::Random random(seed);
  CAPTURE(random.seed());
  test::RandomProblem maker(random, shape);
  const Problem problem = maker.make();
  const Result<Rules> rules = Rules::make(problem);
  REQUIRE(rules.has_value());
  const State state = maker.walk(rules.value(), random.chance(0.5) ? 0 : 8);
  const Targets targets = maker.targets();
  const test::Oracle oracle(problem);
  const auto truth = oracle.reach(state, targets);
  const Plan plan = reach(rules.value(), state, targets);
  compare(plan, truth);
  test::OracleState end;
  CHECK(oracle.complaint(state, plan, &end) == "");
  CHECK(oracle.lacking_reason(state, plan) == "");
  if (truth) CHECK(oracle.reached(end, targets));
  (truth ? tally.solved : tally.impossible) += 1;
}

void refit_once(std::uint64_t seed, test::RandomShape shape, Tally& tally) {
  test::Random random(seed);
  CAPTURE(random.seed());
  test::RandomProblem maker(random, shape);
  const Problem problem = maker.make();
  const Result<Rules> rules = Rules::make(problem);
  REQUIRE(rules.has_value());
  const State state = maker.walk(rules.value(), random.between(4, 30));
  const test::Oracle oracle(problem);
  const auto truth = oracle.refit(state);
  const Plan plan = refit(rules.value(), state);
  compare(plan, truth);
  test::OracleState end;
  CHECK(oracle.complaint(state, plan, &end) == "");
  CHECK(oracle.lacking_reason(state, plan) == "");
  if (truth) {
    CHECK(end.loose == 0);
    CHECK(end.off == 0);
    CHECK(end.position == problem.home);
    if (oracle.needs_reopening(state)) ++tally.reopened;
  }
  (truth ? tally.solved : tally.impossible) += 1;
}

}  // namespace

TEST_CASE("reach: the cheapest of all orders on small random units") {
  Tally tally;
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    reach_once(seed, test::RandomShape{3 + static_cast<int>(seed % 3), 4 + static_cast<int>(seed % 4), 3, 3}, tally);
  }
  CHECK(tally.solved > 700);
  CHECK(tally.impossible > 100);
}

TEST_CASE("reach and refit: more parts, tools and positions at once") {
  Tally tally;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    test::Random random(seed);
    test::RandomProblem maker(random, test::RandomShape{10, 0, 3, 4});
    Problem problem = maker.make();
    for (Part& part : problem.parts) {
      part.removable = true;
      part.inside = -1;
      part.tool = random.between(0, 3);
    }
    Targets all;
    for (int part = 0; part < 10; ++part) {
      if (random.chance(0.8)) all.parts.push_back(part);
    }
    const test::Oracle oracle(problem);
    const Plan out = reach(problem, State{}, all);
    compare(out, oracle.reach(State{}, all));
    if (out.error) continue;
    const Result<Rules> rules = Rules::make(problem);
    const State open = test::after(rules.value(), State{}, out);
    compare(refit(rules.value(), open), oracle.refit(open));
    ++tally.solved;
  }
  CHECK(tally.solved > 30);
}

TEST_CASE("reach: more work is chosen where it saves a turn") {
  // The valve is behind the left or the right panel. The right panel has to come off anyway, but
  // lies in the other position: with the left one off as well, one turn does.
  Problem p;
  p.positions.resize(2);
  p.turns = {Turn{0, 1, 10'000, {}}, Turn{1, 0, 10'000, {}}};
  p.parts.resize(3);
  p.parts[0].positions = {0};
  p.parts[0].behind = {{1}, {2}};
  p.parts[1].positions = {1};
  p.parts[2].positions = {0};
  p.parts[2].cost_ms = 1'000;
  const Targets targets{{0, 1}, {}, {}};
  compare(reach(p, State{}, targets), test::Oracle(p).reach(State{}, targets));
  CHECK(reach(p, State{}, targets).cost_ms == 11'000);
  // Where the left panel takes longer than the two turns it stays on.
  p.parts[2].cost_ms = 50'000;
  CHECK(reach(p, State{}, targets).cost_ms == 20'000);
}

TEST_CASE("reach: a joint is released only for the cheaper turn it allows") {
  Problem p;
  p.positions.resize(2);
  p.turns = {Turn{0, 1, 90'000, {}}, Turn{0, 1, 20'000, {0}}};
  p.parts.resize(1);
  p.parts[0].positions = {1};
  p.joints.resize(1);
  p.joints[0].cost_ms = 30'000;
  const Targets targets{{0}, {}, {}};
  CHECK(reach(p, State{}, targets).cost_ms == 50'000);
  p.joints[0].cost_ms = 80'000;
  CHECK(reach(p, State{}, targets).cost_ms == 90'000);
}

TEST_CASE("refit: the cheapest of all ways back, opening again only where it must") {
  Tally tally;
  for (std::uint64_t seed = 1; seed <= 2000; ++seed) {
    refit_once(seed, test::RandomShape{3 + static_cast<int>(seed % 3), 4 + static_cast<int>(seed % 3), 3, 3}, tally);
  }
  CHECK(tally.solved > 1000);
  CHECK(tally.reopened > 50);
}

}  // namespace kp::plan
