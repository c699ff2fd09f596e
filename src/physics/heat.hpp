#pragma once

namespace kp::physics {

inline constexpr double kVaporise_j_per_kg = 2'256'000;  ///< water at 100 °C

/// Q = m c dT (any textbook of physics).
[[nodiscard]] double heat_joule(double kilogram, double joule_per_kg_k, double kelvin);

/// The trade's sum: 1 kg a litre and 4184 J/kg K, on the safe side of the tables by half a percent.
[[nodiscard]] double water_heat_joule(double litres, double from_celsius, double to_celsius);

/// Seconds until water is warm: Q / (P eta). `efficiency`: the share of the power that stays in the
/// water; what the tub, the dishes and the room take is the rest.
[[nodiscard]] double heat_up_seconds(double litres, double from_celsius, double to_celsius, double watt,
                                     double efficiency = 1);
/// Temperature after so many seconds.
[[nodiscard]] double heated_celsius(double litres, double from_celsius, double watt, double seconds,
                                    double efficiency = 1);

/// The regulator's constant for water heating, 10 CFR 430 appendix C1: 0.0024 kWh a US gallon and °F
/// (from memory).
[[nodiscard]] double regulator_water_kwh(double us_gallons, double rise_fahrenheit);

/// What a heater reads: R = V^2 / P with the rated power's tolerance of IEC 60335-1 for heating
/// appliances (clause not read): -10 %, and +5 % or +20 W, whichever is more.
struct HeaterBand {
  double ohm_low = 0;
  double ohm = 0;
  double ohm_high = 0;
  double ohm_low_cold = 0;   ///< nickel-chrome reads up to 5 % less when cold (from memory)
  double ampere = 0;         ///< at the rated voltage
};
[[nodiscard]] HeaterBand heater_band(double rated_watt, double rated_volt);

/// Power of a heater on another voltage, its resistance unchanged.
[[nodiscard]] double heater_watt_at(double rated_watt, double rated_volt, double volt);

}  // namespace kp::physics
