// The card for one thing of safety's lists: shown in Make safe, and in any stage whose gate has
// closed again.
#include "app/desk.hpp"

#include "base/text.hpp"

namespace kp::app {

namespace {

using safety::EventKind;

/// What the hold button says was done.
const char* done_words(EventKind kind) {
  switch (kind) {
    case EventKind::prepared:
      return "I know what is in it";
    case EventKind::stopped:
      return "it stands idle";
    case EventKind::isolated:
      return "isolated and locked";
    case EventKind::water_shut:
      return "water is shut";
    case EventKind::water_relieved:
      return "relieved and empty";
    case EventKind::secured:
      return "secured";
    case EventKind::helpers_here:
      return "two people are here";
    case EventKind::inspected:
      return "tools out, all whole";
    case EventKind::panels_set:
      return "panels are on";
    case EventKind::people_clear:
      return "all stand clear";
    case EventKind::lock_removed:
      return "my lock is off";
    case EventKind::power_restored:
      return "power is on";
    case EventKind::water_restored:
      return "water is on";
    case EventKind::tag_hung:
      return "tag hangs on the lock";
    case EventKind::prove_restarted:
      return "start the readings again";
    case EventKind::controls_tried:
    case EventKind::reading:
    case EventKind::charge_gone:
    case EventKind::cooled:
    case EventKind::posture_changed:
    case EventKind::step_done:
    case EventKind::ended:
    case EventKind::power_found_on:
    case EventKind::water_found_on:
    case EventKind::re_energised:
    case EventKind::left_alone:
    case EventKind::taken_over:
    case EventKind::resumed:
    case EventKind::clock_doubted:
    case EventKind::reopened:
      return "done";
  }
  return "done";
}

Action act(const Desk& desk, EventKind kind) {
  return desk.action(Verb::isolation_done, safety::words(kind));
}

void fill_means(Snapshot& out, const Desk& desk) {
  const Local& local = *desk.local;
  const auto connection = desk.pack()->supply.connection == pack::Connection::cord
                              ? safety::Connection::cord
                              : safety::Connection::fixed;
  const std::vector<safety::Means> means = safety::offered(connection);
  const safety::Means chosen =
      local.means_chosen || means.empty() ? local.means : means.front();
  for (const safety::Means one : means) {
    const safety::MeansRule& rule = safety::rule_of(one);
    Row row = row_of(integer_text(static_cast<int>(one)), rule.title,
                     one == chosen ? Mark::chosen : Mark::choice);
    row.tap = desk.action(Verb::choose_means, row.id);
    out.card.choices.push_back(row);
  }
  if (safety::rule_of(chosen).needs_lock) {
    TextField lock;
    lock.id = "lock";
    lock.label = "Number on your lock";
    lock.value = local.lock;
    lock.mono = true;
    lock.changed = desk.action(Verb::set_word, "lock");
    out.card.texts.push_back(lock);
  }
  out.card.primary->action.value = static_cast<double>(static_cast<int>(chosen));
  out.card.primary->action.text = local.lock;
}

void fill_reading(Snapshot& out, const Desk& desk, const safety::Todo& todo) {
  const safety::Station station = todo.station.value_or(safety::Station::known_before);
  const safety::StationRange range = safety::range_of(station, desk.settings->safety);
  NumberField field;
  field.id = cat("station-", static_cast<int>(station));
  field.label = safety::words_of(station).ask;
  field.unit = safety::words(desk.local->function);
  field.least = range.field_low;
  field.most = range.field_high;
  field.band_low = range.good_low;
  field.band_high = range.good_high;
  field.band = cat("expected ", number_text(range.good_low), " to ", number_text(range.good_high),
                   " V");
  field.entered = desk.action(Verb::reading, integer_text(static_cast<int>(station)));
  field.confirm = station == safety::Station::known_after ? "Finish the proof" : "Next reading";
  out.card.number = field;
  out.card.sentence.clear();
  out.card.primary.reset();
  out.card.ways_out.insert(out.card.ways_out.begin(),
                           tap_button("Meter", desk.action(Verb::show_sheet, "meter")));
}

void fill_number(Snapshot& out, const Desk& desk, EventKind kind) {
  const bool volts = kind == EventKind::charge_gone;
  NumberField field;
  field.id = volts ? "charge" : "celsius";
  field.label = out.card.sentence;
  field.unit = volts ? "V" : "°C";
  field.least = 0;
  field.most = volts ? 1000 : 150;
  field.band_low = 0;
  field.band_high = volts ? desk.settings->safety.charge_gone_volts
                          : desk.settings->safety.cooled_below_celsius;
  field.band = cat("below ", number_text(field.band_high), " ", field.unit);
  field.entered = act(desk, kind);
  field.confirm = volts ? "It is discharged" : "It is cool";
  out.card.number = field;
  out.card.sentence.clear();
  out.card.primary.reset();
}

}  // namespace

void fill_todo_card(Snapshot& out, const Desk& desk, const safety::Todo& todo) {
  Card& card = out.card;
  card.id = cat("todo-", safety::words(todo.kind), "-",
                todo.station.has_value() ? static_cast<int>(todo.station.value()) : -1);
  if (!todo.caution.sentence.empty()) {
    card.cautions.push_back(todo.caution);
  }
  card.sentence = todo.sentence;
  card.how = todo.how;
  card.why = todo.why;
  if (desk.practice() && !todo.why.empty()) {
    card.facts.push_back(todo.why);
  } else if (!todo.why.empty()) {
    card.ways_out.push_back(tap_button("Why", desk.action(Verb::show_sheet, "why")));
  }
  card.ways_out.push_back(tap_button("Pause", desk.action(Verb::show_sheet, "pause")));
  card.primary = hold_button(done_words(todo.kind), act(desk, todo.kind));
  if (todo.kind == EventKind::isolated) {
    fill_means(out, desk);
  } else if (todo.kind == EventKind::reading) {
    fill_reading(out, desk, todo);
  } else if (todo.kind == EventKind::charge_gone || todo.kind == EventKind::cooled) {
    fill_number(out, desk, todo.kind);
  } else if (todo.kind == EventKind::controls_tried) {
    card.primary = hold_button("nothing happened", act(desk, todo.kind));
    Button answered = tap_button("It answered", act(desk, todo.kind));
    answered.action.flag = true;
    card.secondary.push_back(answered);
  } else if (todo.kind == EventKind::lock_removed) {
    // From the record, not from what was typed: the program may have been closed since.
    card.primary->action.text = todo.lock;
  } else if (todo.kind == EventKind::tag_hung) {
    TextField tag;
    tag.id = "tag";
    tag.label = "Number or words on the tag";
    tag.value = desk.local->tag;
    tag.changed = desk.action(Verb::set_word, "tag");
    card.texts.push_back(tag);
    card.primary->action.text = desk.local->tag;
  }
}

bool fill_gate_card(Snapshot& out, const Desk& desk, const safety::Demand& demand) {
  const auto todos = safety::make_safe(desk.state->safety, demand, desk.now.at.utc_ms,
                                       desk.settings->safety);
  if (todos.empty()) {
    return false;
  }
  fill_todo_card(out, desk, todos.front());
  const safety::State& safety = desk.state->safety;
  if (safety.lost != safety::VoidCause::none && safety.power != safety::PowerState::proved_dead) {
    out.card.facts.push_back(cat("Proof given up ", clock_text(safety.lost_at.at), ": ",
                                 safety::words(safety.lost), "."));
  }
  return true;
}

}  // namespace kp::app
