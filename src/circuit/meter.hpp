#pragma once

#include <string>
#include <vector>

namespace kp::circuit {

enum class Mode {
  ohms, continuity,
  volts,            ///< alternating, through the usual input of ten megohms
  volts_low_z,      ///< alternating, through an input of a few kilohms that drains ghost voltages
  amperes           ///< by a clamp round one conductor, or round several at once
};

/// One range: shows up to `top` in steps of `step` (both in the unit of the mode).
struct Range {
  double top = 0;
  double step = 0;
};

/// How far a reading may be off: a share of it and a number of last digits, as data sheets say it.
struct Accuracy {
  double share = 0;
  double digits = 0;
};

/// A hand-held meter of 6000 counts with automatic ranges. The defaults are common practice, no
/// source. Ranges stand by rising top.
struct Meter {
  double volts_input_ohm = 10e6;
  double low_z_input_ohm = 3000;
  double lead_ohm = 0.2;                ///< of both leads together
  bool leads_nulled = true;             ///< what the leads add has been set to zero
  double ohms_input_ohm = 0;            ///< across the points while ohms are read; 0: compensated
  double beeps_below_ohm = 30;
  std::vector<Range> ohms = {{600, 0.1}, {6e3, 1}, {60e3, 10}, {600e3, 100}, {6e6, 1e3}, {60e6, 10e3}};
  std::vector<Range> volts = {{6, 1e-3}, {60, 1e-2}, {600, 0.1}};
  std::vector<Range> amperes = {{60, 0.01}, {600, 0.1}};
  Accuracy ohms_accuracy{0.009, 3};
  Accuracy volts_accuracy{0.01, 3};
  Accuracy amperes_accuracy{0.02, 5};

  [[nodiscard]] const std::vector<Range>& ranges(Mode mode) const;
  [[nodiscard]] Accuracy accuracy(Mode mode) const;
};

/// A clamp for leakage: a tenth of a milliampere and below can be read.
[[nodiscard]] Meter leakage_clamp();

enum class State {
  shown,          ///< `value` is on the display
  over,           ///< OL: an open loop, or more than the highest range
  short_circuit,  ///< the points cannot carry this: an ideal source is shorted
  resonance,      ///< no finite answer
  live_circuit    ///< ohms asked for while the supply is on: not to be done
};

struct Reading {
  State state = State::shown;
  double value = 0;         ///< as shown: rounded to the range's step; ohm, volt or ampere
  double exact = 0;         ///< before rounding; infinity with an open loop
  double step = 0;          ///< resolution of the range that was chosen
  double error = 0;         ///< the meter's own uncertainty, give or take, in the same unit
  bool beeps = false;       ///< continuity only
  bool hangs_free = false;  ///< volts: one point at least has no way to the other but the meter
  bool does_not_last = false;  ///< something carries more than its rating meanwhile
  /// "117.1 V", "16.0 Ω", "1.234 kΩ", "OL".
  std::string text;
};

/// What the display shows for an exact value, which is not negative; infinity is an open loop.
[[nodiscard]] Reading display(const Meter& meter, Mode mode, double exact);

}  // namespace kp::circuit
