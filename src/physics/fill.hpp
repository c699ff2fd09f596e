#pragma once

namespace kp::physics {

/// What holds the flow into a machine: an orifice that lets in more at more pressure, or a flow
/// washer, a rubber that narrows, and holds its rate above `holds_from_pascal`.
struct Inlet {
  double orifice_mm = 0;               ///< below the washer's pressure, or always
  double washer_litre_per_minute = 0;  ///< 0: there is none
  double washer_tolerance = 0.15;      ///< share of the rate; common practice, no source
  double holds_from_pascal = 100'000;  ///< common practice, no source
};

/// Litres a minute at a pressure: the least and the most that a good inlet lets in. An orifice's Cd
/// lies between 0.6 and 0.8 (sharp to rounded edge, textbooks of hydraulics).
struct Rate {
  double low_litre_per_minute = 0;
  double high_litre_per_minute = 0;
};
[[nodiscard]] Rate inlet_rate(const Inlet& inlet, double pascal);

enum class FillVerdict {
  plausible,
  too_slow,      ///< a strainer that is blocked, a tap half open, a hose that is kinked, a weak coil
  too_fast,      ///< a flow washer that is missing or torn; or it stops before it is full
  no_pressure    ///< there is nothing to fill with
};

/// Whether a fill that took so long fits the supply's pressure.
struct FillCheck {
  FillVerdict verdict = FillVerdict::plausible;
  double least_seconds = 0;
  double most_seconds = 0;
};
[[nodiscard]] FillCheck check_fill(const Inlet& inlet, double litres, double pascal,
                                   double measured_seconds);

/// Whether a pump that lifts at most `head_most_m` drains to that height, and the height that stays.
struct LiftCheck {
  bool lifts = false;
  double spare_m = 0;
};
[[nodiscard]] LiftCheck check_lift(double head_most_m, double height_m);

}  // namespace kp::physics
