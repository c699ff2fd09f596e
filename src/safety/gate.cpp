#include "safety/gate.hpp"

#include "base/text.hpp"

namespace kp::safety {

namespace {

// A proof is believed while it is held by the worker present and is not older than the policy
// says. A time before the newest event proves that a clock is wrong.
bool fresh(const State& state, const Stamp& proof, std::int64_t now_ms, const Policy& policy) {
  const std::int64_t age = now_ms - proof.at.utc_ms;
  const std::int64_t limit = static_cast<std::int64_t>(policy.proof_seconds) * 1000;
  return proof.holds() && proof.person == state.worker && now_ms >= state.newest.utc_ms &&
         age >= 0 && age <= limit;
}

void want_power(const State& state, std::int64_t now_ms, const Policy& policy, Verdict& verdict) {
  if (power_dead(state, now_ms, policy)) {
    verdict.stands_on.push_back(state.isolated.event);
    verdict.stands_on.push_back(state.proved.event);
    return;
  }
  switch (state.power) {
    case PowerState::taken_as_live:
      verdict.reasons.push_back({"power-not-isolated", "Isolate the power and prove it dead first."});
      break;
    case PowerState::isolated:
      verdict.reasons.push_back({"power-not-proved", "Prove the power dead before hands go in."});
      break;
    case PowerState::proved_dead:
      verdict.reasons.push_back({"power-proof-old", "Prove the power dead again: the proof is old."});
      break;
    case PowerState::live_for_test:
      verdict.reasons.push_back(
          {"power-on", "Keep hands clear: power is on. Isolate it and prove it dead."});
      break;
  }
}

void want_water(const State& state, std::int64_t now_ms, const Policy& policy, Verdict& verdict) {
  if (water_off(state, now_ms, policy)) {
    verdict.stands_on.push_back(state.shut.event);
    verdict.stands_on.push_back(state.relieved.event);
    return;
  }
  switch (state.water) {
    case WaterState::taken_as_on:
      verdict.reasons.push_back({"water-not-shut", "Shut the water and relieve it first."});
      break;
    case WaterState::shut:
      verdict.reasons.push_back(
          {"water-not-relieved", "Relieve the pressure and empty the sump first."});
      break;
    case WaterState::relieved:
      verdict.reasons.push_back({"water-proof-old", "Relieve the water again: the proof is old."});
      break;
    case WaterState::on_for_test:
      verdict.reasons.push_back({"water-on", "Keep hands clear: water is on. Shut it and relieve it."});
      break;
  }
}

void want(bool holds, const Stamp& proof, Reason reason, Verdict& verdict) {
  if (holds) {
    verdict.stands_on.push_back(proof.event);
  } else {
    verdict.reasons.push_back(std::move(reason));
  }
}

void want_ground(const State& state, std::int64_t now_ms, Verdict& verdict) {
  if (state.ending != Ending::none) {
    verdict.reasons.push_back({"job-ended", "Open the job again before you go on."});
  }
  if (now_ms < state.newest.utc_ms) {
    verdict.reasons.push_back({"clock-doubt", "Set the clock right and make the machine safe again."});
  }
}

void want_prepared(const State& state, Verdict& verdict) {
  want(state.prepared.holds(), state.prepared,
       {"not-prepared", "List the energies of the machine first."}, verdict);
}

void want_needs(const State& state, const Demand& demand, std::int64_t now_ms,
                const Policy& policy, Verdict& verdict) {
  // With hands clear of a running machine nothing meets hands; what may tip still may.
  const bool clear = demand.running && !demand.hands_in;
  const NeedSet needs = needs_of(demand.contacts, demand.hands_in) &
                        (clear ? bit(Need::secured) : ~NeedSet{0});
  if (in_set(needs, Need::power_dead)) {
    want_power(state, now_ms, policy, verdict);
  }
  if (in_set(needs, Need::water_off)) {
    want_water(state, now_ms, policy, verdict);
  }
  if (in_set(needs, Need::charge_gone)) {
    want(fresh(state, state.charge_gone, now_ms, policy), state.charge_gone,
         {"charge-not-gone", "Discharge the capacitor and measure it first."}, verdict);
  }
  if (in_set(needs, Need::cooled)) {
    want(state.cooled.holds(), state.cooled,
         {"not-cooled", "Let the hot parts cool and measure them first."}, verdict);
  }
  if (in_set(needs, Need::secured)) {
    want(state.secured.holds(), state.secured,
         {"not-secured", "Secure the unit or the load first."}, verdict);
  }
}

void want_running(const State& state, const Demand& demand, Verdict& verdict) {
  if (demand.hands_in) {
    verdict.reasons.push_back({"hands-in-while-running", "Keep hands clear while the machine runs."});
  }
  if (!running(state)) {
    verdict.reasons.push_back({"nothing-on", "Put power or water back in the release order first."});
  } else {
    const bool power = state.power == PowerState::live_for_test;
    verdict.stands_on.push_back(power ? state.power_back.event : state.water_back.event);
  }
  want(state.people_clear.holds(), state.people_clear,
       {"people-not-clear", "Keep people and hands clear first."}, verdict);
  want(state.panels_set.holds(), state.panels_set,
       {"panels-not-set", "Set the panels as the machine needs them first."}, verdict);
}

Verdict closed(Verdict verdict) {
  verdict.allowed = verdict.reasons.empty();
  if (!verdict.allowed) {
    verdict.stands_on.clear();
  }
  return verdict;
}

}  // namespace

bool power_dead(const State& state, std::int64_t now_ms, const Policy& shop) {
  return state.power == PowerState::proved_dead && state.isolated.holds() &&
         fresh(state, state.proved, now_ms, bounded(shop));
}

bool water_off(const State& state, std::int64_t now_ms, const Policy& shop) {
  return state.water == WaterState::relieved && state.shut.holds() &&
         fresh(state, state.relieved, now_ms, bounded(shop));
}

bool running(const State& state) {
  return state.power == PowerState::live_for_test || state.water == WaterState::on_for_test;
}

Verdict permit(const State& state, const Demand& demand, std::int64_t now_ms,
               const Policy& shop) {
  const Policy policy = bounded(shop);
  Verdict verdict;
  want_ground(state, now_ms, verdict);
  want_prepared(state, verdict);
  want_needs(state, demand, now_ms, policy, verdict);
  const EnergySet unlisted = energies_of(demand.contacts) & ~state.energies;
  if (unlisted != 0 && state.prepared.holds()) {
    verdict.reasons.push_back({"energy-not-listed", "Add this energy to the list of the machine first."});
  }
  if (demand.people > state.people) {
    verdict.reasons.push_back({"helper-missing", "Get a second person for this step."});
  }
  if (demand.running) {
    want_running(state, demand, verdict);
  }
  return closed(std::move(verdict));
}

namespace {

void may_leave(const State& state, Verdict& verdict) {
  want_prepared(state, verdict);
  const bool off = state.power == PowerState::isolated || state.power == PowerState::proved_dead;
  want(off, state.isolated, {"leave-power-isolated", "Isolate the power before you leave the machine."},
       verdict);
  want(state.water == WaterState::shut || state.water == WaterState::relieved, state.shut,
       {"leave-water-shut", "Shut the water before you leave the machine."}, verdict);
  want(state.tagged.holds(), state.tagged, {"leave-tag", "Hang the tag before you leave the machine."},
       verdict);
}

void may_serve(const State& state, Verdict& verdict) {
  const bool power =
      state.power == PowerState::live_for_test || state.power == PowerState::taken_as_live;
  const bool water = state.water == WaterState::on_for_test || state.water == WaterState::taken_as_on;
  if (!power) {
    verdict.reasons.push_back({"power-still-isolated", "Put the power back, or leave the machine tagged."});
  }
  if (!water) {
    verdict.reasons.push_back({"water-still-shut", "Put the water back, or leave the machine tagged."});
  }
  if (!state.locks.empty()) {
    verdict.reasons.push_back({"lock-hanging", "Take each lock off; its owner removes it."});
  }
  if (state.last_hands_in.holds() && !state.inspected.holds()) {
    verdict.reasons.push_back({"not-inspected", "Inspect the area and count the tools first."});
  }
  for (const Stamp* stamp : {&state.inspected, &state.power_back, &state.water_back}) {
    if (stamp->holds()) {
      verdict.stands_on.push_back(stamp->event);
    }
  }
}

}  // namespace

Verdict may_end(const State& state, Ending ending, std::int64_t now_ms, const Policy&) {
  Verdict verdict;
  want_ground(state, now_ms, verdict);
  switch (ending) {
    case Ending::none:
      verdict.reasons.push_back({"no-ending", "Choose how the visit ends."});
      break;
    case Ending::repaired:
    case Ending::no_fault:
      may_serve(state, verdict);
      break;
    case Ending::waiting_for_parts:
    case Ending::not_to_be_used:
      may_leave(state, verdict);
      break;
  }
  return closed(std::move(verdict));
}

}  // namespace kp::safety
