#include <doctest/doctest.h>

#include <vector>

#include "find/cases.hpp"
#include "find/classic.hpp"

// The search against the oracle that plays every policy, and laws that hold for any problem.

namespace kp::find {
namespace {

using doctest::Approx;
constexpr AdviseOptions exact{1'000'000, 0, {}};

}  // namespace

TEST_CASE("small random problems: the search finds what playing every policy finds") {
  std::vector<std::uint64_t> seeds{16928, 17894};  // where a bound was once too high
  for (std::uint64_t seed = 1; seed <= 400; ++seed) seeds.push_back(seed);
  for (const std::uint64_t seed : seeds) {
    test::Random random(seed);
    const Problem problem = test::random_small(random);
    CAPTURE(random.seed());
    CHECK(check(problem).faults() == 0);
    const double best = test::Everything{problem}.best();
    const Advice advice = advise(problem, {}, exact);
    CHECK(advice.proved);
    CHECK(advice.expected_seconds == Approx(best).epsilon(1e-6));
    CHECK(advice.test_seconds + advice.change_seconds + advice.repair_seconds +
              advice.part_seconds == Approx(advice.expected_seconds).epsilon(1e-6));
    // Cut short, the bounds still hold the optimum between them.
    for (const std::uint64_t openings : {0U, 1U, 3U, 10U}) {
      const Advice cut = advise(problem, {}, {openings, 0, {}});
      CHECK(cut.lower_bound_seconds <= best + 1e-6);
      CHECK(cut.expected_seconds >= best - 1e-6);
    }
  }
}

TEST_CASE("telling apart: the search finds what playing every policy finds") {
  for (std::uint64_t seed = 1; seed <= 150; ++seed) {
    test::Random random(seed);
    std::vector<double> p;
    const int faults = random.between(2, 5);
    for (int f = 0; f < faults; ++f) p.push_back(0.05 + random.unit());
    Problem problem = test::identify_only(p);
    for (int f = 1; f < faults; ++f) {
      problem.tests.push_back(test::in_set(problem, {f}, random.between(1, 9)));
    }
    if (faults > 3) problem.tests.push_back(test::in_set(problem, {1, 2}, random.between(1, 9)));
    CAPTURE(random.seed());
    const Advice advice = advise(problem, {}, exact);
    CHECK(advice.proved);
    CHECK(advice.expected_seconds == Approx(test::Everything{problem}.best()).epsilon(1e-6));
  }
}

TEST_CASE("posteriors sum to 1, and more test cost never lowers the expected cost") {
  for (std::uint64_t seed = 1000; seed < 1150; ++seed) {
    test::Random random(seed);
    Problem problem = test::random_small(random);
    CAPTURE(random.seed());
    const int t = random.between(0, to_int(problem.tests.size()) - 1);
    const Belief belief = believe(problem, {answered(t, random.between(0, 2))});
    double sum = 0;
    for (const Hypothesis& h : belief.hypotheses) sum += h.p;
    CHECK(sum == Approx(1).epsilon(1e-12));
    const double before = advise(problem, {}, exact).expected_seconds;
    problem.tests[to_size(t)].seconds += random.between(1, 20);
    CHECK(advise(problem, {}, exact).expected_seconds >= before - 1e-6);
  }
}

TEST_CASE("p/c order is no worse than any swap of neighbours") {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    test::Random random(seed);
    std::vector<Attempt> list;
    double sum = 0;
    for (int i = 0; i < 7; ++i) list.push_back({0.01 + random.unit(), 1.0 + random.between(0, 30)});
    for (const Attempt& attempt : list) sum += attempt.p;
    for (Attempt& attempt : list) attempt.p /= sum;
    CAPTURE(random.seed());
    const std::vector<int> order = ratio_order(list);
    for (std::size_t i = 0; i + 1 < order.size(); ++i) {
      std::vector<int> swapped = order;
      std::swap(swapped[i], swapped[i + 1]);
      CHECK(expected_of(list, order) <= expected_of(list, swapped) + 1e-9);
    }
  }
}

TEST_CASE("knowing all is worth at least what any test is worth, and no test is worth less than nothing") {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    test::Random random(seed);
    CAPTURE(random.seed());
    const int states = random.between(2, 5);
    std::vector<double> p;
    double sum = 0;
    for (int s = 0; s < states; ++s) p.push_back(0.01 + random.unit());
    for (const double x : p) sum += x;
    for (double& x : p) x /= sum;
    std::vector<std::vector<double>> cost;
    for (int d = 0; d < 3; ++d) {
      cost.emplace_back();
      for (int s = 0; s < states; ++s) cost.back().push_back(random.between(0, 100));
    }
    std::vector<std::vector<double>> likelihood(2);
    for (int s = 0; s < states; ++s) {
      const double yes = random.unit();
      likelihood[0].push_back(yes);
      likelihood[1].push_back(1 - yes);
    }
    const double all = perfect_information(p, cost).value;
    const double some = test_information(p, cost, likelihood).value;
    CHECK(all >= some - 1e-9);
    CHECK(some >= -1e-9);
  }
}

TEST_CASE("behind covers, the blocks of Ottosen and Jensen are no worse than any order") {
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    test::Random random(seed);
    CAPTURE(random.seed());
    std::vector<Attempt> list;
    std::vector<int> group;
    double sum = 0;
    for (int i = 0; i < 6; ++i) {
      list.push_back({0.01 + random.unit(), 1.0 + random.between(0, 9)});
      group.push_back(random.between(-1, 1));
      sum += list.back().p;
    }
    for (Attempt& attempt : list) attempt.p /= sum;
    const std::vector<double> entry{1.0 * random.between(0, 20), 1.0 * random.between(0, 20)};
    const double ours = expected_of(list, cluster_order(list, group, entry), group, entry);
    std::vector<int> order{0, 1, 2, 3, 4, 5};
    double best = ours;
    do {
      best = std::min(best, expected_of(list, order, group, entry));
    } while (std::next_permutation(order.begin(), order.end()));
    CHECK(ours == Approx(best).epsilon(1e-9));
  }
}

}  // namespace kp::find
