// The sheets of the time: what is typed is minutes, and one press does it.
#include "app/sheet_time.hpp"

#include <algorithm>

#include "app/desk.hpp"
#include "app/todo_fields.hpp"
#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::app {

namespace {

constexpr int kMostMinutes = 24 * 60;
constexpr std::int64_t kMinuteMs = 60'000;

/// "2 h 05", "-15 min"
std::string signed_minutes(int minutes) {
  return cat(minutes < 0 ? "-" : "+", duration_words(std::int64_t{std::abs(minutes)} * 60));
}

void add_segments(Sheet& sheet, const job::ClockState& clock) {
  for (const auto& segment : clock.segments) {
    Row row = row_of(cat("segment-", to_int(sheet.rows.size())),
                     std::string(job::phase_title(segment.phase)), Mark::none);
    row.figure = duration_text(segment.counted_ms);
    for (const auto& choice : segment.choices) {
      row.detail += cat(row.detail.empty() ? "" : ", ", job::choice_text(choice));
    }
    sheet.rows.push_back(row);
  }
  for (const auto& correction : clock.corrections) {
    Row row = row_of(cat("correction-", integer_text(correction.n)),
                     cat(job::phase_title(correction.phase), ", corrected"), Mark::none);
    row.detail = correction.reason;
    row.figure = duration_text(correction.delta_ms);
    sheet.rows.push_back(row);
  }
}

}  // namespace

std::optional<int> minutes_of(std::string_view text) {
  std::string tidy(trim(text));
  const bool less = !tidy.empty() && tidy.front() == '-';
  if (less || (!tidy.empty() && tidy.front() == '+')) {
    tidy.erase(0, 1);
  }
  const std::size_t colon = tidy.find(':');
  const auto first = parse_integer(tidy.substr(0, colon));
  const auto second = colon == std::string::npos ? std::optional<std::int64_t>(0)
                                                 : parse_integer(tidy.substr(colon + 1));
  if (!first || !second || *first < 0 || *first > kMostMinutes || *second < 0 || *second > 59) {
    return std::nullopt;
  }
  const std::int64_t minutes = colon == std::string::npos ? *first : *first * 60 + *second;
  if (minutes > kMostMinutes) {
    return std::nullopt;
  }
  return static_cast<int>(less ? -minutes : minutes);
}

void fill_time_sheet(Sheet& sheet, const Desk& desk) {
  const Local& local = *desk.local;
  sheet.title = "Correct the time";
  sheet.paragraphs.emplace_back("A correction is a record of its own. Nothing is edited.");
  sheet.texts = {text_field(desk, "minutes", "Minutes to add, or to take off: 15, -90, -11:30",
                       local.minutes),
                 text_field(desk, "reason", "Why", local.reason)};
  add_segments(sheet, desk.state->clock);
  const auto minutes = minutes_of(local.minutes);
  if (!local.minutes.empty() && !minutes) {
    sheet.paragraphs.emplace_back("Enter whole minutes, or hours and minutes, at most 24 hours.");
  }
  for (const job::Phase phase :
       {job::Phase::labour, job::Phase::diagnosis, job::Phase::travel}) {
    const bool has = phase == job::Phase::labour || job::total_ms(desk.state->clock, phase) > 0;
    if (!has) {
      continue;
    }
    const std::string& word = job::phase_words()[to_size(static_cast<int>(phase))];
    Action correct = desk.action(Verb::correct_time, word, local.reason);
    correct.value = minutes.value_or(0);
    Button button = tap_button(
        cat(job::phase_title(phase), minutes ? cat(" ", signed_minutes(*minutes)) : ""), correct);
    button.enabled = minutes && *minutes != 0 && !trim(local.reason).empty();
    sheet.buttons.push_back(button);
  }
}

void fill_gap_sheet(Sheet& sheet, const Desk& desk) {
  sheet.title = "How much of the gap was work?";
  if (desk.state->clock.open_questions.empty()) {
    return;
  }
  const job::Choice& open = desk.state->clock.open_questions.front();
  const auto settle = [&](std::string label, int minutes) {
    Action action = desk.action(Verb::settle_gap, integer_text(open.before));
    action.value = minutes;
    return tap_button(std::move(label), action);
  };
  if (open.wall_ms >= 0) {
    sheet.paragraphs.push_back(
        cat("The program was closed or dark for ", duration_text(open.wall_ms), "."));
  } else {
    sheet.paragraphs.emplace_back("The clock was set back, so nobody knows how long it was.");
  }
  sheet.texts = {text_field(desk, "minutes", "Minutes of it that were work: 20, or 1:15",
                       desk.local->minutes)};
  const auto minutes = minutes_of(desk.local->minutes);
  Button typed = settle(minutes ? cat("Count ", duration_words(std::int64_t{*minutes} * 60))
                                : std::string("Count these minutes"),
                        minutes.value_or(0));
  typed.enabled = minutes && *minutes >= 0;
  sheet.buttons.push_back(typed);
  sheet.buttons.push_back(settle("None of it", 0));
  const std::int64_t whole = open.wall_ms / kMinuteMs;
  if (whole > 0 && whole <= kMostMinutes) {
    sheet.buttons.push_back(settle("All of it", static_cast<int>(whole)));
  }
}

}  // namespace kp::app
