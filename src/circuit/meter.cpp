#include "circuit/meter.hpp"

#include <cmath>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

const char* unit_of(Mode mode) {
  switch (mode) {
    case Mode::ohms:
    case Mode::continuity: return "Ω";
    case Mode::volts:
    case Mode::volts_low_z: return "V";
    case Mode::amperes: return "A";
  }
  return "";
}

/// With the prefix that keeps the figures of the range's top in one to three places before the
/// point, and as many decimals as the range resolves.
std::string shown(double value, const Range& range, const char* unit) {
  struct Prefix {
    const char* text;
    double size;
  };
  Prefix prefix{"", 1};
  if (range.top > 600e3) {
    prefix = {"M", 1e6};
  } else if (range.top > 600) {
    prefix = {"k", 1e3};
  } else if (range.top < 1) {
    prefix = {"m", 1e-3};
  }
  int decimals = 0;
  for (double step = range.step / prefix.size; step < 0.999 && decimals < 6; step *= 10) ++decimals;
  return cat(fixed_text(value / prefix.size, decimals), " ", prefix.text, unit);
}

}  // namespace

const std::vector<Range>& Meter::ranges(Mode mode) const {
  switch (mode) {
    case Mode::ohms:
    case Mode::continuity: return ohms;
    case Mode::volts:
    case Mode::volts_low_z: return volts;
    case Mode::amperes: break;
  }
  return amperes;
}

Accuracy Meter::accuracy(Mode mode) const {
  switch (mode) {
    case Mode::ohms:
    case Mode::continuity: return ohms_accuracy;
    case Mode::volts:
    case Mode::volts_low_z: return volts_accuracy;
    case Mode::amperes: break;
  }
  return amperes_accuracy;
}

Meter leakage_clamp() {
  Meter meter;
  meter.amperes = {{0.06, 10e-6}, {0.6, 100e-6}, {6, 1e-3}, {60, 10e-3}};
  meter.amperes_accuracy = {0.02, 5};
  return meter;
}

Reading display(const Meter& meter, Mode mode, double exact) {
  Reading reading;
  reading.exact = exact;
  const std::vector<Range>& ranges = meter.ranges(mode);
  for (const Range& range : ranges) {
    const double value = std::round(exact / range.step) * range.step;
    if (!(value < range.top)) {
      // Continuity stays in the lowest range: what does not fit there is as good as open.
      if (mode == Mode::continuity) break;
      continue;
    }
    const Accuracy accuracy = meter.accuracy(mode);
    reading.value = value;
    reading.step = range.step;
    reading.error = accuracy.share * value + accuracy.digits * range.step;
    reading.beeps = mode == Mode::continuity && exact < meter.beeps_below_ohm;
    reading.text = shown(value, range, unit_of(mode));
    return reading;
  }
  reading.state = State::over;
  reading.text = "OL";
  return reading;
}

}  // namespace kp::circuit
