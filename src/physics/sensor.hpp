#pragma once

#include <optional>

namespace kp::physics {

/// Platinum sensor, IEC 60751 (Callendar and Van Dusen): R0 (1 + At + Bt^2 [+ C (t - 100) t^3 below
/// 0 °C]); the coefficients from memory, the table points seen.
[[nodiscard]] double pt_ohm(double celsius, double ohm_at_0 = 100);
/// The other way round, between -200 and 850 °C; nothing outside.
[[nodiscard]] std::optional<double> pt_celsius(double ohm, double ohm_at_0 = 100);

/// NTC by its beta: R = R25 exp(B (1/T - 1/298.15)), T in kelvin.
struct Ntc {
  double ohm_at_25 = 10'000;
  double beta_kelvin = 3950;
};
[[nodiscard]] double ntc_ohm(const Ntc& ntc, double celsius);
[[nodiscard]] double ntc_celsius(const Ntc& ntc, double ohm);
/// Beta from two readings.
[[nodiscard]] double ntc_beta_kelvin(double ohm_a, double celsius_a, double ohm_b, double celsius_b);

/// A thermostat with its tolerance. It opens (or closes) somewhere in opens ± tolerance when it is
/// heated, and goes back below `resets`.
struct Thermostat {
  double acts_celsius = 0;
  double tolerance_kelvin = 0;
  double resets_celsius = 0;
  bool opens = true;             ///< when it acts; else it closes
};
enum class Contact { closed, open, either };
/// What a good one must read at a temperature; `heating`: it comes from the cold.
[[nodiscard]] Contact thermostat_contact(const Thermostat& thermostat, double celsius, bool heating);

/// PTC starters and door actuators follow no formula of a standard: a table of three values, the
/// sense of which is common practice. Ohms at a temperature, by the logarithm between switch and hot.
struct Ptc {
  double cold_ohm = 0;
  double switch_celsius = 0;
  double hot_celsius = 0;
  double hot_ohm = 0;
};
[[nodiscard]] double ptc_ohm(const Ptc& ptc, double celsius);

}  // namespace kp::physics
