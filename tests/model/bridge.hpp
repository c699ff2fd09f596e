#pragma once
// Between the gate and its oracle: concrete events for the oracle's, a concrete state for a set of
// bits, and back. Times are fresh, ten minutes old or half a day old.

#include <string>

#include "model/oracle.hpp"
#include "safety/gate.hpp"

namespace kp::model {

inline constexpr std::int64_t kNow = 1'000'000'000'000;
inline constexpr std::int64_t kTenMinutes = 601'000;
inline constexpr std::int64_t kHalfDay = (4 * 3600 + 1) * 1000;

inline bool has(Bits bits, Bit one) { return (bits & of(one)) != 0; }

inline safety::Event read_at(safety::Station station, double volts,
                             safety::MeterFunction function = safety::MeterFunction::volts_ac,
                             const char* meter = "T1") {
  safety::Event event;
  event.kind = safety::EventKind::reading;
  event.station = station;
  event.volts = volts;
  event.function = function;
  event.meter = meter;
  return event;
}

inline safety::Event plain(safety::EventKind kind) {
  safety::Event event;
  event.kind = kind;
  return event;
}

inline safety::Event prepare_as(safety::Connection connection) {
  safety::Event event = plain(safety::EventKind::prepared);
  event.connection = connection;
  event.energies = (1U << safety::kEnergies) - 1;
  return event;
}

inline safety::Event isolate_by(safety::Means means, const char* lock) {
  safety::Event event = plain(safety::EventKind::isolated);
  event.means = means;
  event.lock = lock;
  return event;
}

inline safety::Event step(std::vector<safety::Contact> contacts, int people = 1) {
  safety::Event event = plain(safety::EventKind::step_done);
  event.contacts = std::move(contacts);
  event.people = people;
  return event;
}

inline safety::Event unlock(const char* lock, bool by_supervisor = false) {
  safety::Event event = plain(safety::EventKind::lock_removed);
  event.lock = lock;
  event.by_supervisor = by_supervisor;
  return event;
}

inline safety::Event end_as(safety::Ending ending) {
  safety::Event event = plain(safety::EventKind::ended);
  event.ending = ending;
  return event;
}

inline safety::Event capacitor(double volts) {
  safety::Event event = plain(safety::EventKind::charge_gone);
  event.volts = volts;
  event.function = safety::MeterFunction::volts_dc;
  event.meter = "T1";
  return event;
}

inline safety::Event surface(double celsius) {
  safety::Event event = plain(safety::EventKind::cooled);
  event.celsius = celsius;
  return event;
}

inline safety::Event crowd(int people) {
  safety::Event event = plain(safety::EventKind::helpers_here);
  event.people = people;
  return event;
}

inline safety::Event resume_after(std::int64_t away_seconds) {
  safety::Event event = plain(safety::EventKind::resumed);
  event.away_seconds = away_seconds;
  return event;
}

inline safety::Event without_person(Ev ev) {
  using enum safety::EventKind;
  using safety::MeterFunction;
  using safety::Station;
  switch (ev) {
    case Ev::prepare_fixed:
    case Ev::prepare_other_person: return prepare_as(safety::Connection::fixed);
    case Ev::prepare_cord: return prepare_as(safety::Connection::cord);
    case Ev::stop: return plain(stopped);
    case Ev::iso_lock:
    case Ev::iso_other_person: return isolate_by(safety::Means::breaker_locked, "own");
    case Ev::iso_plug: return isolate_by(safety::Means::unplugged_in_sight, "");
    case Ev::iso_door: return isolate_by(safety::Means::door_switch, "own");
    case Ev::try_quiet: return plain(controls_tried);
    case Ev::try_answered: {
      safety::Event event = plain(controls_tried);
      event.answered = true;
      return event;
    }
    case Ev::k1_ok: return read_at(Station::known_before, 121);
    case Ev::k1_fail: return read_at(Station::known_before, 0.4);
    case Ev::k1_ohms: return read_at(Station::known_before, 121, MeterFunction::ohms);
    case Ev::ln_ok: return read_at(Station::line_neutral, 0.1);
    case Ev::ln_live: return read_at(Station::line_neutral, 119.8);
    case Ev::ln_other_meter:
      return read_at(Station::line_neutral, 0.1, MeterFunction::volts_ac, "T2");
    case Ev::le_ok: return read_at(Station::line_earth, 0.2);
    case Ev::le_live: return read_at(Station::line_earth, 50);
    case Ev::le_ohms: return read_at(Station::line_earth, 0.2, MeterFunction::ohms);
    case Ev::ne_ok: return read_at(Station::neutral_earth, 0);
    case Ev::ne_live: return read_at(Station::neutral_earth, 60);
    case Ev::ne_ghost: return read_at(Station::neutral_earth, 31);
    case Ev::k2_ok:
    case Ev::k2_other_person: return read_at(Station::known_after, 120.6);
    case Ev::k2_fail: return read_at(Station::known_after, 0);
    case Ev::k2_other_meter:
      return read_at(Station::known_after, 120.6, MeterFunction::volts_ac, "T2");
    case Ev::restart: return plain(prove_restarted);
    case Ev::shut:
    case Ev::shut_earlier: return plain(water_shut);
    case Ev::relieve: return plain(water_relieved);
    case Ev::charge_gone: return capacitor(0.5);
    case Ev::charge_left: return capacitor(60);
    case Ev::cool: return surface(30);
    case Ev::still_hot: return surface(70);
    case Ev::secure: return plain(secured);
    case Ev::posture: return plain(posture_changed);
    case Ev::two_people: return crowd(2);
    case Ev::one_person: return crowd(1);
    case Ev::step_plain:
    case Ev::step_other_person: return step({});
    case Ev::step_charge: return step({safety::Contact::stored_charge});
    case Ev::step_hot: return step({safety::Contact::hot, safety::Contact::live});
    case Ev::step_heavy: return step({safety::Contact::heavy, safety::Contact::wet});
    case Ev::step_two: return step({safety::Contact::sharp}, 2);
    case Ev::step_running: {
      safety::Event event = step({});
      event.hands_in = false;
      event.running = true;
      return event;
    }
    case Ev::inspect: return plain(inspected);
    case Ev::panels: return plain(panels_set);
    case Ev::clear: return plain(people_clear);
    case Ev::unlock_own: return unlock("own");
    case Ev::unlock_other_self:
    case Ev::unlock_other_owner: return unlock("other");
    case Ev::unlock_supervisor: return unlock("other", true);
    case Ev::power_back: return plain(power_restored);
    case Ev::water_back: return plain(water_restored);
    case Ev::tag: {
      safety::Event event = plain(tag_hung);
      event.tag = "7";
      return event;
    }
    case Ev::end_repaired: return end_as(safety::Ending::repaired);
    case Ev::end_no_fault: return end_as(safety::Ending::no_fault);
    case Ev::end_waiting: return end_as(safety::Ending::waiting_for_parts);
    case Ev::end_not_used: return end_as(safety::Ending::not_to_be_used);
    case Ev::found_live: return plain(power_found_on);
    case Ev::found_wet: return plain(water_found_on);
    case Ev::re_energised: return plain(re_energised);
    case Ev::left_alone: return plain(left_alone);
    case Ev::taken_over: return plain(taken_over);
    case Ev::resumed_short: return resume_after(60);
    case Ev::fact_earlier: return resume_after(0);
    case Ev::resumed_long: return resume_after(301);
    case Ev::clock_doubt: return plain(clock_doubted);
    case Ev::reopen:
    case Ev::reopen_other: return plain(reopened);
    case Ev::pass_ten_minutes:
    case Ev::pass_half_day:
    case Ev::count: break;
  }
  return safety::Event{};
}

inline bool by_other(Ev ev) {
  return ev == Ev::prepare_other_person || ev == Ev::iso_other_person ||
         ev == Ev::k2_other_person || ev == Ev::step_other_person ||
         ev == Ev::unlock_other_owner || ev == Ev::taken_over || ev == Ev::reopen_other;
}

/// The event as `worker` or, for some, `other` would write it.
inline safety::Event event_of(Ev ev, std::int64_t id, std::int64_t now_ms,
                              const std::string& worker, const std::string& other) {
  safety::Event event = without_person(ev);
  event.id = id;
  event.at.utc_ms = now_ms;
  event.person = by_other(ev) ? other : worker;
  if (ev == Ev::shut_earlier || ev == Ev::fact_earlier) {
    event.at.utc_ms = now_ms - 1000;
  }
  return event;
}

/// What the oracle would see in this state at that time.
inline Bits abstract(const safety::State& state, std::int64_t now_ms) {
  Bits bits = 0;
  const auto put = [&](Bit bit, bool on) { bits |= on ? of(bit) : 0; };
  const auto old = [&](const safety::Stamp& stamp) {
    return now_ms - stamp.at.utc_ms > std::int64_t{4} * 3600 * 1000;
  };
  using safety::PowerState;
  using safety::WaterState;
  put(kPrepared, state.prepared.holds());
  put(kWorker, !state.worker.empty());
  put(kFixed, state.connection == safety::Connection::fixed);
  put(kStopped, state.stopped.holds());
  put(kLive, state.power == PowerState::taken_as_live);
  put(kIso, state.power == PowerState::isolated);
  put(kDead, state.power == PowerState::proved_dead);
  put(kTest, state.power == PowerState::live_for_test);
  put(kByLock, state.isolated.holds() && !state.lock.empty());
  put(kTried, state.controls_tried.holds());
  const bool off = has(bits, kIso);
  const bool open = state.verdict == safety::ProveVerdict::unfinished;
  const std::size_t count = state.readings.size();
  put(kS1, off && open && count == 1);
  put(kS2, off && open && count == 2);
  put(kS3, off && open && count == 3);
  put(kS4, off && open && count == 4);
  put(kBad, off && !open);
  put(kLate, off && open && count > 0 && now_ms - state.readings[0].at.utc_ms > 600'000);
  put(kProofOld, has(bits, kDead) && old(state.proved));
  put(kWOn, state.water == WaterState::taken_as_on);
  put(kWShut, state.water == WaterState::shut);
  put(kWRel, state.water == WaterState::relieved);
  put(kWTest, state.water == WaterState::on_for_test);
  put(kWOld, has(bits, kWRel) && old(state.relieved));
  put(kCharge, state.charge_gone.holds());
  put(kChargeOld, state.charge_gone.holds() && old(state.charge_gone));
  put(kCooled, state.cooled.holds());
  put(kSecured, state.secured.holds());
  put(kTwo, state.people == 2);
  put(kInsp, state.inspected.holds());
  put(kPanels, state.panels_set.holds());
  put(kClear, state.people_clear.holds());
  for (const safety::Lock& lock : state.locks) {
    put(lock.owner == state.worker ? kLockOwn : kLockOther, true);
  }
  put(kTag, state.tagged.holds());
  put(kHands, state.last_hands_in.holds());
  put(kRepaired, state.ending == safety::Ending::repaired);
  put(kNoFault, state.ending == safety::Ending::no_fault);
  put(kWaiting, state.ending == safety::Ending::waiting_for_parts);
  put(kNotUsed, state.ending == safety::Ending::not_to_be_used);
  return bits;
}

/// The plainest concrete state that the oracle would see so at kNow.
inline safety::State concrete(Bits bits) {
  using safety::Stamp;
  safety::State state;
  state.worker = has(bits, kWorker) ? "Ana" : "";
  state.newest.utc_ms = kNow;
  state.newest_event = 100;
  std::int64_t id = 0;
  const auto stamp = [&](Bit bit, Stamp& out, std::int64_t age = 0) {
    ++id;
    if (has(bits, bit)) {
      out = Stamp{id, {kNow - age, 0}, state.worker};
    }
  };
  stamp(kPrepared, state.prepared);
  state.energies = has(bits, kPrepared) ? (1U << safety::kEnergies) - 1 : 0;
  state.connection = has(bits, kFixed) ? safety::Connection::fixed : safety::Connection::cord;
  stamp(kStopped, state.stopped);
  state.power = has(bits, kDead)   ? safety::PowerState::proved_dead
                : has(bits, kIso)  ? safety::PowerState::isolated
                : has(bits, kTest) ? safety::PowerState::live_for_test
                                   : safety::PowerState::taken_as_live;
  stamp(kTest, state.power_back);
  if (has(bits, kIso) || has(bits, kDead)) {
    state.isolated = Stamp{50, {kNow, 0}, state.worker};
    state.means = has(bits, kByLock) ? safety::Means::breaker_locked
                                     : safety::Means::unplugged_in_sight;
    state.lock = has(bits, kByLock) ? "own" : "";
  }
  if (has(bits, kLockOwn)) {
    state.locks.push_back({"own", state.worker, Stamp{51, {kNow, 0}, state.worker}});
  }
  if (has(bits, kLockOther)) {
    state.locks.push_back({"other", "Ben", Stamp{52, {kNow, 0}, "Ben"}});
  }
  stamp(kTried, state.controls_tried);
  const std::int64_t age = has(bits, kLate) ? kTenMinutes : has(bits, kProofOld) ? kHalfDay : 0;
  const int count = has(bits, kS1)     ? 1
                    : has(bits, kS2)   ? 2
                    : has(bits, kS3)   ? 3
                    : has(bits, kS4)   ? 4
                    : has(bits, kDead) ? 5
                                       : 0;
  for (int i = 0; i < count; ++i) {
    const double volts = i == 0 || i == 4 ? 121 : 0.1;
    state.readings.push_back({static_cast<safety::Station>(i), volts,
                              safety::MeterFunction::volts_ac, "T1", {kNow - age, 0}, 60 + i});
  }
  if (has(bits, kBad)) {
    state.readings.push_back({safety::Station::known_before, 0,
                              safety::MeterFunction::volts_ac, "T1", {kNow, 0}, 60});
    state.verdict = safety::ProveVerdict::tester_faulty;
  }
  if (has(bits, kDead)) {
    state.verdict = safety::ProveVerdict::proven_dead;
    state.proved = Stamp{64, {kNow - age, 0}, state.worker};
  }
  state.water = has(bits, kWRel)    ? safety::WaterState::relieved
                : has(bits, kWShut) ? safety::WaterState::shut
                : has(bits, kWTest) ? safety::WaterState::on_for_test
                                    : safety::WaterState::taken_as_on;
  if (has(bits, kWRel) || has(bits, kWShut)) {
    state.shut = Stamp{70, {kNow, 0}, state.worker};
  }
  stamp(kWRel, state.relieved, has(bits, kWOld) ? kHalfDay : 0);
  stamp(kWTest, state.water_back);
  stamp(kCharge, state.charge_gone, has(bits, kChargeOld) ? kHalfDay : 0);
  stamp(kCooled, state.cooled);
  stamp(kSecured, state.secured);
  state.people = has(bits, kTwo) ? 2 : 1;
  stamp(kInsp, state.inspected);
  stamp(kPanels, state.panels_set);
  stamp(kClear, state.people_clear);
  stamp(kTag, state.tagged);
  state.tag = has(bits, kTag) ? "7" : "";
  stamp(kHands, state.last_hands_in);
  stamp(kRepaired, state.ended);
  state.ending = has(bits, kRepaired)  ? safety::Ending::repaired
                 : has(bits, kNoFault) ? safety::Ending::no_fault
                 : has(bits, kWaiting) ? safety::Ending::waiting_for_parts
                 : has(bits, kNotUsed) ? safety::Ending::not_to_be_used
                                       : safety::Ending::none;
  return state;
}

}  // namespace kp::model
