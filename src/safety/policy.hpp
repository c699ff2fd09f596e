#pragma once

namespace kp::safety {

/// What a shop may set. Every engine function works on bounded(policy), so that no setting can
/// weaken the gate beyond the published figures.
struct Policy {
  /// Below this a conductor counts as not live: 50 V AC, 29 CFR 1910.333(a)(1).
  double live_from_volts = 50;
  /// Ours, stricter: dead below this; between here and live_from_volts it is ghost voltage.
  double dead_below_volts = 10;
  /// What a known source must show (ours): mains of any country or a proving unit.
  double known_low_volts = 90;
  double known_high_volts = 700;
  /// From the first proof of the tester to the last, ours.
  int prove_seconds = 600;
  /// The tool closed, hidden or paused longer than this voids the proofs, ours.
  int pause_seconds = 300;
  /// No proof is believed longer than this, ours (half a working day).
  int proof_seconds = 4 * 3600;
  /// A capacitor counts as discharged below this DC voltage, ours.
  double charge_gone_volts = 10;
  /// A surface counts as cooled below this, ours.
  double cooled_below_celsius = 43;
};

/// The policy with each figure put back inside its bounds; see policy.cpp for the bounds.
[[nodiscard]] Policy bounded(Policy policy);

}  // namespace kp::safety
