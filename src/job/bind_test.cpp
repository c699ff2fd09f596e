#include "job/bind_test.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_plan.hpp"

namespace kp::job {
namespace {

plan::State after(const Model& model, plan::State unit, const plan::Plan& way) {
  for (const plan::Step& step : way.steps) {
    unit = model.rules.apply(unit, plan::Action{step.kind, step.subject});
  }
  return unit;
}

template <class Set>
bool within(const Set& some, const Set& all) {
  bool inside = true;
  some.each([&](int one) { inside = inside && all.test(one); });
  return inside;
}

/// A way that grows action by action from where the unit stands.
class Way {
 public:
  Way(const Model& model, plan::State unit) : rules_(model.rules), unit_(std::move(unit)) {}

  [[nodiscard]] const plan::State& unit() const { return unit_; }
  /// Fastens or releases a joint, with its tool taken first. False where that cannot be done here.
  bool add(plan::Kind kind, int joint) {
    plan::State ready = unit_;
    const int tool = rules_.item(joint).tool;
    const bool other = tool >= 0 && tool != ready.tool;
    const plan::Action take{plan::Kind::take_tool, tool};
    const plan::Action act{kind, joint};
    if (other) ready = rules_.apply(ready, take);
    if (!rules_.legal(ready, act)) return false;
    if (other) push(take);
    push(act);
    return true;
  }
  void add(const plan::Plan& plan) {
    const int before = to_int(plan_.steps.size());
    for (plan::Step step : plan.steps) {
      for (int& need : step.needs) need += before;
      unit_ = rules_.apply(unit_, plan::Action{step.kind, step.subject});
      plan_.cost_ms += step.cost_ms;
      plan_.steps.push_back(std::move(step));
    }
    plan_.proved = plan.proved;
    plan_.expanded += plan.expanded;
  }
  /// Sets a part. False where that cannot be done here.
  bool set(int part) {
    const plan::Action act{plan::Kind::set, part};
    if (!rules_.legal(unit_, act)) return false;
    push(act);
    return true;
  }
  /// Proved only where nothing was added to a proved plan: leads might come off earlier for less.
  plan::Plan take() {
    plan_.proved = plan_.proved && !extra_;
    plan_.lower_bound_ms = plan_.proved ? plan_.cost_ms : 0;
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
    extra_ = true;
  }

  const plan::Rules& rules_;
  plan::State unit_;
  plan::Plan plan_;
  bool extra_ = false;
};

/// Joints that are off and that part something of the circuit.
std::vector<int> parted(const pack::Pack& pack, const plan::State& unit) {
  std::vector<int> out;
  for (const pack::Element& element : pack.circuit.elements) {
    const bool off = element.joint >= 0 && unit.released.test(element.joint);
    if (off && std::find(out.begin(), out.end(), element.joint) == out.end()) out.push_back(element.joint);
  }
  return out;
}

bool releases(const plan::Plan& plan, int joint) {
  return std::any_of(plan.steps.begin(), plan.steps.end(), [joint](const plan::Step& step) {
    return step.kind == plan::Kind::release && step.subject == joint;
  });
}

template <class List, class One>
bool holds(const List& list, const One& one) {
  return std::find(list.begin(), list.end(), one) != list.end();
}

/// What of the way back brings the unit down to no more open than that; all of it where a part of it
/// alone cannot be done.
plan::Plan way_shut(const Model& model, const plan::State& unit, const plan::State& needed) {
  plan::Plan all = plan::refit(model.rules, unit);
  if (all.error) return all;
  Way way(model, unit);
  for (const plan::Step& step : all.steps) {
    const bool fasten = step.kind == plan::Kind::fasten && !needed.released.test(step.subject);
    const bool set = step.kind == plan::Kind::set && !needed.removed.test(step.subject);
    if ((fasten && !way.add(plan::Kind::fasten, step.subject)) || (set && !way.set(step.subject))) {
      return all;
    }
  }
  return way.take();
}

void want_point(plan::Targets& targets, int part, const pack::Access& behind) {
  if (!behind.empty()) targets.points.push_back(plan::Point{part, bind_access(behind)});
}

}  // namespace

plan::Targets targets_of(const pack::Pack& pack, const pack::Test& test) {
  plan::Targets targets;
  targets.positions = test.positions;
  want_point(targets, test.part, test.behind);
  for (const int joint : test.needs_released) {
    const pack::Joint& one = pack.joints[to_size(joint)];
    if (one.behind != test.behind) want_point(targets, test.part, one.behind);
    if (targets.positions.empty()) targets.positions = one.positions;
  }
  return targets;
}

Wiring wiring_of(const pack::Test& test) {
  // No lead hangs parted where water may drop on it.
  return {test.needs_released, test.on_circuit() || test.static_water};
}

plan::Plan way_to(const Model& model, const plan::State& unit, const plan::Targets& targets,
                  const Wiring& wiring, plan::Limits limits) {
  std::vector<int> back;
  if (wiring.else_whole) {
    for (const int joint : parted(model.pack, unit)) {
      if (!holds(wiring.parted, joint)) back.push_back(joint);
    }
  }
  // What the way releases again was no lead to put back: the second round leaves it off.
  for (;;) {
    Way way(model, unit);
    std::vector<int> on;
    for (const int joint : back) {
      if (way.add(plan::Kind::fasten, joint)) on.push_back(joint);
    }
    const plan::Plan reached = plan::reach(model.rules, way.unit(), targets, limits);
    if (reached.error && back.empty()) return reached;
    const std::size_t before = back.size();
    back.erase(std::remove_if(back.begin(), back.end(),
                              [&](int joint) {
                                return !holds(on, joint) || reached.error || releases(reached, joint);
                              }),
               back.end());
    if (back.size() < before) continue;
    way.add(reached);
    for (const int joint : wiring.parted) {
      if (!way.unit().released.test(joint)) (void)way.add(plan::Kind::release, joint);
    }
    return way.take();
  }
}

bool wants_closed(const pack::Test& test) {
  return test.live() && test.behind.empty() && !test.on_circuit();
}

bool wants_water(const pack::Test& test) { return test.running || test.step >= 0; }

plan::Plan plan_to_test(const Model& model, const plan::State& unit, const pack::Test& test) {
  if (wants_closed(test)) {
    return plan::refit(model.rules, unit);
  }
  if (test.live()) {
    // With power on nothing more is off than the test needs.
    const plan::State home = initial_unit(model);
    const plan::State needed =
        after(model, home, way_to(model, home, targets_of(model.pack, test), wiring_of(test)));
    if (!within(unit.removed, needed.removed) || !within(unit.released, needed.released)) {
      return way_shut(model, unit, needed);
    }
  }
  return way_to(model, unit, targets_of(model.pack, test), wiring_of(test));
}

std::vector<int> misleading_joints(const Model& model, const plan::State& unit, const pack::Test& test) {
  std::vector<int> out;
  if (!test.on_circuit()) return out;
  const Measurement asked = measurement_of(model.pack, test);
  const circuit::Reading good = circuit::read(model.netlist, asked.meter, asked.probe, asked.setting);
  for (const int joint : parted(model.pack, unit)) {
    if (holds(test.needs_released, joint)) continue;
    UnitStand stand = stand_of(test);
    stand.joints.push_back(joint);
    const circuit::Reading other =
        circuit::read(model.netlist, asked.meter, asked.probe, setting_of(model.pack, stand));
    const bool open = other.state == circuit::State::over;
    if (other.state != good.state || !in_band(test, other.value, open)) out.push_back(joint);
  }
  return out;
}

bool stands_for_live(const Model& model, const plan::State& unit, const pack::Test& test) {
  if (is_closed(model, unit)) return true;
  if (wants_closed(test) || !test.live()) return false;
  const plan::Plan here = plan_to_test(model, unit, test);
  if (here.error || !here.steps.empty()) return false;
  const plan::State home = initial_unit(model);
  const plan::Plan way = plan_to_test(model, home, test);
  if (way.error) return false;
  const plan::State needed = after(model, home, way);
  return within(unit.removed, needed.removed) && within(unit.released, needed.released);
}

bool stands_for_live(const Model& model, const plan::State& unit) {
  return is_closed(model, unit) ||
         std::any_of(model.pack.tests.begin(), model.pack.tests.end(),
                     [&](const pack::Test& test) { return stands_for_live(model, unit, test); });
}

}  // namespace kp::job
