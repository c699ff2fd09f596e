#include "safety/policy.hpp"

#include <algorithm>
#include <cmath>

namespace kp::safety {

namespace {

// A figure that is not a number falls back to the default, any other to the nearest bound.
double within(double value, double low, double high, double fallback) {
  return std::isfinite(value) ? std::clamp(value, low, high) : fallback;
}

}  // namespace

Policy bounded(Policy policy) {
  const Policy preset;
  Policy out;
  // 50 V AC: 29 CFR 1910.333(a)(1). A shop may go below, never above.
  out.live_from_volts = within(policy.live_from_volts, 10, 50, preset.live_from_volts);
  // 10 V: twice what another load drops on a neutral at its worst (value 16 of the order of safety).
  out.nil_volts = within(policy.nil_volts, 0.5, 10, preset.nil_volts);
  out.earth_ohm = within(policy.earth_ohm, 0.1, 1, preset.earth_ohm);
  out.prove_seconds = std::clamp(policy.prove_seconds, 30, 1800);
  out.pause_seconds = std::clamp(policy.pause_seconds, 10, 1800);
  // One shift at the most.
  out.proof_seconds = std::clamp(policy.proof_seconds, 60, 8 * 3600);
  out.look_seconds = std::clamp(policy.look_seconds, 10, 60);
  // 34 V: IEC 60335-1 clause 22.5 for plug pins, from memory; taken as the upper bound.
  out.charge_gone_volts = within(policy.charge_gone_volts, 1, 34, preset.charge_gone_volts);
  // 48 degrees: burn threshold for ten minutes of contact, ISO 13732-1, from memory.
  out.cooled_below_celsius =
      within(policy.cooled_below_celsius, 20, 48, preset.cooled_below_celsius);
  out.watch_seconds = std::clamp(policy.watch_seconds, 30, 1800);
  return out;
}

}  // namespace kp::safety
