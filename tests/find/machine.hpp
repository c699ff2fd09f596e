#pragma once
// A made-up machine of any size, with the habits of a real one: parts of some minutes, tests that
// each concern a few faults, covers in front of both. Its numbers come from a seed, no source.

#include <vector>

#include "find/cases.hpp"

namespace kp::find::test {

inline Test random_test(Random& random, const Problem& problem, int standings, int t) {
  const int faults = to_int(problem.faults.size());
  std::vector<int> outcome_of(problem.faults.size());
  const int concerned = random.between(2, std::max(2, faults / 4));
  const int first = random.between(0, faults - 1);
  for (int i = 0; i < concerned; ++i) {
    const int f = random.chance(0.7) ? (first + i) % faults : random.between(0, faults - 1);
    outcome_of[to_size(f)] = random.between(1, 3);
  }
  Test test = certain_test(cat("test ", t + 1), random.between(10, 90), outcome_of,
                           {"good", "OL", "high", "leak"});
  test.standing = random.between(0, standings - 1);
  // Some are looked at or listened to: the sign is there only now and then.
  if (random.chance(0.4)) {
    for (std::size_t f = 0; f < problem.faults.size(); ++f) {
      if (outcome_of[f] == 0) continue;
      const double seen = 0.5 + 0.5 * random.unit();
      for (Outcome& outcome : test.outcomes) outcome.likelihood[f] *= seen;
      test.outcomes.front().likelihood[f] = 1 - seen;
    }
  }
  return test;
}

/// Standing 0 is closed and running; repairs end there.
inline Problem machine(std::uint64_t seed, int faults, int tests, int standings = 6) {
  Random random(seed);
  Problem problem;
  for (int f = 0; f < faults; ++f) {
    problem.faults.push_back({cat("fault ", f + 1), 0.02 + random.unit() * random.unit()});
  }
  for (int i = 0; i < standings; ++i) {
    problem.moves.emplace_back();
    for (int j = 0; j < standings; ++j) {
      problem.moves.back().push_back(i == j ? 0.0 : 30.0 * random.between(1, 10));
    }
  }
  for (int t = 0; t < tests; ++t) {
    problem.tests.push_back(random_test(random, problem, standings, t));
  }
  for (int f = 0; f < faults; ++f) {
    Repair repair;
    repair.name = cat("part ", f + 1);
    repair.seconds = 60.0 * random.between(5, 30);
    repair.price_seconds = 60.0 * random.between(0, 90);
    repair.standing = random.between(1, standings - 1);
    repair.leaves = 0;
    repair.clears = {f};
    problem.repairs.push_back(repair);
  }
  return problem;
}

}  // namespace kp::find::test
