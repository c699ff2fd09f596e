#pragma once

#include <string>
#include <vector>

#include "base/time.hpp"
#include "safety/means.hpp"
#include "safety/policy.hpp"

namespace kp::safety {

/// What the instrument was set to, or which kind it is. Only some can prove.
enum class MeterFunction {
  volts_ac,
  volts_ac_low_impedance,
  two_pole_detector,
  volts_dc,
  ohms,
  diode,
  amperes,
  non_contact,
  solenoid
};
inline constexpr int kMeterFunctions = 9;
[[nodiscard]] bool can_prove(MeterFunction function);
/// It pulls what is only induced down to nothing: below 100 kΩ (IEC 61243-3, by a manual).
[[nodiscard]] bool is_low_impedance(MeterFunction function);
[[nodiscard]] const char* words(MeterFunction function);  ///< "V~", "ohms"
[[nodiscard]] const char* word(MeterFunction function);   ///< "volts-ac", as journals say it

/// What a tester shows: a number, or that none of its steps is lit, which is no number.
struct Shown {
  bool none_lit = false;
  double volts = 0;
  friend bool operator==(const Shown&, const Shown&) = default;
};

/// What the known live point is; each has a band of its own.
enum class Source { outlet, proving_unit };
inline constexpr int kSources = 2;
[[nodiscard]] const char* words(Source source);   ///< "outlet"

/// The place of a reading in its series: the tester on a known source, the earth against which is
/// read, the pairs in alternating and where charge can stand in direct voltage, the tester again.
enum class Role { known_before, earth_shown, pair, pair_dc, known_after };
inline constexpr int kRoles = 5;
[[nodiscard]] const char* words(Role role);       ///< "known-before"

/// What a reading says.
enum class Found {
  source_good,     ///< the known source shows, in its band
  source_out,      ///< it does not: the tester or the source is not what was thought
  earth_good,      ///< below 1 Ω to a second earth
  earth_missing,   ///< no earth to read against
  nil,             ///< no voltage
  ghost,           ///< between nil and live: read again on low impedance
  live             ///< at or above the limit, or no number at all
};
inline constexpr int kFounds = 7;
[[nodiscard]] const char* words(Found found);     ///< "source-good"

/// Two points between which is read. Empty b: to the earth.
struct Pair {
  std::string a, b;
  friend bool operator==(const Pair&, const Pair&) = default;
};

/// A place where death is proved: the supply, or a group of bare conductors.
struct Place {
  std::string id;              ///< "supply", or a group's id
  std::vector<Pair> pairs;     ///< all of them are read
  bool dc = false;             ///< charge can stand there: each pair in direct voltage too
  bool joined_to_house = false;   ///< the earth is the house's and must be shown to be one
};
inline constexpr const char* kSupply = "supply";

/// The pairs of a supply: line to neutral, line to earth, neutral to earth; with two lines six.
/// n conductors have n(n-1)/2 pairs.
[[nodiscard]] std::vector<Pair> supply_pairs(System system, bool neutral = true);

/// The band of a known source in volts. Outlets: checks.md 1 and ANSI C84.1 range B (from memory)
/// for 120 V, EN 50160 for 230 V. `nominal` is the house's voltage line to neutral.
struct Range {
  double low = 0, high = 0;
};
[[nodiscard]] Range outlet_band(double nominal_volts);

struct Reading {
  Role role = Role::known_before;
  Pair pair;
  Shown shown;
  MeterFunction function = MeterFunction::two_pole_detector;
  std::string tester;
  Found found = Found::nil;
  Moment at;
  std::int64_t mono_ms = 0;
  std::int64_t event = 0;
  friend bool operator==(const Reading&, const Reading&) = default;
};

/// Judges one reading. `band` counts for a known source, ohms for the earth (shown.volts then
/// holds ohms). A number that is not finite is live.
[[nodiscard]] Found judge(Role role, Shown shown, MeterFunction function, Range band,
                          const Policy& policy);

/// A series at one place, from the first touch of the known source.
struct Series {
  std::string place;
  std::vector<Reading> readings;
  friend bool operator==(const Series&, const Series&) = default;
};

/// What a series wants next, none where all has been read; a ghost's pair is wanted again.
struct Wanted {
  Role role = Role::known_before;
  Pair pair;
  bool low_impedance = false;   ///< only a low-impedance range will do now
};
[[nodiscard]] bool next_of(const Series& series, const Place& place, Wanted& out);

/// Whether this reading closes the series with everything shown: the known source good before and
/// after, the earth shown where it must be, every pair nil.
[[nodiscard]] bool closes(const Series& series, const Reading& last, const Place& place);

/// "L" -> "Line"; any other code as it is.
[[nodiscard]] std::string conductor_title(const std::string& code);

}  // namespace kp::safety
