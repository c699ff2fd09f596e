#pragma once
// Problems in a few lines, and an oracle that plays every policy.

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "find/advise.hpp"
#include "support/random.hpp"

namespace kp::find::test {

using kp::test::Random;

/// One fault and one sure repair each.
inline Problem repairs_only(const std::vector<double>& p, const std::vector<double>& seconds) {
  Problem problem;
  for (int f = 0; f < to_int(p.size()); ++f) {
    problem.faults.push_back({cat("fault ", f + 1), p[to_size(f)]});
    Repair repair;
    repair.name = cat("repair ", f + 1);
    repair.seconds = seconds[to_size(f)];
    repair.clears = {f};
    problem.repairs.push_back(repair);
  }
  return problem;
}

/// A sure test that says whether the fault is one of `in` (counted from 1, as the tables do).
inline Test in_set(const Problem& problem, const std::vector<int>& in, double seconds) {
  std::vector<int> outcome_of(problem.faults.size());
  for (const int fault : in) outcome_of[to_size(fault - 1)] = 1;
  return certain_test("set", seconds, outcome_of, {"no", "yes"});
}

inline Problem identify_only(const std::vector<double>& p) {
  Problem problem = repairs_only(p, std::vector<double>(p.size(), 1.0));
  problem.goal = Goal::identified;
  problem.repairs.clear();
  return problem;
}

/// Every policy, by plain recursion: no bounds, no memory, no order. `weight` sums to the chance of
/// being here; single faults only.
struct Everything {
  const Problem& problem;

  [[nodiscard]] double move(int from, int to) const {
    if (problem.moves.empty() || from == to) return 0;
    double best = problem.moves[to_size(from)][to_size(to)];  // at most three standings here
    for (std::size_t k = 0; k < problem.moves.size(); ++k) {
      best = std::min(best, problem.moves[to_size(from)][k] + problem.moves[k][to_size(to)]);
    }
    return best;
  }

  [[nodiscard]] double cost(const std::vector<double>& weight, int standing, unsigned tests,
                            unsigned repairs) const {
    double mass = 0;
    int alive = 0;
    for (const double w : weight) {
      mass += w;
      alive += w > 0 ? 1 : 0;
    }
    if (mass <= 1e-15 || (problem.goal == Goal::identified && alive <= 1)) return 0;
    double best = std::numeric_limits<double>::infinity();
    bool any = false;
    for (int t = 0; t < to_int(problem.tests.size()); ++t) {
      if ((tests >> static_cast<unsigned>(t) & 1U) == 0) continue;
      const Test& test = problem.tests[to_size(t)];
      double sum = mass * (move(standing, test.standing) + test.seconds);
      for (const Outcome& outcome : test.outcomes) {
        std::vector<double> next = weight;
        for (std::size_t f = 0; f < next.size(); ++f) next[f] *= outcome.likelihood[f];
        sum += cost(next, test.standing, tests & ~(1U << static_cast<unsigned>(t)), repairs);
      }
      best = std::min(best, sum);
      any = true;
    }
    bool mends = false;
    for (int r = 0; r < to_int(problem.repairs.size()) && problem.goal == Goal::repaired; ++r) {
      if ((repairs >> static_cast<unsigned>(r) & 1U) == 0) continue;
      const Repair& repair = problem.repairs[to_size(r)];
      const int leaves = repair.leaves < 0 ? repair.standing : repair.leaves;
      std::vector<double> next = weight;
      bool touches = false;
      for (const int f : repair.clears) {
        touches = touches || weight[to_size(f)] > 0;
        next[to_size(f)] *= 1 - repair.mends;
      }
      if (!touches) continue;
      mends = true;
      const double own = move(standing, repair.standing) + repair.seconds + repair.price_seconds +
                         move(repair.standing, leaves);
      best = std::min(best, mass * own + cost(next, leaves, tests, repairs & ~(1U << static_cast<unsigned>(r))));
    }
    if (problem.give_up_seconds >= 0) return std::min(best, mass * problem.give_up_seconds);
    // Nothing mends what is left: done, at no more cost.
    if (problem.goal == Goal::repaired && !mends) return 0;
    return any || mends ? best : 0;
  }

  [[nodiscard]] double best() const {
    std::vector<double> weight;
    double sum = 0;
    for (const Fault& fault : problem.faults) sum += fault.weight;
    for (const Fault& fault : problem.faults) weight.push_back(fault.weight / sum);
    return cost(weight, problem.standing, (1U << problem.tests.size()) - 1U,
                (1U << problem.repairs.size()) - 1U);
  }
};

/// Faults 3 to 4, tests and repairs up to 3 each, noise, moves and handing over now and then.
inline Problem random_small(Random& random) {
  Problem problem;
  const int faults = random.between(2, 4);
  for (int f = 0; f < faults; ++f) problem.faults.push_back({cat("f", f), 0.05 + random.unit()});
  const int standings = random.between(1, 3);
  if (standings > 1) {
    for (int i = 0; i < standings; ++i) {
      problem.moves.emplace_back();
      for (int j = 0; j < standings; ++j) {
        problem.moves.back().push_back(i == j ? 0 : random.between(0, 30));
      }
    }
  }
  const int tests = random.between(1, 3);
  const bool noisy = random.chance(0.5);
  for (int t = 0; t < tests; ++t) {
    std::vector<int> outcome_of;
    for (int f = 0; f < faults; ++f) outcome_of.push_back(random.between(0, 2));
    Test test = certain_test(cat("t", t), random.between(1, 20), outcome_of, {"a", "b", "c"});
    test.standing = random.between(0, standings - 1);
    if (noisy) {
      for (int f = 0; f < faults; ++f) {
        const double slip = random.chance(0.5) ? 0.3 * random.unit() : 0;
        for (Outcome& outcome : test.outcomes) {
          double& p = outcome.likelihood[to_size(f)];
          p = p * (1 - slip) + slip / 3;
        }
      }
    }
    problem.tests.push_back(test);
  }
  const bool sure = random.chance(0.7);
  for (int f = 0; f < faults; ++f) {
    Repair repair;
    repair.name = cat("r", f);
    repair.seconds = random.between(1, 40);
    repair.price_seconds = random.between(0, 30);
    repair.standing = random.between(0, standings - 1);
    repair.leaves = random.between(-1, standings - 1);
    repair.clears = {f};
    if (random.chance(0.2)) repair.clears.push_back((f + 1) % faults);
    repair.mends = sure ? 1 : 0.5 + 0.5 * random.unit();
    problem.repairs.push_back(repair);
  }
  if (!sure || random.chance(0.3)) problem.give_up_seconds = random.between(20, 300);
  return problem;
}

}  // namespace kp::find::test
