#pragma once
// physics: small formulas that a technician would look up: how fast water comes, how long it takes to
// get warm, what a wire, a heater or a sensor reads. It knows numbers with units, and no machine.
// All functions are total; what makes no sense (a negative length) gives what the formula gives.

namespace kp::physics {

inline constexpr double kGravity_m_s2 = 9.80665;         ///< standard gravity, CGPM 1901
inline constexpr double kPa_per_psi = 6894.757293168;    ///< 0.45359237 kg * g / (25.4 mm)^2
inline constexpr double kPa_per_bar = 1e5;
inline constexpr double kLitre_per_us_gallon = 3.785411784;  ///< 231 cubic inches

[[nodiscard]] double celsius_of_fahrenheit(double fahrenheit);

/// Water at about 1 atm, between 0 and 100 °C, straight lines between table points (IAPWS-95 as
/// tabulated; the points from 20 to 70 °C seen, those at 0, 4, 10, 30, 80, 90 and 100 from memory). Outside: the nearest end.
[[nodiscard]] double water_density_kg_m3(double celsius);
[[nodiscard]] double water_heat_j_per_kg_k(double celsius);

/// Hydrostatics, p = rho g h.
[[nodiscard]] double head_m(double pascal, double celsius = 20);
[[nodiscard]] double head_pascal(double metre, double celsius = 20);

/// A sharp orifice: Q = Cd A sqrt(2 dp / rho), litres a minute (any textbook of hydraulics; Cd 0.62).
[[nodiscard]] double orifice_litre_per_minute(double diameter_mm, double pascal,
                                              double discharge_coefficient = 0.62,
                                              double celsius = 20);
/// How much faster water comes at one pressure than at another where nothing holds the flow.
[[nodiscard]] double flow_ratio(double pascal, double than_pascal);

[[nodiscard]] double fill_seconds(double litres, double litre_per_minute);

/// Pressure rise when a valve shuts at once, rho a dv (Joukowsky 1898). `wave_m_s`: speed of sound
/// in the pipe, about 1200 in a rigid one.
[[nodiscard]] double hammer_pascal(double wave_m_s, double stopped_m_s, double celsius = 20);

/// Power to lift water, rho g h Q, without losses.
[[nodiscard]] double lift_watt(double metre, double litre_per_minute, double celsius = 20);
[[nodiscard]] double free_fall_m_s(double metre);

}  // namespace kp::physics
