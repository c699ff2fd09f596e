#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "find/cases.hpp"
#include "find/classic.hpp"

// Figures: worked by hand and by every order from the formulas of Kadane and Simon 1977 (p/c), Mitten
// 1960 (series tests), Shannon 1948 (entropy), Hu and Tucker 1971 (alphabetic trees), Ottosen and
// Jensen (clusters); computed, not printed in those papers, unless a case says so. Item numbers count
// from 1 in the comments, from 0 in the code.

namespace kp::find {
namespace {

using doctest::Approx;

constexpr AdviseOptions exact{1'000'000, 0, {}};

std::vector<Attempt> attempts(const std::vector<double>& p, const std::vector<double>& c) {
  std::vector<Attempt> out;
  for (std::size_t i = 0; i < p.size(); ++i) out.push_back({p[i], c[i]});
  return out;
}

const std::vector<double> kP1{.50, .30, .15, .05};
const std::vector<double> kC1{12, 3, 2, 1};

/// The advice followed where every repair is in vain: the order in which it takes the repairs.
std::vector<int> followed(const Problem& problem) {
  std::vector<Evidence> evidence;
  std::vector<int> order;
  while (true) {
    const Advice advice = advise(problem, evidence, exact);
    if (advice.move != Move::repair) return order;
    order.push_back(advice.index);
    if (order.size() == problem.repairs.size()) return order;
    evidence.push_back(failed(advice.index));
  }
}

}  // namespace

TEST_CASE("D1: four repairs by falling p/c, computed over all 24 orders") {
  const std::vector<Attempt> list = attempts(kP1, kC1);
  CHECK(list[0].p / list[0].seconds == Approx(.0417).epsilon(0.002));
  CHECK(list[1].p / list[1].seconds == Approx(.1));
  CHECK(list[2].p / list[2].seconds == Approx(.075));
  CHECK(list[3].p / list[3].seconds == Approx(.05));
  const std::vector<int> best = ratio_order(list);
  CHECK(best == std::vector<int>{1, 2, 3, 0});
  CHECK(expected_of(list, best) == Approx(10.95).epsilon(1e-9));
  CHECK(expected_of(list, {0, 1, 2, 3}) == Approx(13.95).epsilon(1e-9));  // by p
  CHECK(expected_of(list, {3, 2, 1, 0}) == Approx(11.30).epsilon(1e-9));  // by c
  std::vector<int> order{0, 1, 2, 3};
  double worst = 0;
  int orders = 0;
  do {
    worst = std::max(worst, expected_of(list, order));
    CHECK(expected_of(list, order) >= 10.95 - 1e-9);
    ++orders;
  } while (std::next_permutation(order.begin(), order.end()));
  CHECK(orders == 24);
  CHECK(worst == Approx(14.30).epsilon(1e-9));

  const Problem problem = test::repairs_only(kP1, kC1);
  const Advice advice = advise(problem, {}, exact);
  CHECK(advice.proved);
  CHECK(advice.expected_seconds == Approx(10.95).epsilon(1e-9));
  CHECK(followed(problem) == std::vector<int>{1, 2, 3, 0});
}

TEST_CASE("D2: a tie of items 1 and 3") {
  const std::vector<Attempt> list = attempts({.5, .3, .2}, {10, 3, 4});
  CHECK(expected_of(list, {1, 0, 2}) == Approx(10.8).epsilon(1e-9));
  CHECK(expected_of(list, {1, 2, 0}) == Approx(10.8).epsilon(1e-9));
  std::vector<double> others{expected_of(list, {0, 1, 2}), expected_of(list, {0, 2, 1}),
                             expected_of(list, {2, 0, 1}), expected_of(list, {2, 1, 0})};
  std::sort(others.begin(), others.end());
  CHECK(others[0] == Approx(11.4).epsilon(1e-9));
  CHECK(others[1] == Approx(12.3).epsilon(1e-9));
  CHECK(others[2] == Approx(12.9).epsilon(1e-9));
  CHECK(others[3] == Approx(12.9).epsilon(1e-9));
  CHECK(ratio_order(list) == std::vector<int>{1, 0, 2});  // the tie goes to the lower index
  const Advice advice = advise(test::repairs_only({.5, .3, .2}, {10, 3, 4}), {}, exact);
  CHECK(advice.proved);
  CHECK(advice.expected_seconds == Approx(10.8).epsilon(1e-9));
  CHECK(advice.index == 1);
}

TEST_CASE("D4: where only telling apart counts, p/c begins wrongly") {
  const std::vector<Attempt> list = attempts({.1, .1, .8}, {1, 1, 7});
  const std::vector<int> by_ratio = ratio_order(list);
  CHECK(by_ratio.front() == 2);
  CHECK(expected_of(list, by_ratio, false) == Approx(7.2).epsilon(1e-9));
  CHECK(expected_of(list, {0, 1, 2}, false) == Approx(1.9).epsilon(1e-9));
  Problem problem = test::identify_only({.1, .1, .8});
  problem.tests = {test::in_set(problem, {1}, 1), test::in_set(problem, {2}, 1),
                   test::in_set(problem, {3}, 7)};
  const Advice advice = advise(problem, {}, exact);
  CHECK(advice.proved);
  CHECK(advice.move == Move::test);
  CHECK(advice.index == 0);
  CHECK(advice.expected_seconds == Approx(1.9).epsilon(1e-9));
}

TEST_CASE("D5: what a negative first test leaves of D1") {
  Problem problem = test::repairs_only(kP1, kC1);
  problem.tests = {test::in_set(problem, {2}, 3)};
  for (const std::vector<Evidence>& evidence :
       {std::vector<Evidence>{answered(0, 0)}, std::vector<Evidence>{failed(1)}}) {
    const Belief belief = believe(problem, evidence);
    CHECK(belief.fit == Fit::fits);
    CHECK(belief.fault[0] == Approx(.714286).epsilon(1e-6));
    CHECK(belief.fault[1] == 0);
    CHECK(belief.fault[2] == Approx(.214286).epsilon(1e-5));
    CHECK(belief.fault[3] == Approx(.071429).epsilon(1e-5));
  }
}

TEST_CASE("D7: a series system is tested by rising c/(1-q)") {
  const std::vector<Link> links{{.9, 1}, {.8, 3}, {.6, 5}};
  CHECK(links[0].seconds / (1 - links[0].works) == Approx(10));
  CHECK(links[1].seconds / (1 - links[1].works) == Approx(15));
  CHECK(links[2].seconds / (1 - links[2].works) == Approx(12.5));
  CHECK(series_order(links) == std::vector<int>{0, 2, 1});
  CHECK(series_cost(links, {0, 2, 1}) == Approx(7.12).epsilon(1e-9));
  CHECK(series_cost(links, {0, 1, 2}) == Approx(7.30).epsilon(1e-9));
}

TEST_CASE("D8: independent fixes by rising c/p") {
  const std::vector<Attempt> list = attempts({.5, .3, .9}, {2, 1, 6});
  CHECK(list[1].seconds / list[1].p == Approx(3.33).epsilon(0.005));
  CHECK(list[2].seconds / list[2].p == Approx(6.67).epsilon(0.005));
  CHECK(fix_order(list) == std::vector<int>{1, 0, 2});
  CHECK(fix_cost(list, {1, 0, 2}) == Approx(4.50).epsilon(1e-9));
  std::vector<int> order{0, 1, 2};
  do {
    CHECK(fix_cost(list, order) >= 4.50 - 1e-9);
  } while (std::next_permutation(order.begin(), order.end()));
}

TEST_CASE("D9: half-splitting n equally likely links with cuts of one second") {
  struct Row { int n; double expected; };
  for (const Row& row : {Row{2, 1}, Row{3, 5.0 / 3}, Row{4, 2}, Row{5, 2.4}, Row{6, 8.0 / 3},
                         Row{7, 20.0 / 7}, Row{8, 3}, Row{10, 3.4}, Row{16, 4}}) {
    CAPTURE(row.n);
    const std::vector<double> p(to_size(row.n), 1.0 / row.n);
    const double cost = half_split(p, std::vector<double>(to_size(row.n - 1), 1.0)).expected;
    CHECK(cost == Approx(row.expected).epsilon(1e-9));
    const double whole = std::floor(std::log2(static_cast<double>(row.n)));
    CHECK(cost == Approx(whole + 2 - std::exp2(whole + 1) / row.n).epsilon(1e-9));
    if (row.n > 8) continue;
    Problem problem = test::identify_only(p);
    for (int cut = 1; cut < row.n; ++cut) {
      std::vector<int> before(to_size(cut));
      std::iota(before.begin(), before.end(), 1);
      problem.tests.push_back(test::in_set(problem, before, 1));
    }
    const Advice advice = advise(problem, {}, exact);
    CHECK(advice.proved);
    CHECK(advice.expected_seconds == Approx(row.expected).epsilon(1e-9));
  }
}

TEST_CASE("D10: an ordered string .1 .2 .3 .4 with cuts of one second") {
  const Splitting split = half_split({.1, .2, .3, .4}, {1, 1, 1});
  CHECK(split.expected == Approx(1.9).epsilon(1e-9));
  Problem problem = test::identify_only({.1, .2, .3, .4});
  problem.tests = {test::in_set(problem, {1}, 1), test::in_set(problem, {1, 2}, 1),
                   test::in_set(problem, {1, 2, 3}, 1)};
  CHECK(advise(problem, {}, exact).expected_seconds == Approx(1.9).epsilon(1e-9));
}

TEST_CASE("D12 and D15: five faults and six set tests, computed over all subsets") {
  const std::vector<double> p{.35, .25, .20, .12, .08};
  Problem problem = test::identify_only(p);
  problem.tests = {test::in_set(problem, {1}, 6), test::in_set(problem, {2}, 5),
                   test::in_set(problem, {3}, 4), test::in_set(problem, {4}, 2),
                   test::in_set(problem, {1, 2}, 3), test::in_set(problem, {5}, 8)};
  const Advice advice = advise(problem, {}, exact);
  CHECK(advice.proved);
  CHECK(advice.expected_seconds == Approx(7.92).epsilon(1e-9));
  CHECK(advice.move == Move::test);
  CHECK(advice.index == 4);
  CHECK(advice.entropy_bits == Approx(2.153062).epsilon(1e-6));
  CHECK(advice.gain_bits == Approx(0.970951).epsilon(1e-6));
  CHECK(advice.gain_bits / advice.own_seconds == Approx(0.323650).epsilon(1e-5));
  CHECK(entropy_bits(p) == Approx(2.153062).epsilon(1e-6));
  CHECK(split_gain_bits(p, {true, true, false, false, false}) == Approx(0.970951).epsilon(1e-6));

  const Advice left = advise(problem, {answered(4, 1)}, exact);
  CHECK(left.index == 1);
  CHECK(left.expected_seconds == Approx(5.0).epsilon(1e-9));
  const Advice right = advise(problem, {answered(4, 0)}, exact);
  CHECK(right.index == 3);
  CHECK(right.expected_seconds == Approx(4.8).epsilon(1e-9));
}

TEST_CASE("D13: a noisy test, prior .3, sensitivity .95, specificity .90") {
  const Posterior posterior = noisy_test(.3, .95, .90);
  CHECK(posterior.positive == Approx(.802817).epsilon(1e-6));
  CHECK(posterior.negative == Approx(.023256).epsilon(1e-4));
  Problem problem = test::repairs_only({.3, .7}, {1, 1});
  Test noisy{"noisy", 1, 0, {{"negative", {.05, .90}, .90}, {"positive", {.95, .10}, .10}}, {}};
  problem.tests = {noisy};
  CHECK(believe(problem, {answered(0, 1)}).fault[0] == Approx(posterior.positive).epsilon(1e-9));
  CHECK(believe(problem, {answered(0, 0)}).fault[0] == Approx(posterior.negative).epsilon(1e-9));
}

TEST_CASE("D14: entropy of .5 .3 .15 .05") {
  CHECK(entropy_bits(kP1) == Approx(1.647731).epsilon(1e-6));
  CHECK(advise(test::repairs_only(kP1, kC1), {}, exact).entropy_bits == Approx(1.647731).epsilon(1e-6));
}

TEST_CASE("D16: two suspects, and what it is worth to know") {
  // Decisions: A first, B first; states: A, B.
  const std::vector<std::vector<double>> cost{{80, 130}, {130, 50}};
  const Information all = perfect_information({.4, .6}, cost);
  CHECK(.4 * cost[0][0] + .6 * cost[0][1] == Approx(110));
  CHECK(all.now == Approx(82).epsilon(1e-9));
  CHECK(all.informed == Approx(62).epsilon(1e-9));
  CHECK(all.value == Approx(20).epsilon(1e-9));
  Problem problem = test::repairs_only({.4, .6}, {80, 50});
  const Advice blind = advise(problem, {}, exact);
  CHECK(blind.index == 1);
  CHECK(blind.expected_seconds == Approx(82).epsilon(1e-9));
  // A sure test for 19 is worth its cost, one for 21 is not.
  problem.tests = {test::in_set(problem, {1}, 19)};
  CHECK(advise(problem, {}, exact).move == Move::test);
  CHECK(advise(problem, {}, exact).expected_seconds == Approx(62 + 19).epsilon(1e-9));
  problem.tests = {test::in_set(problem, {1}, 21)};
  CHECK(advise(problem, {}, exact).move == Move::repair);
}

TEST_CASE("D18: two of four behind a panel that costs 6 once, computed over all 24 orders") {
  const std::vector<Attempt> list = attempts({.3, .4, .2, .1}, {3, 2, 2, 4});
  const std::vector<int> group{-1, 0, 0, -1};
  const std::vector<double> entry{6};
  CHECK(cluster_order(list, group, entry) == std::vector<int>{0, 1, 2, 3});
  CHECK(expected_of(list, {0, 1, 2, 3}, group, entry) == Approx(9.6).epsilon(1e-9));
  CHECK(ratio_order(list) == std::vector<int>{1, 0, 2, 3});
  // Plain p/c order of the table is 2,3,1,4: items 1 and 3 tie at .1.
  CHECK(expected_of(list, {1, 2, 0, 3}, group, entry) == Approx(10.8).epsilon(1e-9));
  std::vector<int> order{0, 1, 2, 3};
  double worst = 0;
  do {
    const double cost = expected_of(list, order, group, entry);
    CHECK(cost >= 9.6 - 1e-9);
    worst = std::max(worst, cost);
  } while (std::next_permutation(order.begin(), order.end()));
  CHECK(worst == Approx(14.1).epsilon(1e-9));

  // The same as standings: closed 0, panel off 1; the way back costs nothing once it is off.
  Problem problem = test::repairs_only({.3, .4, .2, .1}, {3, 2, 2, 4});
  problem.moves = {{0, 6}, {0, 0}};
  problem.repairs[1].standing = 1;
  problem.repairs[2].standing = 1;
  // Closing again is never needed here: outside items are done as well with the panel off.
  const Advice advice = advise(problem, {}, exact);
  CHECK(advice.proved);
  CHECK(advice.index == 0);
  CHECK(advice.expected_seconds == Approx(9.6).epsilon(1e-9));
}

}  // namespace kp::find
