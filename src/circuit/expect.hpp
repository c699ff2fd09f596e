#pragma once

#include <span>
#include <vector>

#include "circuit/read.hpp"

namespace kp::circuit {

/// Between what a reading must lie. `low` and `high` are true values at the meter's points, in ohm,
/// volt or ampere; infinity stands for an open loop. No unit whose parts keep their tolerances is
/// outside: the band is proved, and close.
struct Band {
  State state = State::shown;    ///< short_circuit, resonance, live_circuit: there is no band
  double low = 0;
  double typical = 0;            ///< with every part at its typical value
  double high = 0;
  double shown_low = 0;          ///< the same with the meter's error and resolution added:
  double shown_high = 0;         ///< what its display may say. Infinity: OL may be shown
  bool bounded = true;           ///< false: tolerances too wide near a resonance, low and high are 0 and infinity

  /// Whether a display's number is in the band; infinity is OL.
  [[nodiscard]] bool holds(double shown) const { return shown_low <= shown && shown <= shown_high; }
};

/// The band in which a unit with these faults reads; no faults: a good unit. A fault's `amount` is
/// one more tolerance.
///
/// Ohms: no resistance falls when one in the network rises (Rayleigh's law), so the two ends are
/// the readings with all parts at their least and all at their most.
/// Volts and amperes: see band_live.hpp.
[[nodiscard]] Band expect(const Netlist& netlist, const Meter& meter, const Probe& probe,
                          const Setting& setting, std::span<const Fault> faults = {});

/// The single faults that an element can have, with amounts that are common practice, no source:
/// open; shorted (0 to 0.5 ohm); high joint (2 to 50 ohm); stuck contact; drifted value; leak to
/// earth (1 to 500 kilohm, in the middle of a load).
[[nodiscard]] std::vector<Fault> single_faults(const Netlist& netlist, int element);

}  // namespace kp::circuit
