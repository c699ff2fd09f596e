#include "safety/prove_dead.hpp"

#include <cmath>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

namespace {

const Reading* newest(const std::vector<Reading>& readings, Station station) {
  const Reading* found = nullptr;
  for (const Reading& reading : readings) {
    if (reading.station == station) {
      found = &reading;
    }
  }
  return found;
}

bool is_pair(Station station) {
  return station == Station::line_neutral || station == Station::line_earth ||
         station == Station::neutral_earth;
}

bool shows_volts(MeterFunction function) {
  return can_prove(function) || function == MeterFunction::volts_dc ||
         function == MeterFunction::non_contact || function == MeterFunction::solenoid;
}

bool source_shown(const Reading& reading, const Policy& policy) {
  const double volts = std::fabs(reading.volts);
  return std::isfinite(volts) && volts >= policy.known_low_volts &&
         volts <= policy.known_high_volts;
}

bool any_pair_live(const std::vector<Reading>& readings, const Policy& policy) {
  for (const Reading& reading : readings) {
    const bool high =
        !std::isfinite(reading.volts) || std::fabs(reading.volts) >= policy.live_from_volts;
    if (is_pair(reading.station) && shows_volts(reading.function) && high) {
      return true;
    }
  }
  return false;
}

bool any_pair_ghost(const std::vector<Reading>& readings, const Policy& policy) {
  for (const Reading& reading : readings) {
    if (is_pair(reading.station) && !(std::fabs(reading.volts) < policy.dead_below_volts)) {
      return true;
    }
  }
  return false;
}

bool any_wrong_function(const std::vector<Reading>& readings) {
  for (const Reading& reading : readings) {
    if (!can_prove(reading.function)) {
      return true;
    }
  }
  return false;
}

// The same instrument throughout, every reading inside the time, in the order of the stations.
bool one_meter_in_time(const std::vector<Reading>& readings, const Reading& before,
                       const Policy& policy) {
  const std::int64_t start = before.at.utc_ms;
  const std::int64_t limit = static_cast<std::int64_t>(policy.prove_seconds) * 1000;
  const Reading* after = newest(readings, Station::known_after);
  for (const Reading& reading : readings) {
    const std::int64_t at = reading.at.utc_ms;
    const bool after_last = is_pair(reading.station) && after != nullptr && at > after->at.utc_ms;
    if (reading.meter != before.meter || at < start || at - start > limit || after_last) {
      return false;
    }
  }
  return true;
}

int pairs_read(const std::vector<Reading>& readings) {
  int count = 0;
  for (const Station station :
       {Station::line_neutral, Station::line_earth, Station::neutral_earth}) {
    count += newest(readings, station) != nullptr ? 1 : 0;
  }
  return count;
}

}  // namespace

bool can_prove(MeterFunction function) {
  return function == MeterFunction::volts_ac ||
         function == MeterFunction::volts_ac_low_impedance ||
         function == MeterFunction::two_pole_detector;
}

const char* words(MeterFunction function) {
  static const char* const names[kMeterFunctions] = {
      "V~", "V~, low impedance", "two-pole detector", "V DC", "ohms", "diode", "amperes",
      "proximity tester", "solenoid tester"};
  return names[static_cast<int>(function)];
}

ProveVerdict judge(const std::vector<Reading>& readings, const Policy& shop, bool closed) {
  const Policy policy = bounded(shop);
  const Reading* before = newest(readings, Station::known_before);
  const Reading* after = newest(readings, Station::known_after);
  if (before != nullptr && can_prove(before->function) && !source_shown(*before, policy)) {
    return ProveVerdict::tester_faulty;
  }
  if (any_pair_live(readings, policy)) {
    return ProveVerdict::live;
  }
  if (before == nullptr) {
    const bool nothing_yet = readings.empty() && !closed;
    return nothing_yet ? ProveVerdict::unfinished : ProveVerdict::not_before;
  }
  if (any_wrong_function(readings)) {
    return ProveVerdict::wrong_function;
  }
  if (!one_meter_in_time(readings, *before, policy)) {
    return ProveVerdict::late_or_other;
  }
  if (after != nullptr && !source_shown(*after, policy)) {
    return ProveVerdict::tester_died;
  }
  if (any_pair_ghost(readings, policy)) {
    return ProveVerdict::ghost;
  }
  const bool all_pairs = pairs_read(readings) == 3;
  if (after != nullptr && all_pairs) {
    return ProveVerdict::proven_dead;
  }
  return after != nullptr || closed ? ProveVerdict::incomplete : ProveVerdict::unfinished;
}

std::optional<Station> next_reading(const std::vector<Reading>& readings, const Policy& policy) {
  if (judge(readings, policy) != ProveVerdict::unfinished) {
    return std::nullopt;
  }
  for (int i = 0; i < kStations; ++i) {
    const auto station = static_cast<Station>(i);
    if (newest(readings, station) == nullptr) {
      return station;
    }
  }
  return std::nullopt;
}

StationRange range_of(Station station, const Policy& shop) {
  const Policy policy = bounded(shop);
  StationRange range;
  if (is_pair(station)) {
    range.good_high = policy.dead_below_volts;
  } else {
    range.good_low = policy.known_low_volts;
    range.good_high = policy.known_high_volts;
  }
  return range;
}

const StationWords& words_of(Station station) {
  static const StationWords rows[kStations] = {
      {"Tester on a known live point", "Touch the known live point. What does it read?",
       "A tester that cannot show a live point cannot show a dead one."},
      {"Line to neutral", "Touch line and neutral. What does it read?",
       "This pair feeds every load of the machine."},
      {"Line to earth", "Touch line and earth. What does it read?",
       "A broken neutral leaves the line live while line to neutral reads nothing."},
      {"Neutral to earth", "Touch neutral and earth. What does it read?",
       "Swapped wires or a shared neutral make the neutral live."},
      {"Tester on the known point again", "Touch the known live point again. What does it read?",
       "A lead or a battery that failed in between makes everything look dead."}};
  return rows[static_cast<int>(station)];
}

const VerdictWords& words_of(ProveVerdict verdict) {
  static const VerdictWords rows[kProveVerdicts] = {
      {"unfinished", "Not proved yet", "Take the next reading."},
      {"proven-dead", "Proved dead", "Keep the isolation as it is while you work."},
      {"tester-died", "Not proved: the tester failed",
       "Repair or change the tester, and repeat all five readings."},
      {"live", "LIVE", "Keep hands out: it is live. Isolate the supply again."},
      {"tester-faulty", "Tester faulty", "Change the tester, and repeat all five readings."},
      {"incomplete", "Not proved: a pair is missing",
       "Read all three pairs between two proofs of the tester."},
      {"late-or-other", "Not proved: too late, or another tester",
       "Repeat all five readings with one tester and without a break."},
      {"not-before", "Not proved: tester not tried first",
       "Try the tester on a known live point before you read the pairs."},
      {"wrong-function", "Not proved: wrong range",
       "Set a contact tester to AC volts, and repeat all five readings."},
      {"ghost", "Not proved: ghost voltage",
       "Use the low-impedance range, and repeat all five readings."}};
  return rows[static_cast<int>(verdict)];
}

}  // namespace kp::safety
