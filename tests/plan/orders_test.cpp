#include <doctest/doctest.h>

#include <cstdint>
#include <map>
#include <utility>
#include <vector>

#include "plan/builder.hpp"

// Numbers of removal orders (linear extensions). Sources: OEIS A000111 for the zigzag, A000108
// (Catalan) for the 2 x n grid, the hook length formula for the other grids, A046873 for the
// Boolean lattices (sequence numbers from memory); chains and antichains by elementary counting.
// Counted through the rules' own list of what may be done next.

namespace kp::plan {
namespace {

using Pairs = std::vector<std::pair<int, int>>;

std::int64_t count(const Rules& rules, const State& state,
                   std::map<std::uint64_t, std::int64_t>& known) {
  if (state.removed.count() == rules.parts()) return 1;
  std::uint64_t key = 0;
  state.removed.each([&](int p) { key |= std::uint64_t{1} << static_cast<unsigned>(p); });
  const auto found = known.find(key);
  if (found != known.end()) return found->second;
  std::int64_t orders = 0;
  for (const Action& action : rules.applicable(state, {Kind::remove})) {
    orders += count(rules, rules.apply(state, action), known);
  }
  known[key] = orders;
  return orders;
}

std::int64_t orders(int parts, const Pairs& before) {
  const Result<Rules> rules = Rules::make(test::poset(parts, before));
  REQUIRE(rules.has_value());
  std::map<std::uint64_t, std::int64_t> known;
  return count(rules.value(), State{}, known);
}

Pairs zigzag(int n) {
  Pairs pairs;
  for (int i = 0; i + 1 < n; ++i) pairs.push_back(i % 2 == 0 ? std::pair{i, i + 1} : std::pair{i + 1, i});
  return pairs;
}

Pairs grid(int rows, int columns) {
  Pairs pairs;
  for (int r = 0; r < rows; ++r) {
    for (int c = 0; c < columns; ++c) {
      if (c + 1 < columns) pairs.emplace_back(r * columns + c, r * columns + c + 1);
      if (r + 1 < rows) pairs.emplace_back(r * columns + c, (r + 1) * columns + c);
    }
  }
  return pairs;
}

Pairs lattice(int elements) {
  Pairs pairs;
  for (int set = 0; set < 1 << elements; ++set) {
    for (int e = 0; e < elements; ++e) {
      if ((set >> e & 1) == 0) pairs.emplace_back(set, set | 1 << e);
    }
  }
  return pairs;
}

}  // namespace

TEST_CASE("orders: chains and antichains") {
  CHECK(orders(6, {{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}}) == 1);
  CHECK(orders(6, {}) == 720);
  CHECK(orders(6, {{0, 1}, {1, 2}, {3, 4}, {4, 5}}) == 20);
  CHECK(orders(6, {{0, 1}, {2, 3}, {4, 5}}) == 90);
}

TEST_CASE("orders: the N on four elements and the zigzag") {
  CHECK(orders(4, {{0, 2}, {1, 2}, {1, 3}}) == 5);
  const std::vector<std::int64_t> euler{1, 1, 2, 5, 16, 61, 272, 1385};
  for (int n = 1; n <= 8; ++n) CHECK(orders(n, zigzag(n)) == euler[to_size(n - 1)]);
}

TEST_CASE("orders: grids") {
  const std::vector<std::int64_t> catalan{1, 2, 5, 14, 42, 132};
  for (int n = 1; n <= 6; ++n) CHECK(orders(2 * n, grid(2, n)) == catalan[to_size(n - 1)]);
  CHECK(orders(9, grid(3, 3)) == 42);
  CHECK(orders(12, grid(3, 4)) == 462);
}

TEST_CASE("orders: Boolean lattices") {
  const std::vector<std::int64_t> known{1, 1, 2, 48, 1680384};
  for (int n = 0; n <= 4; ++n) CHECK(orders(1 << n, lattice(n)) == known[to_size(n)]);
}

TEST_CASE("orders: the planner's order is one of them, whatever the shape") {
  for (const auto& [parts, before] : {std::pair{12, grid(3, 4)}, std::pair{16, lattice(4)}}) {
    const Problem problem = test::poset(parts, before);
    Targets all;
    for (int p = 0; p < parts; ++p) all.parts.push_back(p);
    const Plan plan = reach(problem, State{}, all);
    REQUIRE_FALSE(plan.error.has_value());
    std::vector<int> place(to_size(parts), -1);
    for (int i = 0; i < to_int(plan.steps.size()); ++i) place[to_size(plan.steps[to_size(i)].subject)] = i;
    for (const auto& [a, b] : before) CHECK(place[to_size(a)] < place[to_size(b)]);
  }
}

}  // namespace kp::plan
