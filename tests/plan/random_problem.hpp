#pragma once

#include <algorithm>
#include <vector>

#include "base/text.hpp"
#include "plan/plan.hpp"
#include "support/random.hpp"

namespace kp::test {

struct RandomShape {
  int parts = 4;
  int joints = 5;
  int positions = 3;
  int tools = 3;
  int forbidden = 0;  ///< so many at most; with any, turns may want parts away too
};

/// Units with carriers, alternatives, changes of position that need joints released, and costs
/// that differ by direction. Covers mostly point one way, so that most problems can be solved.
class RandomProblem {
 public:
  RandomProblem(Random& random, RandomShape shape) : r_(random), shape_(shape) {}

  plan::Problem make() {
    plan::Problem p;
    p.positions.resize(to_size(shape_.positions));
    p.first_tool_free = r_.chance(0.5);
    p.home = r_.chance(0.8) ? 0 : r_.between(0, shape_.positions - 1);
    for (int t = 0; t < shape_.tools; ++t) p.tools.push_back(plan::Tool{"", r_.between(0, 9)});
    for (int i = 0; i < shape_.parts; ++i) p.parts.push_back(part(i));
    for (int j = 0; j < shape_.joints; ++j) {
      p.joints.push_back(joint());
      if (j > 0 && r_.chance(0.15)) p.joints.back().needs_released.push_back(r_.between(0, j - 1));
    }
    for (int a = 0; a < shape_.positions; ++a) {
      for (int b = 0; b < shape_.positions; ++b) turns(p, a, b);
    }
    if (shape_.forbidden > 0) forbid(p);
    return p;
  }

  /// A state that hands can bring about from home, by opening and closing in any order.
  plan::State walk(const plan::Rules& rules, int steps) {
    plan::State state;
    state.position = rules.home();
    for (int i = 0; i < steps; ++i) {
      using plan::Kind;
      std::vector<plan::Action> all = rules.applicable(state, {Kind::release, Kind::remove});
      if (r_.chance(0.3)) all = rules.applicable(state, {Kind::fasten, Kind::set});
      if (all.empty() || r_.chance(0.3)) all = rules.applicable(state, {Kind::turn, Kind::take_tool});
      if (all.empty()) continue;
      state = rules.apply(state, all[to_size(r_.between(0, to_int(all.size()) - 1))]);
    }
    return state;
  }

  plan::Targets targets() {
    plan::Targets t;
    t.parts.push_back(r_.between(0, shape_.parts - 1));
    if (r_.chance(0.3)) t.parts.push_back(r_.between(0, shape_.parts - 1));
    if (r_.chance(0.3)) {
      t.points.push_back(plan::Point{r_.between(-1, shape_.parts - 1), access(shape_.parts)});
      if (r_.chance(0.5)) t.parts.clear();
    }
    if (r_.chance(0.2)) t.positions = places();
    return t;
  }

 private:
  std::vector<int> places() {
    std::vector<int> list;
    if (r_.chance(0.4)) return list;
    list.push_back(r_.between(0, shape_.positions - 1));
    if (r_.chance(0.3)) list.push_back(r_.between(0, shape_.positions - 1));
    return list;
  }

  plan::Access access(int below) {
    plan::Access ways;
    const int most = r_.chance(0.8) ? below : shape_.parts;
    if (most == 0 || r_.chance(0.35)) return ways;
    const int count = r_.chance(0.6) ? 1 : r_.between(2, 3);
    for (int k = 0; k < count; ++k) {
      plan::Way way;
      const int size = r_.between(1, 2);
      for (int n = 0; n < size; ++n) way.parts.push_back(r_.between(0, most - 1));
      if (r_.chance(0.3)) way.positions = places();
      ways.push_back(way);
    }
    return ways;
  }

  int tool() { return r_.chance(0.25) ? -1 : r_.between(0, shape_.tools - 1); }

  plan::Part part(int i) {
    plan::Part part;
    part.inside = i > 0 && r_.chance(0.3) ? r_.between(0, i - 1) : -1;
    part.removable = r_.chance(0.95);
    part.tool = r_.chance(0.7) ? -1 : tool();
    part.cost_ms = r_.between(0, 6);
    part.positions = places();
    part.behind = access(i);
    return part;
  }

  plan::Joint joint() {
    plan::Joint joint;
    const int a = r_.between(0, shape_.parts - 1);
    joint.parts.push_back(a);
    const int b = r_.between(0, shape_.parts - 1);
    if (b != a && r_.chance(0.6)) joint.parts.push_back(b);
    joint.tool = tool();
    joint.cost_ms = r_.between(0, 6);
    joint.positions = places();
    joint.behind = access(std::min(a, b));
    return joint;
  }

  void turns(plan::Problem& p, int a, int b) {
    if (a == b || r_.chance(0.15)) return;
    const int ways = r_.chance(0.15) ? 2 : 1;
    for (int k = 0; k < ways; ++k) {
      plan::Turn turn{a, b, r_.between(0, 20), {}};
      if (shape_.joints > 0 && r_.chance(0.3)) turn.needs_released.push_back(r_.between(0, shape_.joints - 1));
      p.turns.push_back(turn);
    }
  }

  void forbid(plan::Problem& p) {
    for (int k = r_.between(1, shape_.forbidden); k > 0; --k) {
      plan::Forbidden one;
      // A state that is forbidden everywhere bars most plans: it is the rarer case.
      if (r_.chance(0.9)) one.positions.push_back(r_.between(0, shape_.positions - 1));
      if (r_.chance(0.2)) one.positions.push_back(r_.between(0, shape_.positions - 1));
      one.joints.push_back(r_.between(0, shape_.joints - 1));
      if (r_.chance(0.8)) one.joints.push_back(r_.between(0, shape_.joints - 1));
      if (r_.chance(0.2)) one.joints.push_back(r_.between(0, shape_.joints - 1));
      p.forbidden.push_back(one);
    }
    for (plan::Turn& turn : p.turns) {
      if (r_.chance(0.1)) turn.needs_removed.push_back(r_.between(0, shape_.parts - 1));
      if (r_.chance(0.05)) turn.needs_removed.push_back(r_.between(0, shape_.parts - 1));
    }
  }

  Random& r_;
  RandomShape shape_;
};

}  // namespace kp::test
