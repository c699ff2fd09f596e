#include "find/problem.hpp"

#include <cmath>
#include <utility>

#include "base/text.hpp"

namespace kp::find {

namespace {

constexpr double kSumTolerance = 1e-6;

struct Checker {
  const Problem& problem;
  Findings& out;

  void report(const char* code, std::string pointer, std::string what) const {
    out.add({Severity::fault, code, std::move(pointer), 0, 0, std::move(what), {}});
  }

  [[nodiscard]] int standings() const {
    return problem.moves.empty() ? 1 : to_int(problem.moves.size());
  }

  void cost(double seconds, const std::string& pointer) const {
    if (!(seconds >= 0) || !std::isfinite(seconds)) {
      report("bad-cost", pointer, "a cost is a number of seconds, not below zero");
    }
  }

  void standing(int index, const std::string& pointer) const {
    if (index < 0 || index >= standings()) {
      report("unknown-index", pointer, cat("there is no standing ", index));
    }
  }

  void fault(int index, const std::string& pointer) const {
    if (index < 0 || index >= to_int(problem.faults.size())) {
      report("unknown-index", pointer, cat("there is no fault ", index));
    }
  }

  bool share(double value, const std::string& pointer) const {
    const bool fine = value >= 0 && value <= 1 + kSumTolerance;
    if (!fine) report("bad-likelihood", pointer, "a likelihood lies between 0 and 1");
    return fine;
  }

  bool shares(const std::vector<double>& values, const std::string& pointer) const {
    if (values.size() != problem.faults.size()) {
      report("bad-likelihood", pointer, "one likelihood for each fault is wanted");
      return false;
    }
    bool fine = true;
    for (const double value : values) fine = fine && share(value, pointer);
    return fine;
  }

  void faults() const {
    if (problem.faults.empty()) report("no-faults", "/faults", "there is no fault to find");
    double sum = 0;
    for (int f = 0; f < to_int(problem.faults.size()); ++f) {
      const double weight = problem.faults[to_size(f)].weight;
      sum += weight;
      if (!(weight >= 0) || !std::isfinite(weight)) {
        report("bad-weight", cat("/faults/", f), "a weight is a number, not below zero");
      }
    }
    if (!problem.faults.empty() && !(sum > 0)) {
      report("bad-weight", "/faults", "no fault has any weight");
    }
    for (int s = 0; s < to_int(problem.symptoms.size()); ++s) {
      const std::string at = cat("/symptoms/", s);
      shares(problem.symptoms[to_size(s)].causes, at);
      share(problem.symptoms[to_size(s)].leak, at);
    }
  }

  void test(const Test& test, const std::string& at) const {
    cost(test.seconds, at);
    standing(test.standing, at);
    std::vector<double> sum(problem.faults.size());
    bool fine = true;
    for (int o = 0; o < to_int(test.outcomes.size()); ++o) {
      const Outcome& outcome = test.outcomes[to_size(o)];
      if (!shares(outcome.likelihood, cat(at, "/outcomes/", o))) {
        fine = false;
        continue;
      }
      for (std::size_t f = 0; f < sum.size(); ++f) sum[f] += outcome.likelihood[f];
    }
    for (std::size_t f = 0; fine && !test.outcomes.empty() && f < sum.size(); ++f) {
      if (std::fabs(sum[f] - 1) > kSumTolerance) {
        report("bad-sum", at, cat("the outcomes of fault ", to_int(f), " do not sum to 1"));
      }
    }
    for (const PairAnswer& pair : test.pairs) {
      fault(pair.a, at);
      fault(pair.b, at);
      if (pair.likelihood.size() != test.outcomes.size()) {
        report("bad-likelihood", at, "a pair has one likelihood for each outcome");
      }
    }
  }

  void repair(const Repair& repair, const std::string& at) const {
    cost(repair.seconds, at);
    cost(repair.price_seconds, at);
    standing(repair.standing, at);
    if (repair.leaves != -1) standing(repair.leaves, at);
    for (const int f : repair.clears) fault(f, at);
    if (!(repair.mends > 0 && repair.mends <= 1)) {
      report("bad-likelihood", at, "a repair mends with a probability above 0");
    }
  }

  void moves() const {
    for (int from = 0; from < to_int(problem.moves.size()); ++from) {
      const std::vector<double>& row = problem.moves[to_size(from)];
      if (row.size() != problem.moves.size()) {
        report("bad-moves", cat("/moves/", from), "the table of moves is not square");
      }
      for (const double seconds : row) cost(seconds, cat("/moves/", from));
    }
    standing(problem.standing, "/standing");
  }
};

}  // namespace

Findings check(const Problem& problem) {
  Findings out;
  const Checker checker{problem, out};
  checker.faults();
  checker.moves();
  for (int t = 0; t < to_int(problem.tests.size()); ++t) {
    checker.test(problem.tests[to_size(t)], cat("/tests/", t));
  }
  for (int r = 0; r < to_int(problem.repairs.size()); ++r) {
    checker.repair(problem.repairs[to_size(r)], cat("/repairs/", r));
  }
  if (to_int(problem.tests.size()) > kMaxTests || to_int(problem.repairs.size()) > kMaxRepairs) {
    checker.report("too-many", "/tests", cat("at most ", kMaxTests, " tests and repairs"));
  }
  if (!(problem.second_fault >= 0 && problem.second_fault < 1)) {
    checker.report("bad-likelihood", "/second_fault", "a probability below 1");
  }
  return out;
}

Test certain_test(std::string name, double seconds, const std::vector<int>& outcome_of,
                  std::vector<std::string> outcomes) {
  Test test;
  test.name = std::move(name);
  test.seconds = seconds;
  for (int o = 0; o < to_int(outcomes.size()); ++o) {
    Outcome outcome;
    outcome.name = std::move(outcomes[to_size(o)]);
    outcome.good = o == 0 ? 1 : 0;
    for (const int answer : outcome_of) outcome.likelihood.push_back(answer == o ? 1 : 0);
    test.outcomes.push_back(std::move(outcome));
  }
  return test;
}

}  // namespace kp::find
