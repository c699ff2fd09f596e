#include "physics/fill.hpp"

#include <algorithm>

#include "physics/water.hpp"

namespace kp::physics {

namespace {

constexpr double kSharp = 0.6;
constexpr double kRounded = 0.8;

}  // namespace

Rate inlet_rate(const Inlet& inlet, double pascal) {
  const double washer_low = inlet.washer_litre_per_minute * (1 - inlet.washer_tolerance);
  const double washer_high = inlet.washer_litre_per_minute * (1 + inlet.washer_tolerance);
  const bool has_washer = inlet.washer_litre_per_minute > 0;
  if (has_washer && (pascal >= inlet.holds_from_pascal || inlet.orifice_mm <= 0)) {
    return {washer_low, washer_high};
  }
  Rate out{orifice_litre_per_minute(inlet.orifice_mm, pascal, kSharp),
           orifice_litre_per_minute(inlet.orifice_mm, pascal, kRounded)};
  if (has_washer) {
    out.low_litre_per_minute = std::min(out.low_litre_per_minute, washer_low);
    out.high_litre_per_minute = std::min(out.high_litre_per_minute, washer_high);
  }
  return out;
}

FillCheck check_fill(const Inlet& inlet, double litres, double pascal, double measured_seconds) {
  FillCheck out;
  const Rate rate = inlet_rate(inlet, pascal);
  if (pascal <= 0 || rate.low_litre_per_minute <= 0) {
    out.verdict = FillVerdict::no_pressure;
    return out;
  }
  out.least_seconds = fill_seconds(litres, rate.high_litre_per_minute);
  out.most_seconds = fill_seconds(litres, rate.low_litre_per_minute);
  if (measured_seconds < out.least_seconds) out.verdict = FillVerdict::too_fast;
  if (measured_seconds > out.most_seconds) out.verdict = FillVerdict::too_slow;
  return out;
}

LiftCheck check_lift(double head_most_m, double height_m) {
  return {height_m < head_most_m, head_most_m - height_m};
}

}  // namespace kp::physics
