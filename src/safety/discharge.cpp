#include "safety/discharge.hpp"

#include <cmath>
#include <numbers>

namespace kp::safety {

namespace {

bool positive(double value) { return std::isfinite(value) && value > 0; }

tl::unexpected<Error> bad(const char* where) {
  return fail("bad-quantity", "must be a finite number above zero", where,
              "Give the value in its SI unit");
}

}  // namespace

Result<double> discharge_seconds(double farad, double ohm, double start_volt, double end_volt) {
  if (!positive(farad)) {
    return bad("capacitance");
  }
  if (!positive(ohm)) {
    return bad("resistance");
  }
  if (!positive(start_volt)) {
    return bad("start voltage");
  }
  if (!positive(end_volt)) {
    return bad("end voltage");
  }
  if (end_volt > start_volt) {
    return fail("bad-quantity", "is above the start voltage", "end voltage",
                "A discharge ends below the voltage where it starts");
  }
  return ohm * farad * std::log(start_volt / end_volt);
}

Result<double> discharge_ohm_most(double farad, double seconds, double start_volt,
                                  double end_volt) {
  if (!positive(seconds)) {
    return bad("time");
  }
  const Result<double> per_ohm = discharge_seconds(farad, 1.0, start_volt, end_volt);
  if (!per_ohm.has_value()) {
    return fail(per_ohm.error());
  }
  if (per_ohm.value() <= 0) {
    return fail("bad-quantity", "equals the start voltage", "end voltage",
                "Any resistor will do where nothing is to be discharged");
  }
  return seconds / per_ohm.value();
}

Result<double> stored_joule(double farad, double volt) {
  if (!std::isfinite(farad) || farad < 0) {
    return bad("capacitance");
  }
  if (!std::isfinite(volt)) {
    return bad("voltage");
  }
  return farad * volt * volt / 2;
}

double peak_volt(double volt_rms) { return volt_rms * std::numbers::sqrt2; }

Result<bool> plug_pins_safe(double farad, double ohm, double supply_volt_rms) {
  if (!std::isfinite(farad) || farad < 0) {
    return bad("capacitance");
  }
  if (!positive(supply_volt_rms)) {
    return bad("supply voltage");
  }
  const double peak = peak_volt(supply_volt_rms);
  if (farad <= kPlugPinFarad || peak <= kPlugPinVolt) {
    return true;
  }
  const Result<double> seconds = discharge_seconds(farad, ohm, peak, kPlugPinVolt);
  if (!seconds.has_value()) {
    return fail(seconds.error());
  }
  return seconds.value() <= kPlugPinSeconds;
}

}  // namespace kp::safety
