#include "job/clock.hpp"

#include <algorithm>
#include <cstdlib>
#include <limits>

#include "base/text.hpp"

namespace kp::job {

namespace {

/// a - b, held at the ends of the range: readings of a doctored journal may be any numbers.
std::int64_t apart(std::int64_t a, std::int64_t b) {
  constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 8;
  return std::clamp(a, -kFar, kFar) - std::clamp(b, -kFar, kFar);
}

/// The rule for the running phase: who waits may be away as long as it takes.
ClockRule rule_in(const ClockState& clock, ClockRule rule) {
  const bool billed = clock.segments.empty() || (clock.segments.back().phase != Phase::waiting &&
                                                 clock.segments.back().phase != Phase::unbilled);
  if (!billed) {
    rule.longest_gap_ms = std::numeric_limits<std::int64_t>::max();
  }
  return rule;
}

}  // namespace

Choice judge(const Stamp& from, const Stamp& to, bool hidden, const ClockRule& rule) {
  Choice choice;
  choice.before = to.n;
  choice.wall_ms = apart(to.at.utc_ms, from.at.utc_ms);
  if (from.life != to.life) {
    if (choice.wall_ms < 0 || choice.wall_ms > rule.longest_gap_ms) {
      choice.flag = ClockFlag::unknown_gap;
      return choice;
    }
    choice.flag = ClockFlag::app_closed;
    choice.counted_ms = choice.wall_ms;
    return choice;
  }
  choice.mono_ms = apart(to.mono_ms, from.mono_ms);
  if (hidden && std::max(choice.wall_ms, choice.mono_ms) > rule.longest_gap_ms) {
    choice.flag = ClockFlag::unknown_gap;
    return choice;
  }
  const std::int64_t ahead = choice.wall_ms - choice.mono_ms;
  if (std::llabs(ahead) <= rule.agree_ms) {
    choice.counted_ms = std::max<std::int64_t>(0, choice.wall_ms);
    return choice;
  }
  if (ahead < 0) {
    choice.flag = ClockFlag::set_back;
    choice.counted_ms = std::max<std::int64_t>(0, choice.mono_ms);
    return choice;
  }
  if (hidden) {
    choice.flag = ClockFlag::slept;
    choice.counted_ms = choice.wall_ms;
    return choice;
  }
  choice.flag = ClockFlag::set_forward;
  choice.counted_ms = std::max<std::int64_t>(0, choice.mono_ms);
  return choice;
}

void advance(ClockState& clock, const Stamp& to, const ClockRule& rule) {
  if (!clock.started) {
    clock.started = true;
    clock.last = to;
    clock.segments.push_back(Segment{Phase::diagnosis, to.at, to.at, 0, {}});
    return;
  }
  if (!clock.ended) {
    const Choice choice = judge(clock.last, to, clock.hidden, rule_in(clock, rule));
    Segment& running = clock.segments.back();
    running.counted_ms += choice.counted_ms;
    running.end = to.at;
    if (choice.flag != ClockFlag::none) {
      running.choices.push_back(choice);
    }
    if (choice.flag == ClockFlag::unknown_gap) {
      clock.open_questions.push_back(choice);
    }
  }
  clock.last = to;
}

void change_phase(ClockState& clock, Phase phase) {
  if (clock.segments.empty() || clock.ended) {
    return;
  }
  Segment& running = clock.segments.back();
  if (running.phase == phase) {
    return;
  }
  if (running.counted_ms == 0 && running.choices.empty() && running.start == running.end) {
    running.phase = phase;
    return;
  }
  clock.segments.push_back(Segment{phase, clock.last.at, clock.last.at, 0, {}});
}

void stop_clock(ClockState& clock) { clock.ended = true; }

void restart_clock(ClockState& clock) {
  if (!clock.ended) {
    return;
  }
  clock.ended = false;
  clock.segments.push_back(Segment{Phase::diagnosis, clock.last.at, clock.last.at, 0, {}});
}

bool settle_gap(ClockState& clock, std::uint32_t before, std::int64_t counted_ms) {
  const auto asked = [&](const Choice& choice) {
    return choice.before == before && choice.flag == ClockFlag::unknown_gap;
  };
  const auto question =
      std::find_if(clock.open_questions.begin(), clock.open_questions.end(), asked);
  if (question == clock.open_questions.end()) {
    return false;
  }
  clock.open_questions.erase(question);
  for (Segment& segment : clock.segments) {
    for (Choice& choice : segment.choices) {
      if (asked(choice)) {
        segment.counted_ms += counted_ms - choice.counted_ms;
        choice.counted_ms = counted_ms;
      }
    }
  }
  return true;
}

std::int64_t total_ms(const ClockState& clock, Phase phase) {
  std::int64_t sum = 0;
  for (const Segment& segment : clock.segments) {
    sum += segment.phase == phase ? segment.counted_ms : 0;
  }
  for (const Correction& correction : clock.corrections) {
    sum += correction.phase == phase ? correction.delta_ms : 0;
  }
  return std::max<std::int64_t>(0, sum);
}

std::int64_t total_ms(const ClockState& clock) {
  std::int64_t sum = 0;
  for (int phase = 0; phase < kPhases; ++phase) {
    sum += total_ms(clock, static_cast<Phase>(phase));
  }
  return sum;
}

std::int64_t total_ms_at(const ClockState& clock, const Stamp& now, const ClockRule& rule) {
  if (!clock.started) {
    return 0;
  }
  if (clock.ended) {
    return total_ms(clock);
  }
  return total_ms(clock) + judge(clock.last, now, clock.hidden, rule_in(clock, rule)).counted_ms;
}

std::string choice_text(const Choice& choice) {
  switch (choice.flag) {
    case ClockFlag::none:
      return {};
    case ClockFlag::slept:
      return cat("Screen off ", duration_text(choice.wall_ms - choice.mono_ms), " of it");
    case ClockFlag::set_forward:
      return cat("Clock changed +", duration_text(choice.wall_ms - choice.mono_ms));
    case ClockFlag::set_back:
      return cat("Clock changed -", duration_text(choice.mono_ms - choice.wall_ms));
    case ClockFlag::app_closed:
      return cat("App was closed ", duration_text(choice.wall_ms));
    case ClockFlag::unknown_gap:
      return choice.wall_ms < 0
                 ? cat("Gap of unknown length, ", duration_text(choice.counted_ms), " counted")
                 : cat("Away ", duration_text(choice.wall_ms), ", ",
                       duration_text(choice.counted_ms), " counted");
  }
  return {};
}

}  // namespace kp::job
