#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "safety/policy.hpp"

namespace kp::safety {

/// The five readings in their order: tester on a known source (K1), the three pairs, tester again
/// on the known source (K2).
enum class Station { known_before, line_neutral, line_earth, neutral_earth, known_after };
inline constexpr int kStations = 5;

/// What the instrument was set to, or which kind it is. Only the first three can prove.
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
[[nodiscard]] const char* words(MeterFunction function);  ///< "V~", "ohms"

struct Reading {
  Station station = Station::known_before;
  double volts = 0;            ///< volts RMS as shown; the sign is ignored
  MeterFunction function = MeterFunction::volts_ac;
  std::string meter;           ///< the instrument's own id
  Moment at;
  std::int64_t event = 0;      ///< number of the event that holds it
  friend bool operator==(const Reading&, const Reading&) = default;
};

/// checks.md 1.4: eight rows, eight verdicts; `ghost` is our stricter one, `unfinished` means that
/// the sequence goes on.
enum class ProveVerdict {
  unfinished,
  proven_dead,
  tester_died,      ///< K2 fails
  live,             ///< a pair at or above the limit
  tester_faulty,    ///< K1 fails
  incomplete,       ///< fewer than three pairs
  late_or_other,    ///< K2 later than the limit or on another meter
  not_before,       ///< no K1
  wrong_function,   ///< ohms, diode and the like
  ghost             ///< a pair between dead_below_volts and live_from_volts
};
inline constexpr int kProveVerdicts = 10;

/// Judges readings in any number and order, the newest of a station counts. Never answers
/// proven_dead unless all five readings are there and good; a number that is not finite is live.
/// `closed`: nothing more will be read, so what is missing is a verdict, not `unfinished`.
[[nodiscard]] ProveVerdict judge(const std::vector<Reading>& readings, const Policy& policy,
                                 bool closed = false);

/// The station to read next, none when a verdict stands.
[[nodiscard]] std::optional<Station> next_reading(const std::vector<Reading>& readings,
                                                  const Policy& policy);

/// What a station's field takes and what lets the sequence go on, volts.
struct StationRange {
  double field_low = 0;
  double field_high = 1000;
  double good_low = 0;
  double good_high = 0;
};
[[nodiscard]] StationRange range_of(Station station, const Policy& policy);

struct StationWords {
  const char* title;     ///< "Line to neutral"
  const char* ask;       ///< "Touch line and neutral. What does it read?"
  const char* why;       ///< for the trainee
};
[[nodiscard]] const StationWords& words_of(Station station);

struct VerdictWords {
  const char* code;      ///< "proven-dead"
  const char* title;     ///< "Proved dead"
  const char* remedy;    ///< one sentence, what to do now
};
[[nodiscard]] const VerdictWords& words_of(ProveVerdict verdict);

}  // namespace kp::safety
