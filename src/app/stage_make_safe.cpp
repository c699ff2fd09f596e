// Make safe: the whole list above, one thing to do now below.
#include "app/desk.hpp"

#include <algorithm>

#include "app/place_words.hpp"
#include "app/todo_fields.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

namespace {

using safety::TodoKind;

bool same(const safety::Todo& a, const safety::Todo& b) {
  return a.kind == b.kind && a.place.id == b.place.id && a.wanted.role == b.wanted.role &&
         a.wanted.pair == b.wanted.pair && a.lock == b.lock;
}

std::string short_words(const Desk& desk, const safety::Todo& todo) {
  if (todo.kind == TodoKind::stop && hands_back(desk.state->safety)) {
    return "Hands back, all people off.";
  }
  if (todo.kind != TodoKind::take_reading) {
    return todo.sentence;
  }
  switch (todo.wanted.role) {
    case safety::Role::known_before:
      return "Tester on the known source";
    case safety::Role::earth_shown:
      return "Earth shown to be an earth";
    case safety::Role::known_after:
      return "Tester on the known source again";
    case safety::Role::pair:
    case safety::Role::pair_dc:
      return cat(place_words(*desk.model(), desk.state->safety, todo.wanted.pair.a), " to ",
                 place_words(*desk.model(), desk.state->safety, todo.wanted.pair.b));
  }
  return {};
}

/// The evidence of a reading that was taken in the series that runs.
std::string figure_of(const Desk& desk, const safety::Todo& todo) {
  std::string out;
  for (const safety::Reading& reading : desk.state->safety.series.readings) {
    if (todo.kind == TodoKind::take_reading && desk.state->safety.series.place == todo.place.id &&
        reading.role == todo.wanted.role && reading.pair == todo.wanted.pair) {
      out = reading.shown.none_lit
                ? std::string("none lit")
                : cat(fixed_text(reading.shown.volts, reading.shown.volts < 100 ? 1 : 0),
                      reading.function == safety::MeterFunction::ohms ? " Ω" : " V");
    }
  }
  return out;
}

}  // namespace

void fill_make_safe(Snapshot& out, const Desk& desk) {
  const job::Model& model = *desk.model();
  const safety::Place supply = job::supply_place(model, *desk.state);
  const safety::Demand demand = job::hands_demand();
  const safety::Ask ask = desk.ask(demand);
  const auto rest = safety::make_safe(desk.state->safety, ask, desk.clock(), desk.law(), supply);
  // The whole list, as it stood before anything was done.
  const safety::State fresh = as_found(desk.state->safety);
  safety::Ask closed = ask;
  closed.machine.supply_open = desk.state->safety.connection == safety::Connection::cord;
  const auto all = safety::make_safe(fresh, closed, desk.clock(), desk.law(), supply);
  // In doubt nothing of the list counts, whatever the record holds.
  const bool unsure = !rest.empty() && (rest.front().kind == TodoKind::doubt_clock ||
                                        rest.front().kind == TodoKind::answer_gap);
  int number = 0;
  int done = 0;
  for (const safety::Todo& todo : all) {
    ++number;
    const auto open = std::find_if(rest.begin(), rest.end(),
                                   [&](const safety::Todo& one) { return same(one, todo); });
    Row row = row_of(cat("safe-", number), short_words(desk, todo), Mark::todo);
    row.number = number;
    if (open == rest.end() && !unsure) {
      row.mark = Mark::done;
      row.figure = figure_of(desk, todo);
      ++done;
    } else if (open == rest.begin() && open != rest.end()) {
      row.mark = Mark::now;
    }
    out.rows.push_back(row);
  }
  out.stage_where = cat(done, " of ", number);
  if (fill_gate_card(out, desk, demand)) {
    if (out.exploded.has_value()) {
      out.rows.clear();   // the way to the point of proof is shown on the machine
    }
    return;
  }
  const safety::Verdict verdict = safety::permit(desk.state->safety, ask, desk.clock(), desk.law());
  out.card.id = "safe";
  out.card.sentence = "Dead at the supply, shut and relieved. Go on.";
  out.card.how = "Bare terminals are proved again where hands first meet them.";
  for (const safety::Reason& reason : verdict.reasons) {
    out.card.refusal.push_back(reason.sentence);
  }
  const bool open = !desk.state->targets.empty();
  out.card.primary =
      tap_button(open ? "Go on" : "Find the fault", desk.action(Verb::go_stage, open ? "open" : "find"));
}

}  // namespace kp::app
