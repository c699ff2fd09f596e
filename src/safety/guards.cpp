// The predicates behind the gate's rows.
#include <algorithm>
#include <cmath>

#include "safety/gate.hpp"

namespace kp::safety {

namespace {

using Events = std::vector<std::int64_t>;

// A proof is believed while it is held by the worker present, no gap is unexplained and it is not
// older than the policy says, by whichever clock says more.
bool fresh(const State& state, const Stamp& proof, Now now, const Policy& policy) {
  const std::int64_t age = age_ms(proof, now);
  const std::int64_t limit = static_cast<std::int64_t>(policy.proof_seconds) * 1000;
  return proof.holds() && proof.person == state.worker && !state.gap_open &&
         now.utc_ms >= state.newest.utc_ms && age >= 0 && age <= limit;
}

bool stand_on(bool holds, const Stamp& proof, Events& out) {
  if (holds && proof.holds()) {
    out.push_back(proof.event);
  }
  return holds;
}

bool has(const Demand& demand, Contact contact) {
  return std::find(demand.contacts.begin(), demand.contacts.end(), contact) !=
         demand.contacts.end();
}

template <class T>
const T* said(const Ask& ask) {
  return ask.fact == nullptr ? nullptr : std::get_if<T>(ask.fact);
}

bool is_held(const State& state) {
  return state.power == Power::held || state.power == Power::supply_dead;
}
bool is_shut(const State& state) {
  return state.water == Water::shut || state.water == Water::relieved ||
         state.water == Water::holding;
}

bool groups_dead(const State& state, const Ask& ask, Now now, const Policy& policy, Events& out) {
  bool all = true;
  for (const GroupAsked& asked : ask.demand.groups) {
    const GroupProof* group = state.group(asked.place.id);
    all = group != nullptr && stand_on(fresh(state, group->dead, now, policy), group->dead, out) &&
          all;
  }
  return all;
}

bool charge_gone(const State& state, const Ask& ask, Now now, const Policy& policy, Events& out) {
  bool all = true;
  for (const GroupAsked& asked : ask.demand.groups) {
    if (!asked.charge) {
      continue;
    }
    const GroupProof* group = state.group(asked.place.id);
    all = group != nullptr &&
          stand_on(fresh(state, group->discharged, now, policy), group->discharged, out) && all;
  }
  return all;
}

bool cooled(const State& state, const Ask& ask, Events& out) {
  if (!has(ask.demand, Contact::hot)) {
    return true;
  }
  const auto& places = state.cooled_places;
  return stand_on(std::find(places.begin(), places.end(), ask.demand.place) != places.end(),
                  state.cooled, out);
}

bool secured(const State& state, const Ask& ask, Events& out) {
  return !has(ask.demand, Contact::heavy) ||
         stand_on(state.secured.holds() && state.secured_position == ask.demand.position,
                  state.secured, out);
}

bool look_in_time(const State& state, Now now, const Policy& policy) {
  // Who held it and was called away before the try did not walk for an hour.
  const std::int64_t most = 300'000;
  const std::int64_t walk = std::clamp<std::int64_t>(state.walk_ms, 0, most);
  const std::int64_t age = age_ms(state.looked, now);
  return !state.looked.holds() ||
         (age >= 0 && age <= walk + static_cast<std::int64_t>(policy.look_seconds) * 1000);
}

bool control_counts(const State& state, const Ask& ask) {
  const auto* fact = said<HeldFast>(ask);
  if (fact == nullptr) {
    return false;
  }
  const bool reasoned = fact->control != Control::tag_and_measure || !fact->measure.empty();
  return reasoned && exclusive(fact->control, {state.means, state.built_in, ask.machine.workers,
                                               false});
}

/// What held for one worker at a loose machine does not for two, or for one that is built in.
bool control_stands(const State& state, const Ask& ask) {
  const int people = std::max({ask.machine.workers, ask.demand.people, state.people});
  return !is_held(state) ||
         exclusive(state.control, {state.means, state.built_in, people, false});
}

bool lock_given(const State& state, const Ask& ask) {
  if (const auto* fact = said<HeldFast>(ask)) {
    return !needs_lock(fact->control) || !fact->lock.empty();
  }
  if (const auto* fact = said<HandedOn>(ask)) {
    return state.lock.empty() || !is_held(state) || !fact->lock.empty();
  }
  return false;
}

bool tag_given(const Ask& ask) {
  if (const auto* fact = said<HeldFast>(ask)) {
    return !needs_tag(fact->control) || !fact->tag.empty();
  }
  const auto* fact = said<TagHung>(ask);
  return fact != nullptr && !fact->tag.empty();
}

/// A plug is its holder's like a lock.
bool lock_own(const State& state, const Ask& ask) {
  std::string id;
  std::string owner = ask.by;
  if (const auto* held = said<HeldFast>(ask)) {
    id = held->lock;
  } else if (const auto* handed = said<HandedOn>(ask)) {
    id = handed->lock;
    owner = handed->person;
  } else if (const auto* off = said<LockOff>(ask)) {
    id = off->lock;
    if (id.empty()) {
      return state.worker.empty() || state.worker == ask.by;
    }
  }
  return std::none_of(state.locks.begin(), state.locks.end(), [&](const Lock& lock) {
    return lock.id == id && lock.owner != owner;
  });
}

/// One of several locks comes off while the worker's own hangs on: nothing is given back yet.
bool held_on(const State& state, const Ask& ask) {
  const auto* off = said<LockOff>(ask);
  return off != nullptr && stays_held(state, off->lock);
}

bool lock_hangs(const State& state, const Ask& ask) {
  const auto* fact = said<LockOff>(ask);
  if (fact == nullptr) {
    return false;
  }
  const bool plug = fact->lock.empty() && state.locks.empty();
  return plug || std::any_of(state.locks.begin(), state.locks.end(),
                             [&](const Lock& lock) { return lock.id == fact->lock; });
}

std::string tester_of(const Ask& ask) {
  if (const auto* reading = said<ReadingTaken>(ask)) return reading->tester;
  if (const auto* frame = said<FrameRead>(ask)) return frame->tester;
  if (const auto* discharged = said<Discharged>(ask)) return discharged->tester;
  return {};
}

bool function_proves(const Ask& ask) {
  if (const auto* frame = said<FrameRead>(ask)) return can_prove(frame->function);
  const auto* reading = said<ReadingTaken>(ask);
  if (reading == nullptr) {
    return false;
  }
  switch (reading->role) {
    case Role::known_before:
    case Role::known_after:
    case Role::pair:
      return can_prove(reading->function);
    case Role::earth_shown:
      return can_prove(reading->function) || reading->function == MeterFunction::ohms;
    case Role::pair_dc:
      return reading->function == MeterFunction::volts_dc ||
             reading->function == MeterFunction::two_pole_detector;
  }
  return false;
}

bool wanted_reading(const State& state, const Ask& ask, Now now, const Policy& policy,
                    Events& out) {
  const auto* reading = said<ReadingTaken>(ask);
  if (reading == nullptr || ask.place.id.empty() || reading->place != ask.place.id) {
    return false;
  }
  if (ask.place.id != kSupply && !stand_on(supply_dead(state, now, policy), state.supply_dead, out)) {
    return false;
  }
  if (reading->role == Role::known_before) {
    return true;   // a series may begin anew at any time
  }
  Wanted wanted;
  return next_of(state.series, ask.place, wanted) && wanted.role == reading->role &&
         wanted.pair == Pair{reading->a, reading->b} &&
         (!wanted.low_impedance || is_low_impedance(reading->function));
}

bool begins(const Ask& ask) {
  const auto* reading = said<ReadingTaken>(ask);
  return reading != nullptr && reading->role == Role::known_before;
}

bool same_tester(const State& state, const Ask& ask) {
  const auto* reading = said<ReadingTaken>(ask);
  return begins(ask) || (reading != nullptr && !state.series.readings.empty() &&
                         state.series.readings.front().tester == reading->tester);
}

bool in_time(const State& state, const Ask& ask, Now now, const Policy& policy) {
  if (begins(ask)) {
    return true;
  }
  if (state.series.readings.empty()) {
    return false;
  }
  const Reading& first = state.series.readings.front();
  const std::int64_t age = std::max(now.utc_ms - first.at.utc_ms, now.mono_ms - first.mono_ms);
  return age >= 0 && age <= static_cast<std::int64_t>(policy.prove_seconds) * 1000;
}

/// A known source must itself be one that counts as live: with a band from nothing up, a dead tester
/// is a good one. An outlet's band is the house's, or narrower.
bool band_sane(const State& state, const ReadingTaken& reading, const Policy& policy) {
  if (reading.role != Role::known_before && reading.role != Role::known_after) {
    return std::isfinite(reading.band_low) && std::isfinite(reading.band_high);
  }
  const Range house = outlet_band(state.volts);
  const bool outlet = reading.source == Source::outlet;
  const double rounding = 1e-6;
  return std::isfinite(reading.band_high) && reading.band_low >= policy.live_from_volts &&
         reading.band_low <= reading.band_high &&
         (!outlet || (reading.band_low >= house.low - rounding &&
                      reading.band_high <= house.high + rounding));
}

bool sane(const State& state, const Ask& ask, const Policy& policy) {
  const auto volts = [](Shown shown) {
    return shown.none_lit || (std::isfinite(shown.volts) && std::fabs(shown.volts) <= 1000);
  };
  if (const auto* reading = said<ReadingTaken>(ask)) {
    const bool ohms = reading->function == MeterFunction::ohms;
    return band_sane(state, *reading, policy) &&
           (ohms ? std::isfinite(reading->shown.volts) : volts(reading->shown));
  }
  // Houses stand between 100 V and 240 V and a little above.
  if (const auto* told = said<Prepared>(ask)) return told->volts >= 90 && told->volts <= 260;
  if (const auto* frame = said<FrameRead>(ask)) return volts(frame->shown);
  if (const auto* cool = said<Cooled>(ask)) {
    return std::isfinite(cool->celsius) && cool->celsius > -40;
  }
  return true;
}

bool people_sane(const Ask& ask) {
  const auto* fact = said<HelperHere>(ask);
  return fact != nullptr && fact->people >= 2 && fact->people <= 6;
}

bool name_given(const Ask& ask) {
  if (const auto* prop = said<Propped>(ask)) {
    return prop->how != Support::person || !prop->helper.empty();
  }
  if (const auto* helper = said<HelperHere>(ask)) return !helper->name.empty();
  const auto* handed = said<HandedOn>(ask);
  return handed != nullptr && !handed->person.empty();
}

bool mains_listed(const Ask& ask) {
  const auto* fact = said<Prepared>(ask);
  return fact != nullptr && in_set(fact->energies, Energy::mains) &&
         in_set(fact->energies, Energy::water_pressure);
}

bool nothing_isolated(const State& state) {
  const bool power = state.power == Power::on || state.power == Power::live;
  const bool water = state.water == Water::run || state.water == Water::open;
  return power && water;
}

/// What is said with a fact, and whether it may be believed.
bool holds_said(Guard guard, const State& state, const Ask& ask, Now now, const Policy& policy,
                Events& out) {
  switch (guard) {
    case Guard::means_count: {
      const auto* fact = said<Isolated>(ask);
      // A live frame is isolated at the board: its plug is not reached past it.
      return fact != nullptr && counts(fact->means, state.connection, state.system) &&
             !(state.frame_live && fact->means == Means::plug_out);
    }
    case Guard::control_counts: return control_counts(state, ask);
    case Guard::control_stands: return control_stands(state, ask);
    case Guard::lock_given: return lock_given(state, ask);
    case Guard::lock_own: return lock_own(state, ask);
    case Guard::lock_hangs: return lock_hangs(state, ask);
    case Guard::tag_given: return tag_given(ask);
    case Guard::valve_named: {
      const auto* fact = said<WaterShut>(ask);
      return fact != nullptr && !fact->valve.empty();
    }
    case Guard::tester_named: return !tester_of(ask).empty();
    case Guard::function_proves: return function_proves(ask);
    case Guard::wanted_reading: return wanted_reading(state, ask, now, policy, out);
    case Guard::same_tester: return same_tester(state, ask);
    case Guard::in_time: return in_time(state, ask, now, policy);
    case Guard::sane: return sane(state, ask, policy);
    case Guard::dc_gone: {
      const auto* fact = said<Discharged>(ask);
      return fact != nullptr && std::fabs(fact->dc_volts) < policy.charge_gone_volts;
    }
    case Guard::cool_enough: {
      const auto* fact = said<Cooled>(ask);
      return fact != nullptr && fact->celsius < policy.cooled_below_celsius;
    }
    case Guard::people_sane: return people_sane(ask);
    case Guard::mains_listed: return mains_listed(ask);
    case Guard::name_given: return name_given(ask);
    default: return false;
  }
}

/// The order of giving back and of leaving.
bool holds_after(Guard guard, const State& state, const Ask& ask, Now now, const Policy& policy,
                 Events& out) {
  switch (guard) {
    case Guard::inspected: return stand_on(state.inspected.holds(), state.inspected, out);
    case Guard::warned:
      return held_on(state, ask) || stand_on(state.warned.holds(), state.warned, out);
    case Guard::locks_off:
      return state.locks.empty() && state.power != Power::isolated && !is_held(state);
    case Guard::looked: return stand_on(state.looked.holds(), state.looked, out);
    case Guard::look_in_time: return look_in_time(state, now, policy);
    case Guard::device_read: return !state.device_opened;
    case Guard::not_on: return state.power != Power::on;
    case Guard::held_locked:
      return stand_on(is_held(state) && needs_tag(state.control), state.held, out);
    case Guard::tagged: return stand_on(state.tagged.holds(), state.tagged, out);
    case Guard::nothing_hangs: return state.locks.empty();
    case Guard::nothing_isolated: return nothing_isolated(state);
    case Guard::inspected_since:
      return stand_on(!state.last_hands_in.holds() || state.inspected.holds(), state.inspected, out);
    default: return false;
  }
}

bool holds_machine(Guard guard, const Ask& ask) {
  const Machine& machine = ask.machine;
  switch (guard) {
    case Guard::upright: return machine.upright;
    case Guard::door_shut: return !machine.door_open;
    case Guard::supply_parted: return machine.supply_parted;
    case Guard::wet_joined: return machine.wet_joined;
    case Guard::leads_joined: return machine.leads_joined;
    case Guard::live_covers_on: return machine.live_covers_on;
    case Guard::earths_fast: return machine.earths_fast;
    case Guard::tests_done: return machine.tests_done;
    case Guard::place_open: return machine.supply_open;
    default: return false;
  }
}

}  // namespace

bool supply_dead(const State& state, Now now, const Policy& shop) {
  return state.power == Power::supply_dead && state.held.holds() &&
         fresh(state, state.supply_dead, now, bounded(shop));
}

bool group_dead(const State& state, const std::string& id, Now now, const Policy& shop) {
  const GroupProof* group = state.group(id);
  return group != nullptr && supply_dead(state, now, shop) &&
         fresh(state, group->dead, now, bounded(shop));
}

bool water_off(const State& state, Now now, const Policy& shop) {
  return (state.water == Water::relieved || state.water == Water::holding) && state.shut.holds() &&
         fresh(state, state.relieved, now, bounded(shop));
}

bool holds(Guard guard, const State& state, const Ask& ask, Now now, const Policy& policy,
           Events& out) {
  switch (guard) {
    case Guard::job_open: return state.ending == Ending::none;
    case Guard::clock_sure: return now.utc_ms >= state.newest.utc_ms;
    case Guard::own_work: return state.worker.empty() || state.worker == ask.by;
    case Guard::gap_closed: return !state.gap_open;
    case Guard::prepared: return stand_on(state.prepared.holds(), state.prepared, out);
    case Guard::energies_listed:
      return (energies_of(ask.demand.contacts) & ~state.energies) == 0;
    case Guard::stopped: return stand_on(state.stopped.holds(), state.stopped, out);
    case Guard::isolated:
      return stand_on(state.power == Power::isolated || is_held(state), state.isolated, out);
    case Guard::held: return stand_on(is_held(state), state.held, out);
    case Guard::tried: return stand_on(state.tried != Tried::no, state.tried_at, out);
    case Guard::supply_dead:
      return stand_on(supply_dead(state, now, policy), state.isolated, out) &&
             stand_on(true, state.supply_dead, out);
    case Guard::groups_dead: return groups_dead(state, ask, now, policy, out);
    case Guard::charge_gone: return charge_gone(state, ask, now, policy, out);
    case Guard::bled:
      return ask.demand.bleed_seconds <= 0 ||
             (state.held.holds() &&
              age_ms(state.held, now) >= std::int64_t{ask.demand.bleed_seconds} * 1000);
    case Guard::water_shut: return stand_on(is_shut(state), state.shut, out);
    case Guard::water_relieved:
      return stand_on(water_off(state, now, policy), state.shut, out) &&
             stand_on(true, state.relieved, out);
    case Guard::water_holding:
      return !ask.demand.opens_wet ||
             stand_on(state.water == Water::holding && fresh(state, state.holding, now, policy),
                      state.holding, out);
    case Guard::water_static:
      return stand_on(state.water == Water::static_on, state.water_back, out);
    case Guard::watched_long:
      return state.water == Water::relieved &&
             age_ms(state.relieved, now) >= std::int64_t{policy.watch_seconds} * 1000;
    case Guard::cooled: return cooled(state, ask, out);
    case Guard::secured: return secured(state, ask, out);
    case Guard::stable:
      return ask.machine.stable || stand_on(state.propped.holds(), state.propped, out);
    case Guard::people_enough: return ask.demand.people <= state.people;
    case Guard::frame_nil:
      return (!state.frame_first && !state.frame_live) || supply_dead(state, now, policy) ||
             stand_on(state.frame_nil.holds(), state.frame_nil, out);
    case Guard::not_exposed:
      // Where the point of proof is covered, its covers are the only way on.
      return !state.exposed || !ask.machine.supply_open || supply_dead(state, now, policy);
    case Guard::on_way: return ask.demand.on_way;
    case Guard::no_live_way: return !ask.demand.live_way;
    case Guard::running:
      return stand_on(state.power == Power::on, state.power_back, out) ||
             (ask.demand.act == Act::run &&
              stand_on(state.water == Water::run, state.water_back, out));
    case Guard::live_reason: return ask.demand.live_reason;
    default:
      return holds_machine(guard, ask) || holds_after(guard, state, ask, now, policy, out) ||
             holds_said(guard, state, ask, now, policy, out);
  }
}

}  // namespace kp::safety
