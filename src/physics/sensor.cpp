#include "physics/sensor.hpp"

#include <cmath>

namespace kp::physics {

namespace {

constexpr double kA = 3.9083e-3;
constexpr double kB = -5.775e-7;
constexpr double kC = -4.183e-12;
constexpr double kZeroKelvin = 273.15;
constexpr double kColdest = -200;
constexpr double kHottest = 850;

}  // namespace

double pt_ohm(double celsius, double ohm_at_0) {
  const double t = celsius;
  double factor = 1 + kA * t + kB * t * t;
  if (t < 0) factor += kC * (t - 100) * t * t * t;
  return ohm_at_0 * factor;
}

std::optional<double> pt_celsius(double ohm, double ohm_at_0) {
  if (!(ohm >= pt_ohm(kColdest, ohm_at_0) && ohm <= pt_ohm(kHottest, ohm_at_0))) return std::nullopt;
  double low = kColdest;
  double high = kHottest;
  for (int step = 0; step < 60; ++step) {
    const double middle = (low + high) / 2;
    (pt_ohm(middle, ohm_at_0) < ohm ? low : high) = middle;
  }
  return (low + high) / 2;
}

double ntc_ohm(const Ntc& ntc, double celsius) {
  const double inverse = 1 / (celsius + kZeroKelvin) - 1 / (25 + kZeroKelvin);
  return ntc.ohm_at_25 * std::exp(ntc.beta_kelvin * inverse);
}

double ntc_celsius(const Ntc& ntc, double ohm) {
  const double inverse = 1 / (25 + kZeroKelvin) + std::log(ohm / ntc.ohm_at_25) / ntc.beta_kelvin;
  return 1 / inverse - kZeroKelvin;
}

double ntc_beta_kelvin(double ohm_a, double celsius_a, double ohm_b, double celsius_b) {
  return std::log(ohm_a / ohm_b) / (1 / (celsius_a + kZeroKelvin) - 1 / (celsius_b + kZeroKelvin));
}

Contact thermostat_contact(const Thermostat& thermostat, double celsius, bool heating) {
  const Contact before = thermostat.opens ? Contact::closed : Contact::open;
  const Contact after = thermostat.opens ? Contact::open : Contact::closed;
  const double tolerance = thermostat.tolerance_kelvin;
  if (celsius > thermostat.acts_celsius + tolerance) return after;
  if (celsius < thermostat.resets_celsius - tolerance) return before;
  if (heating && celsius < thermostat.acts_celsius - tolerance) return before;
  if (!heating && celsius > thermostat.resets_celsius + tolerance) return after;
  return Contact::either;
}

double ptc_ohm(const Ptc& ptc, double celsius) {
  if (celsius <= ptc.switch_celsius) return ptc.cold_ohm;
  if (celsius >= ptc.hot_celsius) return ptc.hot_ohm;
  const double share = (celsius - ptc.switch_celsius) / (ptc.hot_celsius - ptc.switch_celsius);
  return ptc.cold_ohm * std::pow(ptc.hot_ohm / ptc.cold_ohm, share);
}

}  // namespace kp::physics
