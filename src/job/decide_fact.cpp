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
  } else if (auto* barred = std::get_if<safety::OpeningsBarred>(&fact)) {
    barred->loose.assign(state.as_left.loose.begin(), state.as_left.loose.end());
    barred->away.assign(state.as_left.away.begin(), state.as_left.away.end());
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

/// A screen that is still dark and a job that is still paused are a gap too, before their end is told.
void add_gap(const State& state, safety::Act act, const Stamp& now, const Context& context,
             safety::Verdict& verdict) {
  constexpr safety::ActSet kFree =
      safety::acts(safety::Act::look_outside, safety::Act::look_inside, safety::Act::touch_outside);
  const bool gap = asks_after(state, away_since(state.hidden_since, now), context) ||
                   asks_after(state, away_since(state.paused_since, now), context);
  if (gap && !state.safety.gap_open && !safety::in_acts(kFree, act)) {
    const safety::GuardWords& words = safety::words_of(safety::Guard::gap_closed);
    verdict.allowed = false;
    verdict.reasons.push_back({words.code, words.sentence, 0});
  }
}

}  // namespace

std::int64_t away_since(const Stamp& since, const Stamp& now) {
  if (since.n == 0) {
    return 0;
  }
  const std::int64_t wall = now.at.utc_ms - since.at.utc_ms;
  return since.life == now.life ? std::max(wall, now.mono_ms - since.mono_ms) : wall;
}

bool asks_after(const State& state, std::int64_t away_ms, const Context& context) {
  const bool something = state.safety.isolated.holds() || state.safety.shut.holds();
  const std::int64_t limit =
      std::int64_t{safety::bounded(context.settings->safety).pause_seconds} * 1000;
  return something && (away_ms < 0 || away_ms > limit);
}

safety::Law law_now(const Context& context) {
  return {context.settings->safety, context.settings->rows};
}

safety::Verdict permit(const State& state, const Model& model, const safety::Demand& demand,
                       const Stamp& now, const Context& context) {
  safety::Verdict verdict = safety::permit(state.safety, ask_of(model, state, demand, now.by),
                                           now_of(now), law_now(context));
  const bool unproved = std::any_of(demand.groups.begin(), demand.groups.end(),
                                    [](const safety::GroupAsked& one) { return one.place.pairs.empty(); });
  if (unproved && !verdict.allowed) {
    verdict.reasons.push_back({"no-test-point", "Do not reach in: the pack shows no point to prove dead here.", 0});
  }
  add_gap(state, demand.act, now, context, verdict);
  return verdict;
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
  add_gap(state, act, now, context, verdict);
  if (covered(model, state, fact)) {
    verdict.reasons.push_back({"place-covered", "Open the way to this place first.", 0});
  }
  if (!verdict.reasons.empty()) {
    return Decision{{}, std::move(verdict.reasons)};
  }
  return follow(state, body_of(fact), now, context);
}

}  // namespace kp::job
