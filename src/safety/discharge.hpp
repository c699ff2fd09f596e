#pragma once

#include "base/result.hpp"

namespace kp::safety {

/// Seconds for a capacitor to fall from one voltage to another through a resistor:
/// t = R C ln(V0/V). Errors (`bad-quantity`): a value that is not positive and finite, or V > V0.
Result<double> discharge_seconds(double farad, double ohm, double start_volt, double end_volt);

/// Largest resistor that discharges in the given time: R = t / (C ln(V0/V)). Same errors; also
/// V = V0, for which every resistor will do.
Result<double> discharge_ohm_most(double farad, double seconds, double start_volt,
                                  double end_volt);

/// Energy in a charged capacitor, E = C V^2 / 2, in joules. Error: negative or not finite.
Result<double> stored_joule(double farad, double volt);

/// Peak of a sine of that RMS value: V sqrt(2).
[[nodiscard]] double peak_volt(double volt_rms);

/// IEC 60335-1 clause 22.5 (from memory): plug pins at most 34 V peak one second after unplugging,
/// where the capacitance is above 0.1 microfarad.
inline constexpr double kPlugPinVolt = 34;
inline constexpr double kPlugPinSeconds = 1;
inline constexpr double kPlugPinFarad = 0.1e-6;
[[nodiscard]] Result<bool> plug_pins_safe(double farad, double ohm, double supply_volt_rms);

}  // namespace kp::safety
