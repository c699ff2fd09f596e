#pragma once

namespace kp::safety {

/// What a shop may set. Every function works on bounded(policy), so that no setting can weaken the
/// gate beyond the published figures.
struct Policy {
  /// Below this a conductor counts as not live: 50 V AC, 29 CFR 1910.333(a)(1).
  double live_from_volts = 50;
  /// Nothing there, on a low-impedance range (ours): between here and live_from_volts is ghost.
  double nil_volts = 3;
  /// An earth is one below this to a second earth; common practice, no source.
  double earth_ohm = 1;
  /// From the first touch of the known source to the last, ours.
  int prove_seconds = 600;
  /// Dark, paused or closed for longer than this asks what happened, ours.
  int pause_seconds = 300;
  /// No proof is believed longer than this, ours (half a working day).
  int proof_seconds = 4 * 3600;
  /// A last look that nobody is at the machine counts for the walk to the isolating means and this.
  int look_seconds = 60;
  /// A capacitor counts as discharged below this DC voltage, ours.
  double charge_gone_volts = 5;
  /// A surface counts as cooled below this, ours.
  double cooled_below_celsius = 43;
  /// A relieved joint is watched for so long; common practice, no source.
  int watch_seconds = 120;
};

/// The policy with each figure put back inside its bounds; see policy.cpp for the bounds.
[[nodiscard]] Policy bounded(Policy policy);

}  // namespace kp::safety
