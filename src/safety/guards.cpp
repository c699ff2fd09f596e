// The predicates behind the gate's rows.
#include <algorithm>
#include <cmath>

#include "safety/guards.hpp"

namespace kp::safety {

namespace {

// A proof is believed while it is held by the worker present, no gap is unexplained and it is not
// older than the policy says, by whichever clock says more.
bool fresh(const State& state, const Stamp& proof, Now now, const Policy& policy) {
  const std::int64_t age = age_ms(proof, now);
  const std::int64_t limit = static_cast<std::int64_t>(policy.proof_seconds) * 1000;
  return proof.holds() && proof.person == state.worker && !state.gap_open &&
         now.utc_ms >= state.newest.utc_ms && age >= 0 && age <= limit;
}

bool has(const Demand& demand, Contact contact) {
  return std::find(demand.contacts.begin(), demand.contacts.end(), contact) !=
         demand.contacts.end();
}

bool groups_dead(const State& state, const Ask& ask, Now now, const Policy& policy, Events& out) {
  bool all = true;
  for (const GroupAsked& asked : ask.demand.groups) {
    const GroupProof* group = state.group(asked.place.id);
    // What no reading can show is not shown.
    all = !asked.place.pairs.empty() && group != nullptr &&
          stand_on(fresh(state, group->dead, now, policy), group->dead, out) && all;
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

/// A machine that lies cannot be read: it is stood up first, held.
bool stands_up(const Ask& ask) {
  return ask.demand.act == Act::lay_down && !ask.machine.upright;
}

bool look_in_time(const State& state, Now now, const Policy& policy) {
  // Who held it and was called away before the try did not walk for an hour.
  const std::int64_t most = 300'000;
  const std::int64_t walk = std::clamp<std::int64_t>(state.walk_ms, 0, most);
  const std::int64_t age = age_ms(state.looked, now);
  return !state.looked.holds() ||
         (age >= 0 && age <= walk + static_cast<std::int64_t>(policy.look_seconds) * 1000);
}

/// What held for one worker at a loose machine does not for two, or for one that is built in.
bool control_stands(const State& state, const Ask& ask) {
  const int people = std::max({ask.machine.workers, ask.demand.people, state.people});
  return !is_held(state) ||
         exclusive(state.control, {state.means, state.built_in, people, false});
}

/// One of several locks comes off while the worker's own hangs on: nothing is given back yet.
bool held_on(const State& state, const Ask& ask) {
  const auto* off = said<LockOff>(ask);
  return off != nullptr && stays_held(state, off->lock);
}

bool nothing_isolated(const State& state) {
  const bool power = state.power == Power::on || state.power == Power::live;
  const bool water = state.water == Water::run || state.water == Water::open;
  return power && water;
}

/// The order of giving back and of leaving.
bool holds_after(Guard guard, const State& state, const Ask& ask, Now now, const Policy& policy,
                 Events& out) {
  switch (guard) {
    case Guard::inspected: return stand_on(state.inspected.holds(), state.inspected, out);
    case Guard::warned:
      return held_on(state, ask) || stand_on(state.warned.holds(), state.warned, out);
    case Guard::control_stands: return control_stands(state, ask);
    case Guard::locks_off:
      return state.locks.empty() && state.power != Power::isolated && !is_held(state);
    case Guard::looked: return stand_on(state.looked.holds(), state.looked, out);
    case Guard::look_in_time: return look_in_time(state, now, policy);
    case Guard::device_read: return !state.device_opened;
    case Guard::not_on: return state.power != Power::on;
    case Guard::held_locked:
      return stand_on(is_held(state) && needs_tag(state.control), state.held, out);
    case Guard::tagged: return stand_on(state.tagged.holds(), state.tagged, out);
    case Guard::barred:
      return ask.machine.nothing_open || stand_on(state.barred.holds(), state.barred, out);
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
    case Guard::door_shut: {
      // With the door open nothing happens on a live machine either: the try tells nothing then.
      const auto* tried = said<ControlsTried>(ask);
      return !machine.door_open || (tried != nullptr && tried->answer != Answer::nothing);
    }
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

bool water_tight(const State& state, Now now, const Policy& shop) {
  return state.water == Water::shut && state.shut.holds() &&
         fresh(state, state.tight, now, bounded(shop));
}

namespace {

/// Covers go on after the static test while the tested joints stay shut.
bool stays_tight(const State& state, const Ask& ask, Now now, const Policy& policy) {
  return ask.demand.act != Act::lay_down && !ask.demand.opens_wet && ask.machine.wet_joined &&
         water_tight(state, now, policy);
}

}  // namespace

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
      if (stands_up(ask)) {
        return stand_on(is_held(state), state.held, out);
      }
      return stand_on(supply_dead(state, now, policy), state.isolated, out) &&
             stand_on(true, state.supply_dead, out);
    case Guard::groups_dead: return groups_dead(state, ask, now, policy, out);
    case Guard::charge_gone: return charge_gone(state, ask, now, policy, out);
    case Guard::bled:
      return ask.demand.bleed_seconds <= 0 ||
             (state.held.holds() &&
              age_ms(state.held, now) >= std::int64_t{ask.demand.bleed_seconds} * 1000);
    case Guard::neutral_quiet:
      return !ask.demand.parts_neutral ||
             stand_on(fresh(state, state.neutral_quiet, now, policy), state.neutral_quiet, out);
    case Guard::water_shut: return stand_on(is_shut(state), state.shut, out);
    case Guard::water_relieved:
      if (stays_tight(state, ask, now, policy)) {
        return stand_on(true, state.shut, out) && stand_on(true, state.tight, out);
      }
      return stands_up(ask) || (stand_on(water_off(state, now, policy), state.shut, out) &&
                                stand_on(true, state.relieved, out));
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
    case Guard::stands_alone: return ask.machine.stable;
    case Guard::people_enough: return ask.demand.people <= state.people;
    case Guard::frame_nil:
      return (!state.frame_first && !state.frame_live) || supply_dead(state, now, policy) ||
             stand_on(state.frame_nil.holds(), state.frame_nil, out);
    case Guard::untroubled:
      // Frame read nil or not: behind the tub something may be wet or worn through.
      return (!state.frame_first && !state.frame_live) || supply_dead(state, now, policy);
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
