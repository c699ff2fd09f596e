#include <cmath>

#include "base/text.hpp"
#include "safety/gate.hpp"

namespace kp::safety {

namespace {

using Reasons = std::vector<Reason>;

bool off_the_supply(const State& state) {
  return state.power == PowerState::isolated || state.power == PowerState::proved_dead;
}

void need(bool holds, const char* code, const char* sentence, Reasons& out) {
  if (!holds) {
    out.push_back({code, sentence});
  }
}

void need_release(const State& state, Reasons& out) {
  need(state.inspected.holds(), "not-inspected", "Inspect the area and count the tools first.", out);
  need(state.people_clear.holds(), "people-not-clear", "Keep people and hands clear first.", out);
}

void need_panels(const State& state, Reasons& out) {
  need(state.panels_set.holds(), "panels-not-set",
       "Set the panels as the machine needs them first.", out);
}

void check_prepared(const State& state, const Event& event, Reasons& out) {
  const bool own = state.worker.empty() || state.worker == event.person;
  need(own, "other-person", "Record the hand-over before another person goes on.", out);
  const bool listed =
      in_set(event.energies, Energy::mains) && in_set(event.energies, Energy::water_pressure);
  need(listed, "energies-missing", "List mains electricity and water pressure at least.", out);
}

void check_isolated(const State& state, const Event& event, Reasons& out) {
  need(state.stopped.holds(), "not-stopped", "Stop the machine by its normal control first.", out);
  const MeansRule& rule = rule_of(event.means);
  if (!counts(event.means, state.connection)) {
    out.push_back({"means-refused",
                   rule.isolates ? "Isolate by a means that fits the supply of this machine."
                                 : cat("Choose another means. ", rule.why)});
  }
  if (rule.needs_lock) {
    need(!event.lock.empty(), "lock-missing", "Fit a lock and enter its number.", out);
  }
  for (const Lock& lock : state.locks) {
    if (lock.id == event.lock && lock.owner != event.person) {
      out.push_back({"lock-of-another", "Fit a lock of your own."});
    }
  }
}

void check_reading(const State& state, const Event& event, const Policy& policy, Reasons& out) {
  need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
  need(state.controls_tried.holds(), "controls-not-tried",
       "Press start and see that nothing happens first.", out);
  const StationRange range = range_of(event.station, policy);
  const bool sane = std::isfinite(event.volts) && event.volts >= range.field_low &&
                    event.volts <= range.field_high;
  need(sane, "reading-out-of-range", "Enter a reading from 0 to 1000 volts.", out);
  need(!event.meter.empty(), "meter-missing", "Enter the number of the tester.", out);
  const std::optional<Station> next = state.verdict == ProveVerdict::unfinished
                                          ? next_reading(state.readings, policy)
                                          : std::optional<Station>(Station::known_before);
  need(next == event.station, "wrong-order", "Take the readings in their order.", out);
}

void check_charge(const State& state, const Event& event, const Policy& policy, Reasons& out) {
  need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
  need(event.function == MeterFunction::volts_dc, "wrong-function",
       "Set the meter to DC volts first.", out);
  need(!event.meter.empty(), "meter-missing", "Enter the number of the meter.", out);
  need(std::isfinite(event.volts) && std::fabs(event.volts) < policy.charge_gone_volts,
       "charge-still-there", "Discharge the capacitor again and measure it.", out);
}

void check_cooled(const State& state, const Event& event, const Policy& policy, Reasons& out) {
  need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
  need(std::isfinite(event.celsius) && event.celsius > -40 &&
           event.celsius < policy.cooled_below_celsius,
       "still-hot", "Let the parts cool longer. Measure the hottest surface again.", out);
}

void check_people(const Event& event, Reasons& out) {
  need(event.people >= 1 && event.people <= 6, "people-out-of-range",
       "Enter from one to six people.", out);
}

void check_lock_removed(const State& state, const Event& event, Reasons& out) {
  need_release(state, out);
  for (const Lock& lock : state.locks) {
    if (lock.id == event.lock) {
      need(lock.owner == event.person || event.by_supervisor, "lock-of-another",
           "Let the owner of the lock take it off.", out);
      return;
    }
  }
  out.push_back({"no-such-lock", "Choose a lock that hangs on this machine."});
}

void check_power_restored(const State& state, Reasons& out) {
  need_release(state, out);
  need_panels(state, out);
  need(state.locks.empty(), "lock-hanging", "Take each lock off; its owner removes it.", out);
  need(state.power != PowerState::live_for_test, "power-on", "Go on: power is on already.", out);
}

void check_water_restored(const State& state, Reasons& out) {
  need_release(state, out);
  need_panels(state, out);
  need(state.water != WaterState::on_for_test, "water-on", "Go on: water is on already.", out);
}

void check_step(const State& state, const Event& event, const Policy& policy, Reasons& out) {
  const Demand demand{event.contacts, event.hands_in, event.running, event.people};
  const Verdict verdict = permit(state, demand, event.at.utc_ms, policy);
  out.insert(out.end(), verdict.reasons.begin(), verdict.reasons.end());
}

void check_kind(const State& state, const Event& event, const Policy& policy, Reasons& out) {
  switch (event.kind) {
    case EventKind::prepared: return check_prepared(state, event, out);
    case EventKind::isolated: return check_isolated(state, event, out);
    case EventKind::reading: return check_reading(state, event, policy, out);
    case EventKind::charge_gone: return check_charge(state, event, policy, out);
    case EventKind::cooled: return check_cooled(state, event, policy, out);
    case EventKind::lock_removed: return check_lock_removed(state, event, out);
    case EventKind::power_restored: return check_power_restored(state, out);
    case EventKind::water_restored: return check_water_restored(state, out);
    case EventKind::step_done: return check_step(state, event, policy, out);
    case EventKind::secured:
    case EventKind::helpers_here: return check_people(event, out);
    case EventKind::controls_tried:
      return need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
    case EventKind::prove_restarted:
      return need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
    case EventKind::water_relieved:
      return need(state.water == WaterState::shut || state.water == WaterState::relieved,
                  "water-not-shut", "Shut the water first.", out);
    case EventKind::tag_hung:
      need(!event.tag.empty(), "tag-missing", "Enter the number of the tag.", out);
      return need(off_the_supply(state), "power-not-isolated", "Isolate the power first.", out);
    case EventKind::ended: {
      const Verdict verdict = may_end(state, event.ending, event.at.utc_ms, policy);
      out.insert(out.end(), verdict.reasons.begin(), verdict.reasons.end());
      return;
    }
    case EventKind::stopped:
    case EventKind::water_shut:
    case EventKind::posture_changed:
    case EventKind::inspected:
    case EventKind::panels_set:
    case EventKind::people_clear:
    case EventKind::power_found_on:
    case EventKind::water_found_on:
    case EventKind::re_energised:
    case EventKind::left_alone:
    case EventKind::taken_over:
    case EventKind::resumed:
    case EventKind::clock_doubted:
    case EventKind::reopened: return;
  }
}

}  // namespace

std::vector<Reason> refusals(const State& state, const Event& event, const Policy& shop) {
  Reasons out;
  if (is_fact(event.kind)) {
    return out;
  }
  const Policy policy = bounded(shop);
  need(event.id >= 1 && event.id >= state.newest_event, "event-order", "Number the events of a job upwards.", out);
  need(!event.person.empty(), "person-missing", "Enter who does the work.", out);
  need(state.ending == Ending::none, "job-ended", "Open the job again before you go on.", out);
  need(event.at.utc_ms >= state.newest.utc_ms, "clock-doubt",
       "Set the clock right and make the machine safe again.", out);
  if (event.kind != EventKind::prepared) {
    // may_end() has its own rule: a visit that never touched the machine may simply end.
    need(state.prepared.holds() || event.kind == EventKind::ended, "not-prepared",
         "List the energies of the machine first.", out);
    const bool own = state.worker == event.person || event.kind == EventKind::lock_removed ||
                     (event.kind == EventKind::ended && state.worker.empty());
    need(own, "other-person", "Record the hand-over before another person goes on.", out);
  }
  check_kind(state, event, policy, out);
  return out;
}

}  // namespace kp::safety
