#pragma once

#include <vector>

namespace kp::safety {

/// Mirrors the pack's word for the supply; the caller converts.
enum class Connection { cord, fixed };

/// Ways in which people say that the power is off. Only the first three can be isolation.
enum class Means {
  unplugged_in_sight,   ///< cord and plug; the plug stays under the worker's own control
  breaker_locked,
  fused_spur_locked,
  door_switch,
  cycle_button,
  panel_off,
  timer_off,
  breaker_unlocked,
  wall_switch,
  residual_current_button,
  unplugged_out_of_sight,
  remote_off,
  word_of_another
};
inline constexpr int kMeans = 13;

struct MeansRule {
  Means means;
  bool isolates;          ///< can count as isolation at all
  bool for_cord;          ///< on a unit with cord and plug
  bool for_fixed;         ///< on fixed wiring
  bool needs_lock;        ///< a lock id must be given
  const char* title;      ///< "Breaker off and locked"
  const char* why;        ///< why it counts, or why it is refused
  const char* source;
};
[[nodiscard]] const std::vector<MeansRule>& means_rules();
[[nodiscard]] const MeansRule& rule_of(Means means);
[[nodiscard]] bool counts(Means means, Connection connection);
/// The means to offer for a connection, in order of preference.
[[nodiscard]] std::vector<Means> offered(Connection connection);

}  // namespace kp::safety
