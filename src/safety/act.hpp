#pragma once

#include <cstdint>
#include <vector>

namespace kp::safety {

/// What somebody is about to do or to say: the classes of work, and the acts that make a machine
/// safe or give its energies back. Every act has its rows in the gate's table (rules.hpp); an act
/// without a row is refused.
enum class Act {
  // Work, from the outside in.
  look_outside,      ///< nothing touched, nothing opened
  look_inside,       ///< through the open door, nothing touched
  touch_outside,     ///< door, keys, panel faces: dry, covered
  reach_tub,         ///< racks, arms, filter, float: no bare terminal within reach
  cover,             ///< in approach: a cover or its fasteners on a way to a point of proof
  relieve,           ///< pressure off, sump emptied, with a hand behind a cover
  relieve_outside,   ///< the same where no cover is in front and nothing live is near
  hands_in,          ///< release, remove, swap, mend, feel, turn by hand
  part_supply,       ///< part or join the leads of the house
  measure_dead,      ///< resistance, continuity
  insulation_test,   ///< the tester is a source of 500 V
  place_probes,      ///< clips of a live test, while dead
  live_reading,      ///< read what hangs, hands off
  hot_reading,       ///< terminals of a part that is hot on purpose
  static_test,       ///< water on, power dead
  move_out,          ///< straight out, upright
  lay_down,          ///< tilt, lay down, stand up
  run,               ///< the machine runs, hands clear
  prove_dead_test,   ///< a test before power
  // Making safe.
  prepare, stop, read_frame, isolate, hold, shut_water, try_controls, reading, restart_series,
  discharge, watch, cool, secure, prop, call_helper,
  // Giving back.
  inspect, warn, lock_off, look_clear, power_on, water_on, water_static,
  // Leaving.
  tag, end_in_service, leave,
  // People.
  hand_over,
  // Around the house's neutral, before it is parted.
  read_neutral,
  // Openings shut or barred, before an open machine is left.
  bar_openings
};
inline constexpr int kActs = static_cast<int>(Act::bar_openings) + 1;

/// Sets of acts as bits.
using ActSet = std::uint64_t;
static_assert(kActs <= 64);
[[nodiscard]] constexpr ActSet act_bit(Act act) { return ActSet{1} << static_cast<unsigned>(act); }
template <class... Acts>
[[nodiscard]] constexpr ActSet acts(Acts... all) {
  return (act_bit(all) | ...);
}
[[nodiscard]] constexpr bool in_acts(ActSet set, Act act) { return (set & act_bit(act)) != 0; }

/// Hands come near what can hurt: these acts are refused unless a proof or a named exception stands.
inline constexpr ActSet kHandsIn =
    acts(Act::reach_tub, Act::cover, Act::relieve, Act::relieve_outside, Act::hands_in, Act::part_supply,
         Act::measure_dead, Act::insulation_test, Act::place_probes, Act::hot_reading,
         Act::static_test, Act::move_out, Act::lay_down, Act::prove_dead_test);
[[nodiscard]] constexpr bool hands_in(Act act) { return in_acts(kHandsIn, act); }
/// Power or water may be on: eyes, and the handle of the door.
inline constexpr ActSet kWhileOn = acts(Act::look_outside, Act::look_inside, Act::touch_outside,
                                        Act::live_reading, Act::run);

[[nodiscard]] const char* words(Act act);   ///< "part-supply", for journals and tables

/// How much an act asks for, for a table of them: a later class is stricter.
[[nodiscard]] int strictness(Act act);

}  // namespace kp::safety
