#pragma once

#include "base/result.hpp"

namespace kp::physics {

inline constexpr double kCopper_ohm_mm2_per_m = 1.0 / 58;  ///< IEC 60028, 100 % IACS, at 20 °C
inline constexpr double kCopper_per_k = 0.00393;           ///< IEC 60028, at 20 °C

/// Resistivity at 20 °C and temperature coefficient of what wires and heaters are made of
/// (as a physics textbook lists them; its copper is a little better than IEC 60028's).
enum class Metal { copper, aluminium, iron, tungsten, platinum, constantan, nichrome };
struct MetalValues {
  double ohm_m = 0;
  double per_k = 0;
};
[[nodiscard]] MetalValues metal(Metal kind);

/// R = rho l / A at 20 °C.
[[nodiscard]] double wire_ohm(double metre, double mm2,
                              double ohm_mm2_per_m = kCopper_ohm_mm2_per_m);
/// R(t) = R20 (1 + a (t - 20)).
[[nodiscard]] double ohm_at(double ohm_at_20, double celsius, double per_k = kCopper_per_k);
/// Factor that turns a copper conductor's ohms at t into those at 20 °C: 254.5 / (234.5 + t)
/// (IEC 60228 annex).
[[nodiscard]] double copper_to_20(double celsius);
/// The same by the annex's simpler rule, 1 / (1 + 0.004 (t - 20)); the two part above 40 °C.
[[nodiscard]] double copper_to_20_simple(double celsius);

enum class Strands { solid, flexible };  ///< IEC 60228 classes 1 and 2, classes 5 and 6

/// Largest resistance of a plain copper conductor at 20 °C, ohm a kilometre (IEC 60228). Error
/// `unknown-size` for sections that the table does not hold (0.5 to 6 mm²).
Result<double> iec_ohm_per_km(double mm2, Strands strands);

/// American wire gauge: d = 0.127 mm * 92^((36 - n) / 39) (ASTM B258).
[[nodiscard]] double awg_mm(int gauge);
[[nodiscard]] double awg_mm2(int gauge);
[[nodiscard]] double awg_ohm_per_1000_ft(int gauge);

/// Volts lost over both conductors of a run of `metre`.
[[nodiscard]] double drop_volt(double ampere, double metre, double ohm_per_km);

/// Protective conductor's limit after repair of plug-in equipment, by the length of its lead
/// (VDE 0701-0702:2008, the ancestor of EN 50678): 0.3 ohm up to 5 m, 0.1 more for each further
/// 7.5 m, at most 1 ohm. `started`: a 7.5 m that is begun counts whole; else in proportion.
[[nodiscard]] double earth_limit_ohm(double lead_metre, bool started = true);
/// 0.1 ohm and the lead's own: the UK's in-service rule (from memory).
[[nodiscard]] double earth_limit_uk_ohm(double lead_metre, double mm2);
/// Protective-conductor current: 3.5 mA; 1 mA a kilowatt above 3.5 kW of heating, at most 10
/// (the same source as earth_limit_ohm).
[[nodiscard]] double earth_current_limit_ma(double heating_kw);

}  // namespace kp::physics
