#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "find/cases.hpp"
#include "find/reading.hpp"

// Bayes' rule and Pearl's noisy-OR (Probabilistic Reasoning in Intelligent Systems, 1988), worked by
// hand in the comments.

namespace kp::find {
namespace {

using doctest::Approx;

constexpr double kOl = std::numeric_limits<double>::infinity();

Problem three() {
  Problem problem = test::repairs_only({.5, .3, .2}, {10, 10, 10});
  problem.tests = {test::in_set(problem, {1}, 1), test::in_set(problem, {1, 2}, 1),
                   test::in_set(problem, {2}, 1)};
  return problem;
}

}  // namespace

TEST_CASE("noisy-OR: causes add up as independent chances, a leak speaks for the rest") {
  Problem problem = test::repairs_only({.5, .5}, {1, 1});
  problem.symptoms = {{"water stays cold", .1, {.8, 0}}};
  const Belief there = believe(problem, {noticed(0)});
  // 1 - .9 * .2 = .82 against .1
  CHECK(there.fault[0] == Approx(.82 / .92));
  const Belief absent = believe(problem, {noticed(0, false)});
  CHECK(absent.fault[0] == Approx(.18 / 1.08));
  problem.second_fault = .2;
  problem.symptoms = {{"water stays cold", .1, {.8, .5}}};
  // Both at once: 1 - .9 * .2 * .5 = .91; each alone .82 and .55.
  const Belief both = believe(problem, {noticed(0)});
  const double sum = .4 * .82 + .4 * .55 + .2 * .91;
  CHECK(both.hypotheses.size() == 3);
  CHECK(both.hypotheses[2].p == Approx(.2 * .91 / sum));
  CHECK(both.fault[0] == Approx((.4 * .82 + .2 * .91) / sum));
}

TEST_CASE("two faults at once have the product of their priors") {
  Problem problem = three();
  problem.second_fault = .1;
  const Belief belief = believe(problem, {});
  const double pairs = .5 * .3 + .5 * .2 + .3 * .2;
  CHECK(belief.hypotheses.size() == 6);
  CHECK(belief.hypotheses[0].p == Approx(.45));
  CHECK(belief.hypotheses[3].p == Approx(.1 * .15 / pairs));
  CHECK(belief.hypotheses[5].p == Approx(.1 * .06 / pairs));
  // A repair of fault 1 in vain: fault 2 or 3 alone, or what is left of a pair.
  const Belief after = believe(problem, {failed(0)});
  const double two = .27 + .1 * .15 / pairs;
  const double three_left = .18 + .1 * .1 / pairs;
  const double pair = .1 * .06 / pairs;
  CHECK(after.fault[0] == 0);
  CHECK(after.hypotheses[1].p == Approx(two / (two + three_left + pair)));
}

TEST_CASE("confidence: what mends with that chance is advised though one more test costs less") {
  Problem problem = test::repairs_only({.97, .03}, {3000, 3000});
  problem.tests.push_back(certain_test("look", 1, {0, 1}, {"first", "second"}));
  const Advice by_cost = advise(problem, {});
  CHECK(by_cost.move == Move::test);
  CHECK(by_cost.proved);
  CHECK(by_cost.sure == 0);
  problem.confidence = .95;
  const Advice sure = advise(problem, {});
  REQUIRE(sure.move == Move::repair);
  CHECK(sure.index == 0);
  CHECK(sure.sure == Approx(.97));
  CHECK_FALSE(sure.proved);
  CHECK(sure.expected_seconds > by_cost.expected_seconds);
  CHECK(sure.test_seconds + sure.change_seconds + sure.repair_seconds + sure.part_seconds ==
        Approx(sure.expected_seconds));
  const std::vector<std::string> reasons = explain(problem, {}, sure);
  CHECK(std::find(reasons.begin(), reasons.end(),
                  "It mends with 97 %, and from 95 % on no more tests are asked for.") != reasons.end());
  problem.confidence = .98;
  CHECK(advise(problem, {}).move == Move::test);
}

TEST_CASE("two faults: a job that one repair cannot end is ended by two") {
  Problem problem = three();
  problem.second_fault = .3;
  problem.moves = {};
  std::vector<Evidence> evidence;
  // Faults 1 and 2 are there. Test 1 (fault 1?) says yes; test 2 says yes; test 3 says yes.
  for (int step = 0; step < 10; ++step) {
    const Advice advice = advise(problem, evidence, {5000, 0, {}});
    CHECK(advice.move != Move::nothing);
    if (advice.move == Move::test) {
      const bool fixed_one = !repairs_open(problem, evidence)[0];
      const bool fixed_two = !repairs_open(problem, evidence)[1];
      const int answer[] = {fixed_one ? 0 : 1, fixed_one && fixed_two ? 0 : 1, fixed_two ? 0 : 1};
      evidence.push_back(answered(advice.index, answer[advice.index]));
      continue;
    }
    if (advice.move != Move::repair) break;
    evidence.push_back(failed(advice.index));
    const std::vector<bool> open = repairs_open(problem, evidence);
    if (!open[0] && !open[1]) {
      CHECK(open[2]);  // the third was not swapped for nothing
      return;
    }
  }
  CHECK_MESSAGE(false, "two faults were not mended in ten steps");
}

TEST_CASE("evidence is a list: its order, and what was taken back, change nothing") {
  const Problem problem = three();
  std::vector<Evidence> wrong{answered(0, 1), answered(1, 1)};
  CHECK(believe(problem, wrong).fault[0] == 1);
  wrong[0].taken_back = true;
  const Belief back = believe(problem, wrong);
  const Belief never = believe(problem, {answered(1, 1)});
  for (std::size_t f = 0; f < 3; ++f) CHECK(back.fault[f] == never.fault[f]);
  CHECK(tests_open(problem, wrong)[0]);
  const Belief one = believe(problem, {answered(0, 0), answered(1, 1)});
  const Belief other = believe(problem, {answered(1, 1), answered(0, 0)});
  for (std::size_t f = 0; f < 3; ++f) CHECK(one.fault[f] == Approx(other.fault[f]));
  // Measured again: the later answer stands, and it does not count twice.
  const Belief again = believe(problem, {answered(0, 1), answered(0, 0)});
  CHECK(again.fit == Fit::fits);
  CHECK(again.fault[0] == 0);
}

TEST_CASE("a test that cannot be done here is not advised") {
  Problem problem = three();
  const Advice free = advise(problem, {});
  CHECK(free.move == Move::test);
  std::vector<Evidence> evidence;
  for (int t = 0; t < 3; ++t) evidence.push_back(cannot(t));
  const Advice without = advise(problem, evidence);
  CHECK(without.move == Move::repair);
  CHECK(without.expected_seconds > free.expected_seconds);
}

TEST_CASE("a reading that fits no fault is named, and nobody is blamed for it") {
  Problem problem = test::repairs_only({.5, .5}, {60, 90});
  const Bins bins = bins_of({28, 33}, {{kOl, kOl}, {0, 0.5}}, {}, "ohm");
  problem.tests = {{"Heater in ohms", 20, 0, bins.outcomes, {}}};
  CHECK(check(problem).faults() == 0);
  const Evidence odd = answered(0, outcome_of(bins, 500));
  const Belief belief = believe(problem, {odd});
  CHECK(belief.fit == Fit::reading_fits_nothing);
  CHECK(belief.odd == std::vector<int>{0});
  CHECK(belief.fault[0] == Approx(.5));
  const Advice advice = advise(problem, {odd});
  const std::vector<std::string> words = explain(problem, {odd}, advice);
  CHECK(words[0] == "This fits no fault that is known here: Heater in ohms.");
  CHECK(words[1] == "Do it again, or take it back.");
  CHECK(believe(problem, {answered(0, outcome_of(bins, kOl))}).fault[0] == 1);
  CHECK(believe(problem, {answered(0, outcome_of(bins, 0.2))}).fault[1] == 1);
}

TEST_CASE("readings that no single fault explains are named by the one without which the rest fits") {
  const Problem problem = three();
  // Test 1 says fault 1; tests 2 and 3 say fault 2.
  const std::vector<Evidence> evidence{answered(0, 1), answered(1, 1), answered(2, 1)};
  const Belief belief = believe(problem, evidence);
  CHECK(belief.fit == Fit::readings_disagree);
  CHECK(belief.odd.size() == 1);
  CHECK(belief.odd.front() != 1);
  Problem two = problem;
  two.second_fault = .05;
  const Belief pair = believe(two, evidence);
  CHECK(pair.fit == Fit::fits);  // two faults at once explain all three
  CHECK(pair.fault[0] == Approx(1));
  CHECK(pair.fault[1] == Approx(1));
}

TEST_CASE("a reading's outcomes: cut at the bands, merged where they say the same") {
  // Heater 1800 W on 230 V: 27.989 to 32.654 ohm (V^2/P, +5 and -10 %).
  const ReadingRule rule{0, 0.1, 0.05, 1e7, 0, 99};
  const Bins bins = bins_of({27.989, 32.654}, {{27.989, 32.654}, {kOl, kOl}, {30, 82}, {1000, 5e5}},
                            rule, "ohm");
  for (std::size_t f = 0; f < 4; ++f) {
    double sum = 0;
    for (const Outcome& outcome : bins.outcomes) sum += outcome.likelihood[f];
    CHECK(sum == Approx(1).epsilon(1e-12));
  }
  const auto at = [&bins](double shown) -> const Outcome& {
    return bins.outcomes[to_size(outcome_of(bins, shown))];
  };
  CHECK(at(29).likelihood[0] > 0);
  CHECK(at(29).likelihood[2] == 0);
  CHECK(at(31).likelihood[0] > 0);
  CHECK(at(31).likelihood[2] > 0);
  CHECK(at(60).likelihood[0] == 0);
  CHECK(at(60).likelihood[2] > 0.5);
  CHECK(at(kOl).likelihood[1] == 1);
  CHECK(at(200).name == "nothing known");
  CHECK(at(-5).name == "nothing known");
  CHECK(at(2000).likelihood[3] > 0.9);
  CHECK(at(32.7).likelihood[0] == Approx(0.025).epsilon(1e-9));  // the upper shoulder
  CHECK(at(29).name == "27.9 to 29.9 ohm");
}

TEST_CASE("bands that nearly agree are one outcome, and no fault is lost by it") {
  std::vector<Band> bands{{kOl, kOl}};
  for (int f = 0; f < 20; ++f) bands.push_back({100 + 0.1 * f, 120 + 0.1 * f});
  bands.push_back({0, 1});
  const Bins bins = bins_of({100, 120}, bands, {}, "V");
  CHECK(bins.outcomes.size() <= 6);
  CHECK(bins.outcomes[to_size(outcome_of(bins, kOl))].likelihood[0] == 1);
  CHECK(bins.outcomes[to_size(outcome_of(bins, 0.5))].likelihood[21] == Approx(1));
  CHECK(bins.outcomes[to_size(outcome_of(bins, 0.5))].likelihood[5] == 0);
  // The middle is one outcome, and the one that each of the twenty gives most often.
  for (std::size_t f = 1; f <= 20; ++f) {
    CHECK(bins.outcomes[to_size(outcome_of(bins, 110))].likelihood[f] > 0.5);
  }
  for (std::size_t f = 0; f < bands.size(); ++f) {
    double sum = 0;
    for (const Outcome& outcome : bins.outcomes) sum += outcome.likelihood[f];
    CHECK(sum == Approx(1).epsilon(1e-12));
  }
}

TEST_CASE("a band of more than a decade is spread by the logarithm") {
  // A leak of 1 to 100 kilohm beside one of 1 to 10: half of the decades are in common.
  const ReadingRule rule{0, 0.1, 0, 1e7, 0, 99};
  const Bins bins = bins_of({kOl, kOl}, {{1e3, 1e5}, {1e3, 1e4}}, rule, "ohm");
  CHECK(bins.outcomes[to_size(outcome_of(bins, 5e3))].likelihood[0] == Approx(.5));
  CHECK(bins.outcomes[to_size(outcome_of(bins, 5e4))].likelihood[0] == Approx(.5));
  CHECK(bins.outcomes[to_size(outcome_of(bins, 5e4))].likelihood[1] == 0);
  CHECK(bins.outcomes[to_size(outcome_of(bins, 5e4))].name == "10.0 k to 100.0 k ohm");
}

}  // namespace kp::find
