#include <doctest/doctest.h>

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
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    reach_once(seed, test::RandomShape{3 + static_cast<int>(seed % 3), 4 + static_cast<int>(seed % 4), 3, 3}, tally);
  }
  CHECK(tally.solved > 1000);
  CHECK(tally.impossible > 100);
}

TEST_CASE("refit: the cheapest of all ways back, opening again only where it must") {
  Tally tally;
  for (std::uint64_t seed = 1; seed <= 3000; ++seed) {
    refit_once(seed, test::RandomShape{3 + static_cast<int>(seed % 3), 4 + static_cast<int>(seed % 3), 3, 3}, tally);
  }
  CHECK(tally.solved > 1500);
  CHECK(tally.reopened > 50);
}

}  // namespace kp::plan
