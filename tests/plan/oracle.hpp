#pragma once
// A second, slow and plain reading of the same rules, written against the words of
// plan/problem.hpp and not against the engine: states one by one, cheapest first (Dijkstra 1959).
// It serves as the measure for the engine on problems that are small enough.

#include <cstdint>
#include <functional>
#include <optional>
#include <queue>
#include <tuple>
#include <unordered_map>
#include <vector>

#include "base/text.hpp"
#include "plan/plan.hpp"
#include "support/random.hpp"

namespace kp::test {

/// Time first, then the number of tools taken.
using OracleCost = std::pair<std::int64_t, int>;

struct OracleState {
  std::uint32_t loose = 0;  ///< bit j: joint j released
  std::uint32_t off = 0;    ///< bit p: part p removed
  int position = 0;
  int tool = -1;
  [[nodiscard]] std::uint64_t code() const {
    return (static_cast<std::uint64_t>(loose) << 40U) | (static_cast<std::uint64_t>(off) << 16U) |
           static_cast<std::uint64_t>(position * 64 + tool + 1);
  }
};

class Oracle {
 public:
  explicit Oracle(const plan::Problem& problem) : p_(problem) {}

  struct Moves {
    bool open = true;
    bool close = false;
  };

  [[nodiscard]] std::optional<OracleCost> reach(const plan::State& from,
                                                const plan::Targets& targets) const {
    return cheapest(from, Moves{true, false},
                    [&](const OracleState& s) { return reached(s, targets); });
  }
  /// Without opening anything, and, only where that leads nowhere, with.
  [[nodiscard]] std::optional<OracleCost> refit(const plan::State& from) const {
    const auto home = [&](const OracleState& s) {
      return s.loose == 0 && s.off == 0 && s.position == p_.home;
    };
    const auto direct = cheapest(from, Moves{false, true}, home);
    return direct ? direct : cheapest(from, Moves{true, true}, home);
  }
  [[nodiscard]] bool needs_reopening(const plan::State& from) const {
    return !cheapest(from, Moves{false, true}, [&](const OracleState& s) {
      return s.loose == 0 && s.off == 0 && s.position == p_.home;
    });
  }

  /// The unit is where it must not be. Only as it was found it may be so.
  [[nodiscard]] bool forbidden(const OracleState& s) const {
    for (const plan::Forbidden& one : p_.forbidden) {
      bool all = one.positions.empty() || has(one.positions, s.position);
      for (const int j : one.joints) all = all && (s.loose >> j & 1U) != 0;
      if (all) return true;
    }
    return false;
  }

  /// Replays a plan; empty when every step was allowed and did what the plan says, otherwise the
  /// complaint.
  [[nodiscard]] std::string complaint(const plan::State& from, const plan::Plan& plan,
                                      OracleState* end = nullptr) const {
    OracleState s = state(from);
    std::int64_t total = 0;
    for (int i = 0; i < to_int(plan.steps.size()); ++i) {
      const plan::Step& step = plan.steps[to_size(i)];
      const std::optional<Next> next = play(s, step);
      if (!next) return cat("step ", i, " is not allowed");
      if (next->cost != step.cost_ms) return cat("step ", i, " has a wrong cost");
      s = next->state;
      if (s.position != step.position || s.tool != step.tool) return cat("step ", i, " ends elsewhere");
      for (const int need : step.needs) {
        if (need < 0 || need >= i) return cat("step ", i, " needs a later step");
      }
      total += step.cost_ms;
    }
    if (end != nullptr) *end = s;
    return total == plan.cost_ms ? "" : "the sum is wrong";
  }

  /// The reasons of a step are enough: the step can be done when only the steps it needs, and
  /// those that these need, were done.
  [[nodiscard]] std::string lacking_reason(const plan::State& from, const plan::Plan& plan) const {
    for (int i = 0; i < to_int(plan.steps.size()); ++i) {
      std::vector<bool> in(plan.steps.size(), false);
      in[to_size(i)] = true;
      for (int k = i; k >= 0; --k) {
        if (!in[to_size(k)]) continue;
        for (const int need : plan.steps[to_size(k)].needs) in[to_size(need)] = true;
      }
      OracleState s = state(from);
      for (int k = 0; k <= i; ++k) {
        const plan::Step& step = plan.steps[to_size(k)];
        // The tool may be in the hand already when the step that took another was left out.
        const bool held = step.kind == plan::Kind::take_tool && step.subject == s.tool;
        if (!in[to_size(k)] || held) continue;
        const std::optional<Next> next = play(s, step);
        if (!next) return cat("step ", k, " is not allowed with the reasons of step ", i, " alone");
        s = next->state;
      }
    }
    return "";
  }

  [[nodiscard]] bool reached(const OracleState& s, const plan::Targets& targets) const {
    for (const int part : targets.parts) {
      if ((s.off >> part & 1U) == 0) return false;
    }
    for (const plan::Point& point : targets.points) {
      std::vector<int> with;
      if (point.on >= 0) with = chain(point.on);
      if (!clear(s, point.behind, with)) return false;
    }
    if (targets.positions.empty()) return true;
    for (const int position : targets.positions) {
      if (position == s.position) return true;
    }
    return false;
  }

  [[nodiscard]] static OracleState state(const plan::State& from) {
    OracleState s;
    from.released.each([&](int j) { s.loose |= std::uint32_t{1} << j; });
    from.removed.each([&](int p) { s.off |= std::uint32_t{1} << p; });
    s.position = from.position;
    s.tool = from.tool;
    return s;
  }

 private:
  struct Next {
    OracleState state;
    std::int64_t cost = 0;
  };

  [[nodiscard]] std::optional<Next> unless_forbidden(const Next& next) const {
    if (forbidden(next.state)) return std::nullopt;
    return next;
  }

  /// The part, then what carries it, outwards.
  [[nodiscard]] std::vector<int> chain(int part) const {
    std::vector<int> all;
    for (int p = part; p >= 0; p = p_.parts[to_size(p)].inside) all.push_back(p);
    return all;
  }
  static bool has(const std::vector<int>& list, int value) {
    for (const int v : list) {
      if (v == value) return true;
    }
    return false;
  }
  [[nodiscard]] bool inside_or_is(int part, int carrier) const { return has(chain(part), carrier); }

  /// Away: taken off itself, or gone with a carrier that does not carry the covered thing too.
  [[nodiscard]] bool away(const OracleState& s, int part, const std::vector<int>& with) const {
    if ((s.off >> part & 1U) != 0) return true;
    for (const int carrier : chain(part)) {
      if (carrier != part && (s.off >> carrier & 1U) != 0 && !has(with, carrier)) return true;
    }
    return false;
  }
  [[nodiscard]] bool clear(const OracleState& s, const plan::Access& behind,
                           const std::vector<int>& with) const {
    if (behind.empty()) return true;
    for (const plan::Way& way : behind) {
      bool all = way.positions.empty() || has(way.positions, s.position);
      for (const int part : way.parts) all = all && away(s, part, with);
      if (all) return true;
    }
    return false;
  }
  /// What carries a joint as a whole.
  [[nodiscard]] std::vector<int> joint_carriers(const plan::Joint& joint) const {
    std::vector<int> with;
    for (int c = 0; c < to_int(p_.parts.size()); ++c) {
      if (joint.parts.size() == 1 && c != joint.parts[0] && inside_or_is(joint.parts[0], c)) with.push_back(c);
      if (joint.parts.size() == 2 && inside_or_is(joint.parts[0], c) && inside_or_is(joint.parts[1], c)) {
        with.push_back(c);
      }
    }
    return with;
  }
  /// Whether the joint ties the part, with its contents, to something else.
  [[nodiscard]] bool ties(const plan::Joint& joint, int part) const {
    if (joint.parts.empty()) return false;
    const bool a = inside_or_is(joint.parts[0], part);
    if (joint.parts.size() == 2) return a != inside_or_is(joint.parts[1], part);
    const int carrier = p_.parts[to_size(joint.parts[0])].inside;
    return a && (carrier < 0 || !inside_or_is(carrier, part));
  }
  [[nodiscard]] bool at(const OracleState& s, const std::vector<int>& positions, int tool) const {
    return (positions.empty() || has(positions, s.position)) && (tool == -1 || tool == s.tool);
  }

  [[nodiscard]] std::optional<Next> joint_step(const OracleState& s, int j, bool open) const {
    const plan::Joint& joint = p_.joints[to_size(j)];
    const std::uint32_t bit = std::uint32_t{1} << j;
    if (((s.loose & bit) == 0) != open) return std::nullopt;
    if (!at(s, joint.positions, joint.tool)) return std::nullopt;
    if (!clear(s, joint.behind, joint_carriers(joint))) return std::nullopt;
    for (const int other : joint.needs_released) {
      if (other == j || (s.loose >> other & 1U) == 0) return std::nullopt;
    }
    if (!open) {
      for (int p = 0; p < to_int(p_.parts.size()); ++p) {
        if ((s.off >> p & 1U) != 0 && ties(joint, p)) return std::nullopt;
      }
    }
    Next next{s, joint.cost_ms};
    next.state.loose ^= bit;
    return unless_forbidden(next);
  }
  [[nodiscard]] std::optional<Next> part_step(const OracleState& s, int p, bool open) const {
    const plan::Part& part = p_.parts[to_size(p)];
    const std::uint32_t bit = std::uint32_t{1} << p;
    if (!part.removable || ((s.off & bit) == 0) != open) return std::nullopt;
    if (!at(s, part.positions, part.tool)) return std::nullopt;
    OracleState without = s;
    without.off &= ~bit;
    if (!clear(without, part.behind, chain(p))) return std::nullopt;
    for (int j = 0; j < to_int(p_.joints.size()); ++j) {
      if (ties(p_.joints[to_size(j)], p) && (s.loose >> j & 1U) == 0) return std::nullopt;
    }
    Next next{s, part.cost_ms};
    next.state.off ^= bit;
    return unless_forbidden(next);
  }
  [[nodiscard]] std::optional<Next> turn_step(const OracleState& s, int t) const {
    const plan::Turn& turn = p_.turns[to_size(t)];
    if (turn.from != s.position) return std::nullopt;
    for (const int j : turn.needs_released) {
      if ((s.loose >> j & 1U) == 0) return std::nullopt;
    }
    for (const int part : turn.needs_removed) {
      if (!away(s, part, {})) return std::nullopt;
    }
    Next next{s, turn.cost_ms};
    next.state.position = turn.to;
    return unless_forbidden(next);
  }
  [[nodiscard]] std::optional<Next> take_step(const OracleState& s, int tool) const {
    if (s.tool == tool) return std::nullopt;
    const bool free = s.tool == -1 && p_.first_tool_free;
    Next next{s, free ? 0 : p_.tools[to_size(tool)].take_ms};
    next.state.tool = tool;
    return next;
  }
  [[nodiscard]] std::optional<Next> play(const OracleState& s, const plan::Step& step) const {
    switch (step.kind) {
      case plan::Kind::turn: return turn_step(s, step.subject);
      case plan::Kind::take_tool: return take_step(s, step.subject);
      case plan::Kind::release: return joint_step(s, step.subject, true);
      case plan::Kind::remove: return part_step(s, step.subject, true);
      case plan::Kind::fasten: return joint_step(s, step.subject, false);
      case plan::Kind::set: return part_step(s, step.subject, false);
    }
    return std::nullopt;
  }

  [[nodiscard]] std::optional<OracleCost> cheapest(
      const plan::State& from, Moves moves,
      const std::function<bool(const OracleState&)>& finished) const {
    struct Entry {
      OracleCost cost;
      OracleState state;
    };
    const auto later = [](const Entry& a, const Entry& b) {
      return a.cost != b.cost ? a.cost > b.cost : a.state.code() > b.state.code();
    };
    std::priority_queue<Entry, std::vector<Entry>, decltype(later)> queue(later);
    std::unordered_map<std::uint64_t, OracleCost> known;
    const auto offer = [&](OracleCost cost, const OracleState& s) {
      const auto found = known.find(s.code());
      if (found != known.end() && found->second <= cost) return;
      known[s.code()] = cost;
      queue.push(Entry{cost, s});
    };
    offer({0, 0}, state(from));
    while (!queue.empty()) {
      const Entry now = queue.top();
      queue.pop();
      if (known[now.state.code()] != now.cost) continue;
      if (finished(now.state)) return now.cost;
      const auto follow = [&](const std::optional<Next>& next, int takes) {
        if (next) offer({now.cost.first + next->cost, now.cost.second + takes}, next->state);
      };
      for (int t = 0; t < to_int(p_.turns.size()); ++t) follow(turn_step(now.state, t), 0);
      for (int t = 0; t < to_int(p_.tools.size()); ++t) follow(take_step(now.state, t), 1);
      for (const bool open : {true, false}) {
        if (!(open ? moves.open : moves.close)) continue;
        for (int j = 0; j < to_int(p_.joints.size()); ++j) follow(joint_step(now.state, j, open), 0);
        for (int p = 0; p < to_int(p_.parts.size()); ++p) follow(part_step(now.state, p, open), 0);
      }
    }
    return std::nullopt;
  }

  const plan::Problem& p_;
};

[[nodiscard]] inline int takes_of(const plan::Plan& plan) {
  int takes = 0;
  for (const plan::Step& step : plan.steps) takes += step.kind == plan::Kind::take_tool ? 1 : 0;
  return takes;
}

}  // namespace kp::test
