#include "app/todo_fields.hpp"

#include <algorithm>
#include <cmath>

#include "app/place_words.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

namespace {

using safety::TodoKind;

bool reads(TodoKind kind) {
  return kind == TodoKind::take_reading || kind == TodoKind::discharge ||
         kind == TodoKind::read_frame || kind == TodoKind::read_neutral;
}

std::string expected_words(const safety::ReadingTaken& reading, const safety::Policy& policy) {
  switch (reading.role) {
    case safety::Role::known_before:
    case safety::Role::known_after:
      return cat("expected ", number_text(std::round(reading.band_low)), " to ",
                 number_text(std::round(reading.band_high)), " V");
    case safety::Role::earth_shown:
      return cat("an earth: below ", number_text(policy.earth_ohm), " Ω");
    case safety::Role::pair:
    case safety::Role::pair_dc:
      return cat("dead: no step lit, or at most ", number_text(policy.nil_volts), " V");
  }
  return {};
}

safety::ReadingTaken reading_for(const Desk& desk, const safety::Todo& todo) {
  const safety::State& safe = desk.state->safety;
  safety::ReadingTaken fact;
  fact.place = todo.place.id;
  fact.role = todo.wanted.role;
  fact.a = todo.wanted.pair.a;
  fact.b = todo.wanted.pair.b;
  fact.function = desk.local->function;
  if (fact.role == safety::Role::earth_shown) {
    fact.function = safety::MeterFunction::ohms;
  } else if (fact.role == safety::Role::pair_dc) {
    fact.function = safety::MeterFunction::volts_dc;
  } else if (todo.wanted.low_impedance) {
    fact.function = safety::MeterFunction::volts_ac_low_impedance;
  }
  const bool known = fact.role == safety::Role::known_before || fact.role == safety::Role::known_after;
  if (known) {
    fact.source = desk.local->source;
    const safety::Range band = desk.local->source == safety::Source::outlet
                                   ? safety::outlet_band(safe.volts)
                                   : safety::Range{50, 1000};
    fact.band_low = band.low;
    fact.band_high = band.high;
  }
  return fact;
}

/// What the last reading of this series said, where it was not as it should be.
void say_last(Card& card, const safety::State& safe) {
  if (safe.series.readings.empty()) {
    return;
  }
  switch (safe.series.readings.back().found) {
    case safety::Found::source_out:
      card.refusal.emplace_back(
          "Not what this source shows. Try another source, or another tester, and begin again.");
      return;
    case safety::Found::ghost:
      card.refusal.emplace_back(
          "Some volts: induced, or a source. Read the same pair on the low-impedance range.");
      return;
    case safety::Found::earth_missing:
      card.refusal.emplace_back("This is no earth. Find another earth to read against.");
      return;
    case safety::Found::live:
      card.refusal.emplace_back("Voltage. Hands back. Isolate again by another means.");
      return;
    default:
      return;
  }
}

void fill_reading(Card& card, const Desk& desk, const safety::Todo& todo) {
  const safety::ReadingTaken fact = reading_for(desk, todo);
  const bool ohms = fact.function == safety::MeterFunction::ohms;
  const bool known = fact.role == safety::Role::known_before || fact.role == safety::Role::known_after;
  NumberField field;
  field.id = cat("reading-", todo.place.id, "-", safety::words(fact.role), "-", fact.a, "-", fact.b);
  const bool pair = fact.role == safety::Role::pair || fact.role == safety::Role::pair_dc;
  field.label = pair ? reading_sentence(*desk.model(), todo.wanted) : todo.sentence;
  field.unit = ohms ? "Ω" : fact.role == safety::Role::pair_dc ? "V DC" : "V~";
  field.least = 0;
  field.most = ohms ? 1'000'000 : 1000;
  field.band_low = fact.band_low;
  field.band_high = known ? fact.band_high : ohms ? 0.9 : 0;
  field.band = expected_words(fact, safety::bounded(desk.settings->safety));
  // A tester with steps shows no digits: no step lit is an answer of its own.
  if (!known && !ohms) {
    field.open_loop = true;
    field.open_word = "No step lit";
    safety::ReadingTaken none = fact;
    none.shown.none_lit = true;
    field.entered_open_loop = desk.fact(none);
  }
  field.entered = desk.fact(fact);
  field.confirm = fact.role == safety::Role::known_after ? "Finish the proof" : "Next reading";
  say_last(card, desk.state->safety);
  card.number = field;
  card.sentence.clear();
  if (!known) {   // a known source stands elsewhere
    card.facts.insert(card.facts.begin(),
                      cat("Place: ", place_words(*desk.model(), desk.state->safety, todo.place.id)));
  }
  card.ways_out.insert(card.ways_out.begin(),
                       tap_button("Tester", desk.action(Verb::show_sheet, "meter")));
  if (card.ways_out.size() > 3) {
    card.ways_out.erase(card.ways_out.begin() + 1);   // Why stands on the sheet of the strip too
  }
}

void fill_number(Card& card, const Desk& desk, const safety::Todo& todo, const safety::Demand&) {
  const safety::Policy policy = safety::bounded(desk.settings->safety);
  NumberField field;
  field.confirm = "Keep the reading";
  field.label = todo.sentence;
  field.least = 0;
  if (todo.kind == TodoKind::discharge) {
    safety::Discharged fact;
    fact.place = todo.place.id;
    fact.ohm = 20'000;
    fact.seconds = 10;
    field.id = "charge";
    field.unit = "V DC";
    field.most = 1000;
    field.band_high = policy.charge_gone_volts;
    field.confirm = "It is discharged";
    field.entered = desk.fact(fact);
  } else if (todo.kind == TodoKind::cool) {
    safety::Cooled fact;
    fact.place = todo.place.id;
    field.id = "celsius";
    field.unit = "°C";
    field.most = 150;
    field.band_high = policy.cooled_below_celsius;
    field.confirm = "It is cool";
    field.entered = desk.fact(fact);
  } else if (todo.kind == TodoKind::read_neutral) {
    field.id = "neutral";
    field.unit = "A";
    field.most = 1000;
    field.band_high = 0.05;
    field.entered = desk.fact(safety::NeutralRead{});
  } else {
    safety::FrameRead fact;
    fact.function = desk.local->function;
    field.id = "frame";
    field.unit = "V~";
    field.most = 1000;
    field.band_high = policy.nil_volts;
    field.open_loop = true;
    field.open_word = "No step lit";
    safety::FrameRead none = fact;
    none.shown.none_lit = true;
    field.entered_open_loop = desk.fact(none);
    field.entered = desk.fact(fact);
  }
  field.band = cat("below ", number_text(field.band_high), " ", field.unit);
  card.number = field;
  card.sentence.clear();
}

void fill_secure(Card& card, const Desk& desk, const safety::Todo& todo) {
  const std::pair<safety::Support, const char*> ways[] = {
      {safety::Support::block, "On blocks"},
      {safety::Support::strap, "With a strap"},
      {safety::Support::person, "A second person holds it"}};
  for (const auto& [how, title] : ways) {
    Row row = row_of(safety::words(how), title,
                     how == desk.local->support ? Mark::chosen : Mark::choice);
    row.tap = desk.action(Verb::choose_support, row.id);
    card.choices.push_back(row);
  }
  safety::Secured fact;
  fact.position = todo.place.id;
  fact.how = desk.local->support;
  card.primary = hold_button("it stands secured", desk.fact(fact));
}

void fill_watch(Card& card, const Desk& desk) {
  const std::int64_t wait =
      std::int64_t{safety::bounded(desk.settings->safety).watch_seconds} * 1000;
  const std::int64_t left = wait - safety::age_ms(desk.state->safety.relieved, desk.clock());
  card.secondary.push_back(tap_button("It seeps", desk.fact(safety::Watched{false})));
  if (left > 0) {
    card.primary->enabled = false;
    card.primary->detail = cat("in ", duration_text(left + 999));
  }
}

}  // namespace

void fill_todo_fields(Card& card, const Desk& desk, const safety::Todo& todo) {
  if (reads(todo.kind) && desk.tester.empty()) {
    return fill_tester(card, desk);
  }
  switch (todo.kind) {
    case TodoKind::answer_gap:
      card.primary = hold_button("I stayed, all is as I left it",
                                 desk.fact(safety::GapAnswered{safety::Stayed::here}));
      card.secondary.push_back(tap_button(
          "I left; my lock holds", desk.fact(safety::GapAnswered{safety::Stayed::left_locked})));
      card.secondary.push_back(
          tap_button("I don't know", desk.fact(safety::GapAnswered{safety::Stayed::unknown})));
      return;
    case TodoKind::reopen:
      card.primary = hold_button("open it again", desk.action(Verb::next_visit));
      return;
    case TodoKind::prepare:
      return fill_prepare(card, desk);
    case TodoKind::stop:
      if (hands_back(desk.state->safety)) {
        return fill_hands_back(card, desk);
      }
      card.secondary.push_back(tap_button("It was dead before", desk.fact(safety::Stopped{false})));
      return;
    case TodoKind::isolate:
      return fill_isolate(card, desk);
    case TodoKind::hold:
      return fill_hold(card, desk);
    case TodoKind::try_controls: {
      // A dead machine, or one whose door cannot be shut now, tells nothing.
      safety::Demand demand;
      demand.act = safety::Act::try_controls;
      const bool open = desk.ask(demand).machine.door_open;
      const bool ran = desk.state->safety.ran && !open;
      card.primary = hold_button(
          ran    ? "nothing happened"
          : open ? "door open: it tells nothing"
                 : "nothing, as before: it tells nothing",
          desk.fact(safety::ControlsTried{ran ? safety::Answer::nothing
                                              : safety::Answer::tells_nothing}));
      card.secondary.push_back(
          tap_button("It answered", desk.fact(safety::ControlsTried{safety::Answer::answered})));
      return;
    }
    case TodoKind::take_reading:
      return fill_reading(card, desk, todo);
    case TodoKind::discharge:
    case TodoKind::cool:
    case TodoKind::read_neutral:
    case TodoKind::read_frame:
      return fill_number(card, desk, todo, {});
    case TodoKind::secure:
      return fill_secure(card, desk, todo);
    case TodoKind::watch:
      return fill_watch(card, desk);
    case TodoKind::prop:
      card.texts.push_back(text_field(desk, "helper", "Who holds it", desk.local->helper));
      card.primary = hold_button("it is propped", desk.fact(safety::Propped{desk.local->support, {}}));
      return;
    case TodoKind::helper:
      card.texts.push_back(text_field(desk, "helper", "Name of the second person", desk.local->helper));
      card.primary = hold_button("two are here", desk.fact(safety::HelperHere{2, {}}));
      return;
    case TodoKind::power_on:
      card.secondary.push_back(tap_button(
          "The breaker opened", desk.fact(safety::Doubted{safety::Doubt::device_opened})));
      return;
    case TodoKind::tag:
      card.texts.push_back(text_field(desk, "tag", "Number or words on the tag", desk.local->tag));
      card.primary = hold_button("the tag hangs", desk.fact(safety::TagHung{}));
      return;
    default:
      return;
  }
}

safety::Fact filled(const Action& action, const Local& local, const std::string& tester) {
  safety::Fact fact = action.fact.value_or(safety::Fact{safety::SeriesRestarted{}});
  if (auto* reading = std::get_if<safety::ReadingTaken>(&fact)) {
    reading->tester = tester;
    reading->shown.volts = reading->shown.none_lit ? 0 : action.value;
  } else if (auto* frame = std::get_if<safety::FrameRead>(&fact)) {
    frame->tester = tester;
    frame->shown.volts = frame->shown.none_lit ? 0 : action.value;
  } else if (auto* gone = std::get_if<safety::Discharged>(&fact)) {
    gone->tester = tester;
    gone->dc_volts = action.value;
  } else if (auto* neutral = std::get_if<safety::NeutralRead>(&fact)) {
    neutral->tester = tester;
    neutral->amperes = action.value;
  } else if (auto* cooled = std::get_if<safety::Cooled>(&fact)) {
    cooled->celsius = action.value;
  } else if (auto* held = std::get_if<safety::HeldFast>(&fact)) {
    held->lock = safety::needs_lock(held->control) ? local.lock : std::string();
    held->tag = safety::needs_tag(held->control) ? local.tag : std::string();
    held->measure = held->control == safety::Control::tag_and_measure ? local.measure : std::string();
  } else if (auto* tag = std::get_if<safety::TagHung>(&fact)) {
    tag->tag = local.tag;
  } else if (auto* helper = std::get_if<safety::HelperHere>(&fact)) {
    helper->name = local.helper;
  } else if (auto* prop = std::get_if<safety::Propped>(&fact)) {
    prop->helper = prop->how == safety::Support::person ? local.helper : std::string();
  } else if (auto* handed = std::get_if<safety::HandedOn>(&fact)) {
    handed->person = local.new_person;
    handed->lock = local.lock;
  } else if (auto* foreign = std::get_if<safety::ForeignLock>(&fact)) {
    foreign->lock = local.lock;
    foreign->owner = local.new_person;
  }
  return fact;
}

}  // namespace kp::app
