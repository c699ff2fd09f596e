#include "safety/reading.hpp"

#include <algorithm>
#include <cmath>

namespace kp::safety {

namespace {

constexpr const char* kFunctionWords[kMeterFunctions] = {
    "volts-ac", "volts-ac-low-impedance", "two-pole-detector", "volts-dc", "ohms",
    "diode",    "amperes",                "non-contact",       "solenoid"};
constexpr const char* kFunctionTitles[kMeterFunctions] = {
    "V~", "V~, low impedance", "two-pole tester", "V DC", "ohms",
    "diode", "amperes", "proximity tester", "solenoid tester"};
constexpr const char* kRoleWords[kRoles] = {"known-before", "earth-shown", "pair", "pair-dc",
                                            "known-after"};
constexpr const char* kFoundWords[kFounds] = {"source-good", "source-out", "earth-good",
                                              "earth-missing", "nil", "ghost", "live"};

const Reading* newest(const Series& series, Role role, const Pair& pair) {
  const Reading* found = nullptr;
  for (const Reading& reading : series.readings) {
    if (reading.role == role && reading.pair == pair) {
      found = &reading;
    }
  }
  return found;
}

bool is_known(Role role) { return role == Role::known_before || role == Role::known_after; }

/// A series that cannot be closed any more begins anew.
bool is_spent(const Series& series) {
  return std::any_of(series.readings.begin(), series.readings.end(), [](const Reading& reading) {
    return reading.found == Found::source_out || reading.found == Found::live;
  });
}

/// The first of these pairs that has not been shown to be nil.
bool open_pair(const Series& series, Role role, const Place& place, Wanted& out) {
  for (const Pair& pair : place.pairs) {
    const Reading* taken = newest(series, role, pair);
    if (taken == nullptr || taken->found != Found::nil) {
      out = {role, pair, taken != nullptr};
      return true;
    }
  }
  return false;
}

}  // namespace

bool can_prove(MeterFunction function) {
  return function == MeterFunction::volts_ac ||
         function == MeterFunction::volts_ac_low_impedance ||
         function == MeterFunction::two_pole_detector;
}
bool is_low_impedance(MeterFunction function) {
  return function == MeterFunction::volts_ac_low_impedance;
}

const char* words(MeterFunction function) { return kFunctionTitles[static_cast<int>(function)]; }
const char* word(MeterFunction function) { return kFunctionWords[static_cast<int>(function)]; }
const char* words(Source source) { return source == Source::outlet ? "outlet" : "proving-unit"; }
const char* words(Role role) { return kRoleWords[static_cast<int>(role)]; }
const char* words(Found found) { return kFoundWords[static_cast<int>(found)]; }

std::vector<Pair> supply_pairs(System system, bool neutral) {
  std::vector<std::string> conductors;
  if (system == System::single) {
    conductors = {"L", "N", "E"};
  } else {
    conductors = neutral ? std::vector<std::string>{"L1", "L2", "N", "E"}
                         : std::vector<std::string>{"L1", "L2", "E"};
  }
  std::vector<Pair> out;
  for (std::size_t i = 0; i < conductors.size(); ++i) {
    for (std::size_t j = i + 1; j < conductors.size(); ++j) {
      out.push_back({conductors[i], conductors[j]});
    }
  }
  return out;
}

Range outlet_band(double nominal_volts) {
  // EN 50160: 195.5 to 253 V always. ANSI C84.1 range B, service and utilisation: 104 to 127 V
  // (from memory); other nominal voltages take the wider of both as shares.
  if (nominal_volts > 200) {
    return {nominal_volts * 0.85, nominal_volts * 1.1};
  }
  return {nominal_volts * 104 / 120, nominal_volts * 127 / 120};
}

Found judge(Role role, Shown shown, MeterFunction function, Range band, const Policy& shop) {
  const Policy policy = bounded(shop);
  const double value = shown.none_lit ? 0 : std::fabs(shown.volts);
  const bool number = shown.none_lit || std::isfinite(shown.volts);
  if (is_known(role)) {
    return number && value >= band.low && value <= band.high ? Found::source_good
                                                             : Found::source_out;
  }
  if (role == Role::earth_shown && function == MeterFunction::ohms) {
    return number && !shown.none_lit && value < policy.earth_ohm ? Found::earth_good
                                                                 : Found::earth_missing;
  }
  if (!number || value >= policy.live_from_volts) {
    return Found::live;
  }
  if (value > policy.nil_volts) {
    return is_low_impedance(function) || role == Role::pair_dc ? Found::live : Found::ghost;
  }
  return role == Role::earth_shown ? Found::earth_good : Found::nil;
}

bool next_of(const Series& series, const Place& place, Wanted& out) {
  if (series.place != place.id || series.readings.empty() || is_spent(series)) {
    out = {Role::known_before, {}, false};
    return true;
  }
  if (place.joined_to_house) {
    const Reading* earth = newest(series, Role::earth_shown, {});
    if (earth == nullptr || earth->found != Found::earth_good) {
      out = {Role::earth_shown, {}, earth != nullptr && earth->found == Found::ghost};
      return true;
    }
  }
  if (open_pair(series, Role::pair, place, out) ||
      (place.dc && open_pair(series, Role::pair_dc, place, out))) {
    return true;
  }
  if (newest(series, Role::known_after, {}) == nullptr) {
    out = {Role::known_after, {}, false};
    return true;
  }
  return false;
}

bool closes(const Series& series, const Reading& last, const Place& place) {
  if (place.pairs.empty() || series.place != place.id || last.role != Role::known_after ||
      last.found != Found::source_good) {
    return false;
  }
  Series all = series;
  all.readings.push_back(last);
  Wanted open;
  return all.readings.front().role == Role::known_before && !next_of(all, place, open);
}

std::string conductor_title(const std::string& code) {
  if (code == "L") return "line";
  if (code == "L1") return "line 1";
  if (code == "L2") return "line 2";
  if (code == "N") return "neutral";
  if (code == "E" || code.empty()) return "earth";
  return code;
}

}  // namespace kp::safety
