#include "physics/water.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace kp::physics {

namespace {

struct Point {
  double x;
  double y;
};

template <std::size_t N>
double between(const Point (&table)[N], double x) {
  if (x <= table[0].x) return table[0].y;
  for (std::size_t i = 1; i < N; ++i) {
    if (x > table[i].x) continue;
    const double share = (x - table[i - 1].x) / (table[i].x - table[i - 1].x);
    return table[i - 1].y + share * (table[i].y - table[i - 1].y);
  }
  return table[N - 1].y;
}

constexpr Point kDensity[] = {{0, 999.84},     {4, 999.972}, {10, 999.70}, {20, 998.2071},
                              {30, 995.65},    {40, 992.2},  {50, 988.0},  {60, 983.2},
                              {70, 977.8},     {80, 971.8},  {90, 965.3},  {100, 958.4}};
constexpr Point kHeat[] = {{0, 4217.6}, {10, 4192.1}, {20, 4181.8}, {40, 4178.5},
                           {50, 4180.6}, {60, 4184.3}, {70, 4189.5}, {80, 4196.3}, {100, 4215.9}};

constexpr double kPi = 3.14159265358979323846;

}  // namespace

double celsius_of_fahrenheit(double fahrenheit) { return (fahrenheit - 32) / 1.8; }

double water_density_kg_m3(double celsius) { return between(kDensity, celsius); }
double water_heat_j_per_kg_k(double celsius) { return between(kHeat, celsius); }

double head_m(double pascal, double celsius) {
  return pascal / (water_density_kg_m3(celsius) * kGravity_m_s2);
}
double head_pascal(double metre, double celsius) {
  return metre * water_density_kg_m3(celsius) * kGravity_m_s2;
}

double orifice_litre_per_minute(double diameter_mm, double pascal, double discharge_coefficient,
                                double celsius) {
  const double radius_m = diameter_mm / 2000;
  const double m3_per_s = discharge_coefficient * kPi * radius_m * radius_m *
                          std::sqrt(2 * std::max(0.0, pascal) / water_density_kg_m3(celsius));
  return m3_per_s * 60'000;
}

double flow_ratio(double pascal, double than_pascal) { return std::sqrt(pascal / than_pascal); }

double fill_seconds(double litres, double litre_per_minute) { return litres / litre_per_minute * 60; }

double hammer_pascal(double wave_m_s, double stopped_m_s, double celsius) {
  return water_density_kg_m3(celsius) * wave_m_s * stopped_m_s;
}

double lift_watt(double metre, double litre_per_minute, double celsius) {
  return water_density_kg_m3(celsius) * kGravity_m_s2 * metre * litre_per_minute / 60'000;
}

double free_fall_m_s(double metre) { return std::sqrt(2 * kGravity_m_s2 * metre); }

}  // namespace kp::physics
