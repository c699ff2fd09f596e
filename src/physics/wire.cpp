#include "physics/wire.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace kp::physics {

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kMetre_per_foot = 0.3048;

struct Size {
  double mm2;
  double solid;
  double flexible;
};
constexpr Size kSizes[] = {{0.5, 36.0, 39.0}, {0.75, 24.5, 26.0}, {1, 18.1, 19.5},
                           {1.5, 12.1, 13.3}, {2.5, 7.41, 7.98},  {4, 4.61, 4.95},
                           {6, 3.08, 3.30}};

}  // namespace

MetalValues metal(Metal kind) {
  switch (kind) {
    case Metal::copper: return {1.68e-8, 0.0039};
    case Metal::aluminium: return {2.65e-8, 0.0039};
    case Metal::iron: return {9.71e-8, 0.0065};
    case Metal::tungsten: return {5.60e-8, 0.0045};
    case Metal::platinum: return {10.60e-8, 0.0039};
    case Metal::constantan: return {49e-8, 0.00003};
    case Metal::nichrome: return {100e-8, 0.0004};
  }
  return {};
}

double wire_ohm(double metre, double mm2, double ohm_mm2_per_m) {
  return ohm_mm2_per_m * metre / mm2;
}

double ohm_at(double ohm_at_20, double celsius, double per_k) {
  return ohm_at_20 * (1 + per_k * (celsius - 20));
}

double copper_to_20(double celsius) { return 254.5 / (234.5 + celsius); }
double copper_to_20_simple(double celsius) { return 1 / (1 + 0.004 * (celsius - 20)); }

Result<double> iec_ohm_per_km(double mm2, Strands strands) {
  for (const Size& size : kSizes) {
    if (std::fabs(size.mm2 - mm2) < 1e-9) {
      return strands == Strands::solid ? size.solid : size.flexible;
    }
  }
  return fail("unknown-size", cat("there is no conductor of ", number_text(mm2), " mm² in the table"),
              {}, "Use 0.5, 0.75, 1, 1.5, 2.5, 4 or 6 mm².");
}

double awg_mm(int gauge) { return 0.127 * std::pow(92.0, (36.0 - gauge) / 39); }

double awg_mm2(int gauge) {
  const double mm = awg_mm(gauge);
  return kPi / 4 * mm * mm;
}

double awg_ohm_per_1000_ft(int gauge) { return wire_ohm(1000 * kMetre_per_foot, awg_mm2(gauge)); }

double drop_volt(double ampere, double metre, double ohm_per_km) {
  return ampere * 2 * metre / 1000 * ohm_per_km;
}

double earth_limit_ohm(double lead_metre, bool started) {
  const double further = std::max(0.0, lead_metre - 5) / 7.5;
  // A length that is a whole number of 7.5 m but for rounding begins no other.
  const double steps = started ? std::ceil(further - 1e-9) : further;
  return std::min(1.0, 0.3 + 0.1 * steps);
}

double earth_limit_uk_ohm(double lead_metre, double mm2) { return 0.1 + wire_ohm(lead_metre, mm2); }

double earth_current_limit_ma(double heating_kw) {
  return heating_kw > 3.5 ? std::min(10.0, heating_kw) : 3.5;
}

}  // namespace kp::physics
