// Make safe: the whole list above, one thing to do now below.
#include "app/desk.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::app {

namespace {

bool same(const safety::Todo& a, const safety::Todo& b) {
  return a.kind == b.kind && a.station == b.station;
}

const char* short_words(const safety::Todo& todo) {
  if (todo.station.has_value()) {
    return safety::words_of(todo.station.value()).title;
  }
  return nullptr;
}

/// The evidence of a thing done: the reading, or the time.
std::string figure_of(const Desk& desk, const safety::Todo& todo) {
  if (todo.station.has_value()) {
    for (const safety::Reading& reading : desk.state->safety.readings) {
      if (reading.station == todo.station.value()) {
        return cat(fixed_text(reading.volts, reading.volts < 100 ? 1 : 0), " V");
      }
    }
    return {};
  }
  for (auto it = desk.state->isolations.rbegin(); it != desk.state->isolations.rend(); ++it) {
    if (it->body.act == todo.kind) {
      return clock_text(it->stamp.at);
    }
  }
  return {};
}

}  // namespace

void fill_make_safe(Snapshot& out, const Desk& desk) {
  const std::int64_t now = desk.now.at.utc_ms;
  const auto rest =
      safety::make_safe(desk.state->safety, {}, now, desk.settings->safety);
  safety::State fresh;
  fresh.connection = desk.state->safety.connection;
  const auto all = safety::make_safe(fresh, {}, now, desk.settings->safety);
  int number = 0;
  int done = 0;
  for (const safety::Todo& todo : all) {
    ++number;
    const auto open = std::find_if(rest.begin(), rest.end(),
                                   [&](const safety::Todo& one) { return same(one, todo); });
    Row row = row_of(cat("safe-", number), short_words(todo) != nullptr ? short_words(todo)
                                                                        : todo.sentence,
                     Mark::todo);
    row.number = number;
    if (open == rest.end()) {
      row.mark = Mark::done;
      row.figure = figure_of(desk, todo);
      ++done;
    } else if (open == rest.begin()) {
      row.mark = Mark::now;
    }
    out.rows.push_back(row);
  }
  out.stage_where = cat(done, " of ", number);
  if (!rest.empty()) {
    fill_todo_card(out, desk, rest.front());
    return;
  }
  out.card.id = "safe";
  out.card.sentence = "It is dead and dry. Go on.";
  const bool open = !desk.state->targets.empty();
  out.card.primary =
      tap_button(open ? "Go on" : "Find the fault", desk.action(Verb::go_stage, open ? "open" : "find"));
}

}  // namespace kp::app
