#pragma once

#include <string>
#include <vector>

namespace kp::safety {

/// How the machine as found is joined to the house.
enum class Connection { cord, fixed };
/// One line conductor, or two with a neutral between them.
enum class System { single, split };

/// Ways in which people say that the power is off. Only the first three can be isolation.
enum class Means {
  plug_out,             ///< traced by hand to this machine
  breaker_off,          ///< all poles of it
  spur_fuse_out,        ///< double-pole switched spur, its fuse out
  door_switch,
  cycle_button,
  panel_off,
  timer_off,
  one_pole_of_two,
  wall_switch,
  residual_current_button,
  remote_off,
  word_of_another
};
inline constexpr int kMeans = 12;

struct MeansRule {
  Means means;
  bool isolates;          ///< can count as isolation at all
  bool for_cord;          ///< on a unit with cord and plug
  bool for_fixed;         ///< on fixed wiring
  const char* word;       ///< "breaker-off", as journals say it
  const char* title;      ///< "Breaker off"
  const char* why;        ///< why it counts, or why it is refused
  const char* source;
};
[[nodiscard]] const std::vector<MeansRule>& means_rules();
[[nodiscard]] const MeansRule& rule_of(Means means);
[[nodiscard]] bool counts(Means means, Connection connection, System system);
/// The means to offer for a connection, in order of preference.
[[nodiscard]] std::vector<Means> offered(Connection connection, System system);

/// How the isolation is kept.
enum class Control {
  in_hand,              ///< the plug in the worker's hand or pocket
  reach_and_sight,      ///< the plug within arm's reach and in line of sight
  sight_only,
  reach_only,
  locked,               ///< own lock and tag
  tag_and_measure       ///< no lock fits: tag and one more measure of equal worth
};
inline constexpr int kControls = 6;

/// What the control is asked of.
struct ControlAsked {
  Means means = Means::breaker_off;
  bool built_in = true;   ///< fastened in its place
  int workers = 1;
  bool leaves = false;    ///< the worker goes out of the room
};
/// Exclusive control: 29 CFR 1910.147(a)(2)(iii)(A) for plugs (in possession, or within reach and
/// in sight), 1910.333(b)(2)(iii)(A) for all else (lock and tag; tag and one more measure). A
/// built-in machine, two workers or leaving: locked (1910.333 note 1: what is fastened in place).
[[nodiscard]] bool exclusive(Control control, const ControlAsked& asked);
[[nodiscard]] bool needs_lock(Control control);
[[nodiscard]] bool needs_tag(Control control);
[[nodiscard]] std::vector<Control> offered(const ControlAsked& asked);
[[nodiscard]] const char* words(Control control);   ///< "reach-and-sight"
[[nodiscard]] const char* title(Control control);   ///< "Locked and tagged"

}  // namespace kp::safety
