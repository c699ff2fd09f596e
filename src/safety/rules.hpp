#pragma once
// The gate's rules as numbered rows of data. A job's record carries the rows it was decided under,
// so that it can be decided again by them on any later day.

#include <string>
#include <string_view>
#include <vector>

#include "safety/act.hpp"

namespace kp::safety {

/// What a row asks; each is one predicate in guards.cpp.
enum class Guard {
  // the ground of every act
  job_open, clock_sure, own_work, gap_closed, prepared, energies_listed,
  // electricity, water, the other energies
  stopped, isolated, held, tried, supply_dead, groups_dead, charge_gone, bled, neutral_quiet,
  water_shut, water_relieved, water_holding, water_static, watched_long,
  cooled, secured, stable, stands_alone, upright, door_shut, people_enough, frame_nil, untroubled, not_exposed,
  // approach
  on_way, no_live_way, place_open,
  // what is open
  supply_parted, wet_joined, leads_joined, live_covers_on, earths_fast, tests_done,
  // on
  running, live_reason,
  // giving back
  inspected, warned, locks_off, looked, look_in_time, device_read, not_on,
  // what is said
  means_count, control_counts, control_stands, lock_given, lock_own, lock_hangs, tag_given, valve_named,
  tester_named, function_proves, wanted_reading, same_tester, in_time, sane, dc_gone, cool_enough,
  people_sane, mains_listed, name_given,
  // leaving
  held_locked, tagged, barred, nothing_hangs, nothing_isolated, inspected_since
};
inline constexpr int kGuards = static_cast<int>(Guard::inspected_since) + 1;

struct Row {
  int number = 0;             ///< never used again for another rule
  ActSet acts = 0;
  Guard guard = Guard::job_open;
  friend bool operator==(const Row&, const Row&) = default;
};

/// A guard's words: the code that tests and screens go by, what to do, and where it comes from.
struct GuardWords {
  Guard guard;
  const char* word;           ///< "supply-dead", as records say it
  const char* code;           ///< of the reason where it does not hold
  const char* sentence;       ///< one instruction, at most 20 words
  const char* source;
};
[[nodiscard]] const GuardWords& words_of(Guard guard);
/// The guard of that word; false: this program does not know it.
[[nodiscard]] bool guard_of(std::string_view word, Guard& out);
[[nodiscard]] bool act_of(std::string_view word, Act& out);

using Rules = std::vector<Row>;
/// The rows of this program.
[[nodiscard]] const Rules& rules();

/// Each row as text, "12 hands-in,relieve supply-dead", and back. A row that this program does not
/// know is left out and `all_known` is false.
[[nodiscard]] std::vector<std::string> rows_text(const Rules& rows);
[[nodiscard]] Rules rows_of(const std::vector<std::string>& text, bool& all_known);

}  // namespace kp::safety
