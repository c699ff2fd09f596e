// The predicates on what somebody says: whether it may be believed.
#include <algorithm>
#include <cmath>

#include "safety/guards.hpp"

namespace kp::safety {

namespace {

bool control_counts(const State& state, const Ask& ask) {
  const auto* fact = said<HeldFast>(ask);
  if (fact == nullptr) {
    return false;
  }
  const bool reasoned = fact->control != Control::tag_and_measure || !fact->measure.empty();
  return reasoned && exclusive(fact->control, {state.means, state.built_in, ask.machine.workers,
                                               false});
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
  if (const auto* neutral = said<NeutralRead>(ask)) return neutral->tester;
  return {};
}

bool function_proves(const Ask& ask) {
  if (const auto* frame = said<FrameRead>(ask)) return can_prove(frame->function);
  if (const auto* neutral = said<NeutralRead>(ask)) {
    return neutral->function == MeterFunction::amperes;
  }
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
  if (const auto* neutral = said<NeutralRead>(ask)) {
    return std::isfinite(neutral->amperes) && std::fabs(neutral->amperes) <= 1000;
  }
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

}  // namespace

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

}  // namespace kp::safety
