// Rules for what happens to the energies: the gate's rows, with what the machine has open.
#include <algorithm>

#include "base/text.hpp"
#include "job/bind_safety.hpp"
#include "job/follow.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

/// What only the pack knows is filled in before the gate looks at it.
void complete(const Model& model, const State& state, safety::Fact& fact) {
  const pack::Pack& pack = model.pack;
  if (auto* prepared = std::get_if<safety::Prepared>(&fact)) {
    prepared->energies = energies_of(model);
    if (prepared->connection == connection_of(pack)) {
      prepared->system = system_of(pack);
    }
    prepared->volts = pack.supply.volts;
  } else if (auto* shut = std::get_if<safety::WaterShut>(&fact)) {
    shut->valve = trim(shut->valve).empty() ? pack.water.valve : shut->valve;
  } else if (auto* relieved = std::get_if<safety::Relieved>(&fact)) {
    relieved->joints.clear();
    for (const int joint : pack.water.relieve_joints) {
      relieved->joints.push_back(pack.joints[to_size(joint)].id);
    }
  } else if (auto* secured = std::get_if<safety::Secured>(&fact)) {
    if (secured->position.empty()) {
      secured->position = pack.positions[to_size(state.unit.position)].id;
    }
  }
}

/// Charge is taken off, the neutral clamped and water let out where hands and probes reach: no cover
/// is in front.
bool covered(const Model& model, const State& state, const safety::Fact& fact) {
  if (const auto* gone = std::get_if<safety::Discharged>(&fact)) {
    return !place_uncovered(model, state, gone->place);
  }
  if (std::holds_alternative<safety::NeutralRead>(fact)) {
    return !is_uncovered(model, state, neutral_targets(model));
  }
  return std::holds_alternative<safety::Relieved>(fact) &&
         !is_uncovered(model, state, relieve_targets(model));
}

safety::Demand demand_for(const Model& model, const State& state, safety::Act act) {
  safety::Demand demand;
  if (act == safety::Act::relieve) {
    return relieve_demand(model, state);
  }
  if (act == safety::Act::read_neutral) {
    return neutral_demand(model, state);
  }
  demand.act = act;
  demand.position = model.pack.positions[to_size(state.unit.position)].id;
  return demand;
}

}  // namespace

safety::Law law_now(const Context& context) {
  return {context.settings->safety, context.settings->rows};
}

safety::Verdict permit(const State& state, const Model& model, const safety::Demand& demand,
                       const Stamp& now, const Context& context) {
  return safety::permit(state.safety, ask_of(model, state, demand, now.by), now_of(now),
                        law_now(context));
}

Decision decide_fact(const State& state, safety::Fact fact, const Stamp& now,
                     const Context& context) {
  safety::Act act = safety::Act::look_outside;
  if (!safety::act_of(fact, act)) {
    return follow(state, body_of(fact), now, context);   // it has happened
  }
  if (state.model < 0) {
    return Decision{{}, {{"no-machine", "Choose the machine first.", 0}}};
  }
  const Model& model = context.library->models[to_size(state.model)];
  complete(model, state, fact);
  safety::Ask ask = ask_of(model, state, demand_for(model, state, act), now.by);
  if (const auto* reading = std::get_if<safety::ReadingTaken>(&fact)) {
    ask.place = place_of(model, state, reading->place);
    ask.machine.supply_open = place_uncovered(model, state, reading->place);
  }
  fact = safety::completed(state.safety, fact, ask.place, context.settings->safety);
  ask.fact = &fact;
  safety::Verdict verdict = safety::permit(state.safety, ask, now_of(now), law_now(context));
  if (covered(model, state, fact)) {
    verdict.reasons.push_back({"place-covered", "Open the way to this place first.", 0});
  }
  if (!verdict.reasons.empty()) {
    return Decision{{}, std::move(verdict.reasons)};
  }
  return follow(state, body_of(fact), now, context);
}

}  // namespace kp::job
