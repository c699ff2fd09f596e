#pragma once
// What journals of format 1 said about isolation, in that format's words. Nothing here changes any
// more: no program writes it, and the journals that hold it are kept for ever.

#include <string>
#include <vector>

#include "safety/reading.hpp"

namespace kp::job::format1 {

/// The words of format 1 in the order of its enumerators.
enum class Act {
  prepared, stopped, isolated, controls_tried, reading, prove_restarted, water_shut, water_relieved,
  charge_gone, cooled, secured, posture_changed, helpers_here, step_done, inspected, panels_set,
  people_clear, lock_removed, power_restored, water_restored, tag_hung, ended, power_found_on,
  water_found_on, re_energised, left_alone, taken_over, resumed, clock_doubted, reopened
};
enum class Means {
  unplugged_in_sight, breaker_locked, fused_spur_locked, door_switch, cycle_button, panel_off,
  timer_off, breaker_unlocked, wall_switch, residual_current_button, unplugged_out_of_sight,
  remote_off, word_of_another
};
enum class Station { known_before, line_neutral, line_earth, neutral_earth, known_after };

[[nodiscard]] const std::vector<std::string>& act_words();      ///< "controls-tried"
[[nodiscard]] const std::vector<std::string>& means_words();    ///< "breaker-locked"
[[nodiscard]] const std::vector<std::string>& station_words();  ///< "line-neutral"
[[nodiscard]] const std::vector<std::string>& function_words(); ///< "two-pole-detector"

/// One record of kind "isolation". Each holds the members of all acts; only those that its act
/// speaks of say something.
struct Said {
  Act act = Act::clock_doubted;
  Means means = Means::word_of_another;
  std::string lock, tag;
  bool answered = false;
  Station station = Station::known_before;
  double volts = 0;
  safety::MeterFunction function = safety::MeterFunction::volts_ac;
  std::string meter;
  double celsius = 0;
  int people = 1;
  bool by_supervisor = false;
  std::string note;
};

/// For screens and papers, as format 1 named it: "Isolated: breaker off and locked, lock L-21",
/// "Line to neutral: 0.2 V, two-pole tester TP-8". What it did not ask is not in it.
[[nodiscard]] std::string words_of(const Said& said);

}  // namespace kp::job::format1
