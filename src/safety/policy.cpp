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
  out.dead_below_volts =
      within(policy.dead_below_volts, 1, out.live_from_volts, preset.dead_below_volts);
  out.known_low_volts = within(policy.known_low_volts, 50, 400, preset.known_low_volts);
  out.known_high_volts =
      within(policy.known_high_volts, out.known_low_volts, 1000, preset.known_high_volts);
  out.prove_seconds = std::clamp(policy.prove_seconds, 30, 1800);
  out.pause_seconds = std::clamp(policy.pause_seconds, 10, 1800);
  // One shift at the most.
  out.proof_seconds = std::clamp(policy.proof_seconds, 60, 8 * 3600);
  // 34 V: IEC 60335-1 clause 22.5 for plug pins, from memory; taken as the upper bound.
  out.charge_gone_volts = within(policy.charge_gone_volts, 1, 34, preset.charge_gone_volts);
  // 48 degrees: burn threshold for ten minutes of contact, ISO 13732-1, from memory.
  out.cooled_below_celsius =
      within(policy.cooled_below_celsius, 20, 48, preset.cooled_below_celsius);
  return out;
}

}  // namespace kp::safety
