#include "physics/mains.hpp"

#include <cmath>

namespace kp::physics {

namespace {

constexpr double kPi = 3.14159265358979323846;

VoltRange scaled(VoltRange range, int legs) { return {range.low * legs, range.high * legs}; }

Result<double> numbers(double a, double b, double start_volt, double end_volt) {
  if (a > 0 && b > 0 && end_volt > 0 && start_volt > end_volt) return std::log(start_volt / end_volt);
  return fail("bad-number", "a capacitor empties from a higher to a lower voltage, both above zero");
}

}  // namespace

VoltRange iec_supply() { return {207, 253}; }
VoltRange uk_supply() { return {216.2, 253}; }
VoltRange ansi_range_a(int legs) { return scaled({114, 126}, legs); }
VoltRange ansi_range_b(int legs) { return scaled({110, 127}, legs); }
double ansi_utilisation_least(bool range_b, int legs) { return (range_b ? 104 : 108) * legs; }

Result<HouseSupply> house_supply(double nominal_volt, bool split) {
  const bool low = nominal_volt >= 110 && nominal_volt <= 127;
  const bool high = nominal_volt >= 220 && nominal_volt <= 240;
  const auto legs = [](int count) {
    return VoltRange{ansi_utilisation_least(true, count), ansi_range_b(count).high};
  };
  if (split && (low || high)) return HouseSupply{legs(1), legs(2)};
  if (low) return HouseSupply{legs(1), {}};
  if (high) return HouseSupply{{230 * 0.85, 230 * 1.10}, {}};
  return fail("no-range", "no published range is known for this voltage",
              "Write the least and the most that a house supplies.");
}

Service classify_service(double volt, int legs) {
  const VoltRange a = ansi_range_a(legs);
  const VoltRange b = ansi_range_b(legs);
  if (volt >= a.low && volt <= a.high) return Service::in_a;
  if (volt >= b.low && volt < a.low) return Service::b_low;
  if (volt > a.high && volt <= b.high) return Service::b_high;
  return Service::out;
}

Result<double> bleed_seconds(double farad, double ohm, double start_volt, double end_volt) {
  const Result<double> falls = numbers(farad, ohm, start_volt, end_volt);
  if (!falls.has_value()) return falls;
  return farad * ohm * falls.value();
}

Result<double> bleed_ohm_most(double farad, double seconds, double start_volt, double end_volt) {
  const Result<double> falls = numbers(farad, seconds, start_volt, end_volt);
  if (!falls.has_value()) return falls;
  return seconds / (farad * falls.value());
}

double stored_joule(double farad, double volt) { return farad * volt * volt / 2; }

double leakage_ma(double volt_rms, double hertz, double farad, double ohm) {
  const double capacitive = 2 * kPi * hertz * farad * volt_rms;
  const double resistive = ohm > 0 ? volt_rms / ohm : 0;
  return std::hypot(capacitive, resistive) * 1000;
}

}  // namespace kp::physics
