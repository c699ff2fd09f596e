#include "physics/heat.hpp"

#include <algorithm>

namespace kp::physics {

namespace {

constexpr double kTradeHeat_j_per_litre_k = 4184;

}  // namespace

double heat_joule(double kilogram, double joule_per_kg_k, double kelvin) {
  return kilogram * joule_per_kg_k * kelvin;
}

double water_heat_joule(double litres, double from_celsius, double to_celsius) {
  return heat_joule(litres, kTradeHeat_j_per_litre_k, to_celsius - from_celsius);
}

double heat_up_seconds(double litres, double from_celsius, double to_celsius, double watt,
                       double efficiency) {
  return water_heat_joule(litres, from_celsius, to_celsius) / (watt * efficiency);
}

double heated_celsius(double litres, double from_celsius, double watt, double seconds,
                      double efficiency) {
  return from_celsius + watt * efficiency * seconds / (litres * kTradeHeat_j_per_litre_k);
}

double regulator_water_kwh(double us_gallons, double rise_fahrenheit) {
  return 0.0024 * us_gallons * rise_fahrenheit;
}

HeaterBand heater_band(double rated_watt, double rated_volt) {
  const double square = rated_volt * rated_volt;
  const double watt_most = std::max(rated_watt * 1.05, rated_watt + 20);
  HeaterBand out;
  out.ohm = square / rated_watt;
  out.ohm_low = square / watt_most;
  out.ohm_high = square / (rated_watt * 0.9);
  out.ohm_low_cold = out.ohm_low * 0.95;
  out.ampere = rated_watt / rated_volt;
  return out;
}

double heater_watt_at(double rated_watt, double rated_volt, double volt) {
  return rated_watt * (volt / rated_volt) * (volt / rated_volt);
}

}  // namespace kp::physics
