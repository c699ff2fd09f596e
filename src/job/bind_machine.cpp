// What a unit has open, for the gate's question.
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/owed_tests.hpp"

namespace kp::job {

using safety::Act;

safety::Machine machine_of(const Model& model, const State& state, safety::Act act) {
  const pack::Pack& pack = model.pack;
  const plan::State& unit = state.unit;
  const pack::Position& position = pack.positions[to_size(unit.position)];
  safety::Machine machine;
  bool fixings = false;
  bool one_fast = false;
  for (int joint = 0; joint < to_int(pack.joints.size()); ++joint) {
    const bool loose = unit.released.test(joint);
    if (pack.joints[to_size(joint)].against_tipping) {
      fixings = true;
      one_fast = one_fast || !loose;
    }
    if (!loose) {
      continue;
    }
    machine.wet_joined = machine.wet_joined && !model.hazards.is_wet(pack, joint);
    machine.supply_parted = machine.supply_parted || is_supply_joint(pack, joint);
  }
  // With the power dead only a lead that water can drop on counts.
  const bool still = safety::in_acts(safety::acts(Act::static_test, Act::water_static), act);
  for (const pack::Element& element : pack.circuit.elements) {
    if (element.joint < 0 || !unit.released.test(element.joint)) {
      continue;
    }
    machine.leads_joined = machine.leads_joined && still &&
                           !model.hazards.hangs_by_water(pack, element.joint);
    const int earth = pack.circuit.mains.earth;
    machine.earths_fast = machine.earths_fast && (earth < 0 || (element.a != earth && element.b != earth));
  }
  machine.nothing_open = unit.released.none() && unit.removed.none();
  machine.upright = position.upright;
  machine.door_open = position.door_open;
  machine.stable = !position.door_open || position.propped || !fixings || one_fast;
  // Slow to find out, so only for the acts that ask: may the power be on as the unit stands?
  const bool on = safety::in_acts(safety::acts(Act::run, Act::live_reading, Act::inspect,
                                               Act::power_on),
                                  act);
  machine.live_covers_on = is_closed(model, unit) ||
                           (on && state.stage == Stage::find && stands_for_live(model, unit));
  const bool plug = state.safety.means == safety::Means::plug_out &&
                    state.safety.power != safety::Power::live &&
                    state.safety.power != safety::Power::on;
  machine.supply_parted = machine.supply_parted || plug;
  machine.tests_done = tests_owed(model, state).empty();
  machine.workers = 1 + to_int(state.safety.helpers.size());
  return machine;
}

safety::Ask ask_of(const Model& model, const State& state, safety::Demand demand,
                   const std::string& by) {
  safety::Ask ask;
  ask.machine = machine_of(model, state, demand.act);
  ask.machine.supply_open = place_uncovered(model, state, safety::kSupply);
  ask.demand = std::move(demand);
  ask.by = by;
  return ask;
}

}  // namespace kp::job
