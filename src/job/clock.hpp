#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "job/stage.hpp"

namespace kp::job {

/// When and in which life of the program something was recorded. `mono_ms` is only comparable
/// within one life, and may have stood still while the device slept.
struct Stamp {
  std::uint32_t n = 0;
  Moment at;
  std::int64_t mono_ms = 0;
  std::string life;
  std::string by;
};

/// Where the clock had to choose, the invoice sheet says so.
enum class ClockFlag { none, slept, set_forward, set_back, app_closed, unknown_gap };

/// Why two records are apart as they are: both readings are kept, one is counted.
struct Choice {
  ClockFlag flag = ClockFlag::none;
  std::uint32_t before = 0;          ///< number of the record that ends the interval
  std::int64_t wall_ms = 0;
  std::int64_t mono_ms = 0;
  std::int64_t counted_ms = 0;
};

/// A stretch of one phase. It ends where the phase changes.
struct Segment {
  Phase phase = Phase::diagnosis;
  Moment start;
  Moment end;
  std::int64_t counted_ms = 0;
  std::vector<Choice> choices;       ///< the intervals of it that were not plain
};

/// A correction is a record of its own with a reason; nothing that was recorded is edited.
struct Correction {
  std::uint32_t n = 0;
  Phase phase = Phase::labour;
  std::int64_t delta_ms = 0;
  std::string reason;
};

struct ClockState {
  std::vector<Segment> segments;     ///< the last one is running
  std::vector<Correction> corrections;
  std::vector<Choice> open_questions;  ///< unknown gaps that nobody has answered yet
  Stamp last;
  bool hidden = false;               ///< the screen was off at the last record
  bool started = false;
  bool ended = false;
};

/// The limits of the rule, in milliseconds. They are ours, chosen by judgement, not by a source.
struct ClockRule {
  std::int64_t agree_ms = 2'000;
  /// What the program was closed or dark for, beyond which a person is asked before it counts.
  std::int64_t longest_gap_ms = 30LL * 60'000;
};

/// What of the time between two records counts, from the wall's and the monotonic difference:
/// agree within 2 s: wall. Wall ahead while hidden: the device slept, wall. Wall ahead while seen:
/// the clock was set forward, mono. Wall behind: set back, mono. A new life: the app was closed,
/// wall. A new life with wall behind, and a closed or dark program for longer than the rule's longest
/// gap: unknown, 0 until somebody answers.
[[nodiscard]] Choice judge(const Stamp& from, const Stamp& to, bool hidden, const ClockRule& rule);

/// Counts up to `to` and goes on in the same phase. Nobody is asked about a gap in time that is not
/// billed.
void advance(ClockState& clock, const Stamp& to, const ClockRule& rule);
/// Starts counting towards another phase at the last record; nothing where the job has ended.
void change_phase(ClockState& clock, Phase phase);
/// The job has ended: what comes until another visit (days, perhaps) counts nowhere.
void stop_clock(ClockState& clock);
/// Another visit: counts again from the last record.
void restart_clock(ClockState& clock);
/// Answers the unknown gap that ended at record `before`: so much of it counts.
bool settle_gap(ClockState& clock, std::uint32_t before, std::int64_t counted_ms);

/// Total of a phase, corrections included, never below zero.
[[nodiscard]] std::int64_t total_ms(const ClockState& clock, Phase phase);
/// Everything that was counted since the job began, unbilled time and waiting included.
[[nodiscard]] std::int64_t total_ms(const ClockState& clock);
/// The running total at `now`, for the display; records nothing.
[[nodiscard]] std::int64_t total_ms_at(const ClockState& clock, const Stamp& now,
                                       const ClockRule& rule);

/// "Screen off 12:03 of it", "Clock changed -00:30:00", "App was closed 00:04:10", "Away 11:30:00,
/// 00:20:00 counted"; empty for none.
[[nodiscard]] std::string choice_text(const Choice& choice);

}  // namespace kp::job
