// The way back, so that a test has its moment between two joints.
#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "job/bind_prove.hpp"

namespace kp::job {
namespace {

/// Steps one after the other, each with its tool taken first.
class Walk {
 public:
  Walk(const plan::Rules& rules, plan::State unit) : rules_(rules), unit_(std::move(unit)) {}

  [[nodiscard]] const plan::State& unit() const { return unit_; }
  /// False: it cannot be done here.
  bool add(const plan::Action& action) {
    plan::State ready = unit_;
    const bool on_joint =
        action.kind == plan::Kind::release || action.kind == plan::Kind::fasten;
    const int tool = on_joint ? rules_.item(action.subject).tool : -1;
    const plan::Action take{plan::Kind::take_tool, tool};
    const bool other = tool >= 0 && tool != ready.tool;
    if (other) {
      ready = rules_.apply(ready, take);
    }
    if (!rules_.legal(ready, action)) {
      return false;
    }
    if (other) {
      push(take);
    }
    push(action);
    return true;
  }
  /// Whether this would shut the way to something that still waits.
  [[nodiscard]] bool shuts(const plan::Action& action,
                           const std::vector<plan::Action>& waiting) const {
    if (action.kind == plan::Kind::turn) {
      return false;
    }
    plan::ItemSet open = rules_.open(unit_);
    open.reset(item_of(action));
    return std::any_of(waiting.begin(), waiting.end(), [&](const plan::Action& other) {
      if (other.kind == plan::Kind::turn) {
        return false;
      }
      const auto& ways = rules_.item(item_of(other)).ways;
      return std::none_of(ways.begin(), ways.end(), [&](const plan::ItemWay& way) {
        return way.items.within(open);
      });
    });
  }
  [[nodiscard]] plan::Plan take() {
    plan_.lower_bound_ms = 0;  // of another order
    return std::move(plan_);
  }

 private:
  void push(const plan::Action& action) {
    plan::Step step;
    step.kind = action.kind;
    step.subject = action.subject;
    step.cost_ms = rules_.cost_ms(unit_, action);
    unit_ = rules_.apply(unit_, action);
    step.position = unit_.position;
    step.tool = unit_.tool;
    plan_.cost_ms += step.cost_ms;
    plan_.steps.push_back(std::move(step));
  }

  [[nodiscard]] int item_of(const plan::Action& action) const {
    const bool on_part = action.kind == plan::Kind::set || action.kind == plan::Kind::remove;
    return on_part ? rules_.joints() + action.subject : action.subject;
  }

  const plan::Rules& rules_;
  plan::State unit_;
  plan::Plan plan_;
};

bool holds(const std::vector<int>& list, int one) {
  return std::find(list.begin(), list.end(), one) != list.end();
}

/// Does what waits, in its order, as far as it can be done.
void flush(Walk& walk, std::vector<plan::Action>& waiting) {
  std::vector<plan::Action> still;
  for (const plan::Action& action : waiting) {
    if (!walk.add(action)) {
      still.push_back(action);
    }
  }
  waiting = std::move(still);
}

/// What would end the moment of a test: a joint that it wants loose is fastened, or under water
/// pressure a cover in front of it is set.
bool ends(const pack::ProveTest& test, const plan::Step& step) {
  if (step.kind == plan::Kind::fasten) {
    return holds(test.needs_released, step.subject);
  }
  return test.static_water && step.kind == plan::Kind::set &&
         std::any_of(test.behind.begin(), test.behind.end(),
                     [&](const pack::Way& way) { return holds(way.parts, step.subject); });
}

/// The steps with what would end the test's moment kept back until all that it wants fast is so, and
/// with them what cannot be done before. Empty where that leads nowhere.
plan::Plan held_back(const Model& model, const plan::State& unit, const plan::Plan& back,
                     const pack::ProveTest& test) {
  Walk walk(model.rules, unit);
  std::vector<plan::Action> waiting;
  const std::vector<int> fast = fast_for(model, test);
  const auto all_fast = [&] {
    return std::none_of(fast.begin(), fast.end(),
                        [&](int joint) { return walk.unit().released.test(joint); });
  };
  for (const plan::Step& step : back.steps) {
    if (step.kind == plan::Kind::take_tool) {
      continue;
    }
    const plan::Action action{step.kind, step.subject};
    const bool too_early = ends(test, step) && !all_fast();
    if (too_early || walk.shuts(action, waiting) || !walk.add(action)) {
      waiting.push_back(action);
    } else if (!waiting.empty() && all_fast()) {
      flush(walk, waiting);
    }
  }
  flush(walk, waiting);
  return waiting.empty() ? walk.take() : plan::Plan{};
}

bool is_early(const Model& model, const plan::Plan& back, const pack::ProveTest& test) {
  const std::vector<int> fast = fast_for(model, test);
  const auto first = std::find_if(back.steps.begin(), back.steps.end(),
                                  [&](const plan::Step& step) { return ends(test, step); });
  return std::any_of(first, back.steps.end(), [&](const plan::Step& step) {
    return step.kind == plan::Kind::fasten && holds(fast, step.subject);
  });
}

}  // namespace

plan::Plan order_for_proofs(const Model& model, const plan::State& unit, plan::Plan back) {
  for (const pack::ProveTest& test : model.pack.prove_tests) {
    if (test.when != pack::ProveWhen::before_power || back.error || !is_early(model, back, test)) {
      continue;
    }
    plan::Plan other = held_back(model, unit, back, test);
    if (!other.steps.empty()) {
      other.expanded = back.expanded;
      back = std::move(other);
    }
  }
  return back;
}

}  // namespace kp::job
