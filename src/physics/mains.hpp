#pragma once

#include "base/result.hpp"

namespace kp::physics {

struct VoltRange {
  double low = 0;
  double high = 0;
};

/// 230 V ± 10 % (IEC 60038, from memory).
[[nodiscard]] VoltRange iec_supply();
/// 230 V + 10 % - 6 % (United Kingdom's regulations, from memory).
[[nodiscard]] VoltRange uk_supply();
/// ANSI C84.1 service voltage on a 120 V base, ranges A and B (from memory); `legs` 2: 240 V.
[[nodiscard]] VoltRange ansi_range_a(int legs = 1);
[[nodiscard]] VoltRange ansi_range_b(int legs = 1);
/// Least voltage at the appliance, editions from 2011 (from memory).
[[nodiscard]] double ansi_utilisation_least(bool range_b, int legs = 1);

/// What a house supplies where nothing is wrong, at an outlet or at the machine.
struct HouseSupply {
  VoltRange line_neutral;
  VoltRange line_line;   ///< of a split supply, else both 0
};
/// For a machine of this nominal voltage, `split` from two lines of 120/240 V.
/// 110 to 127 V: 104 V (least utilisation) to 127 V (greatest service), ANSI C84.1 range B, from
/// memory. 220 to 240 V: 230 V - 15 % + 10 %, EN 50160, as told by electrical-contractor.net.
/// Split: twice the first between the lines, whether the machine is for 120 or for 240 V.
/// Error `no-range` for other voltages.
Result<HouseSupply> house_supply(double nominal_volt, bool split);

/// in_a: as it should be. b_low, b_high: seldom and for a short time only. out: tell the supplier.
enum class Service { in_a, b_low, b_high, out };
[[nodiscard]] Service classify_service(double volt, int legs = 1);

/// A capacitor through its bleeder, t = R C ln(V0 / V). Error `bad-number` unless all are above
/// zero and the end lies below the start.
Result<double> bleed_seconds(double farad, double ohm, double start_volt, double end_volt);
/// Largest bleeder that is quick enough. Errors as above.
Result<double> bleed_ohm_most(double farad, double seconds, double start_volt, double end_volt);
/// C V^2 / 2.
[[nodiscard]] double stored_joule(double farad, double volt);
/// What leaks to earth: through a capacitance (2 pi f C V) and through insulation (V / R) beside it.
[[nodiscard]] double leakage_ma(double volt_rms, double hertz, double farad, double ohm);

}  // namespace kp::physics
