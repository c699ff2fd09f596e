#pragma once

#include <initializer_list>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "plan/plan.hpp"

namespace kp::test {

/// `count` parts that come away by hand in one position, each pair (a, b): a before b.
[[nodiscard]] inline plan::Problem poset(int count, const std::vector<std::pair<int, int>>& before) {
  plan::Problem problem;
  problem.positions.resize(1);
  problem.parts.resize(to_size(count));
  for (const auto& [a, b] : before) {
    plan::Access& behind = problem.parts[to_size(b)].behind;
    if (behind.empty()) behind.resize(1);
    behind[0].parts.push_back(a);
  }
  return problem;
}

/// The state after all steps of a plan, by the rules.
[[nodiscard]] inline plan::State after(const plan::Rules& rules, plan::State state,
                                       const plan::Plan& plan) {
  for (const plan::Step& step : plan.steps) {
    state = rules.apply(state, plan::Action{step.kind, step.subject});
  }
  return state;
}

}  // namespace kp::test
