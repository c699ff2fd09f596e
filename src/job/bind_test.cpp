#include "job/bind_test.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"

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

}  // namespace

plan::Targets targets_of(const pack::Pack& pack, const pack::Test& test) {
  plan::Targets targets;
  targets.positions = test.positions;
  pack::Access behind = test.behind;
  for (const int joint : test.needs_released) {
    const pack::Joint& one = pack.joints[to_size(joint)];
    if (behind.empty()) behind = one.behind;
    if (targets.positions.empty()) targets.positions = one.positions;
  }
  if (!behind.empty()) targets.points.push_back(plan::Point{test.part, bind_access(behind)});
  return targets;
}

bool wants_closed(const pack::Pack& pack, const pack::Test& test) {
  return demand_of(pack, test).running && test.behind.empty() && !test.on_circuit();
}

bool wants_water(const pack::Test& test) { return test.running || test.step >= 0; }

plan::Plan plan_to_test(const Model& model, const plan::State& unit, const pack::Test& test) {
  return wants_closed(model.pack, test)
             ? plan::refit(model.rules, unit)
             : plan::reach(model.rules, unit, targets_of(model.pack, test));
}

bool stands_for_live(const Model& model, const plan::State& unit, const pack::Test& test) {
  if (is_closed(model, unit)) return true;
  if (wants_closed(model.pack, test) || !demand_of(model.pack, test).running) return false;
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
