// Cards about the supply and about who answers for it: how it is fed, the tester, the means, what
// keeps it, and what to do where it was not what it seemed.
#include "app/todo_fields.hpp"

#include "app/find_words.hpp"
#include "app/place_words.hpp"
#include "base/text.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

TextField text_field(const Desk& desk, const char* id, const char* label, const std::string& value) {
  TextField field;
  field.id = id;
  field.label = label;
  field.value = value;
  field.changed = desk.action(Verb::set_word, id);
  return field;
}

/// What a tester shows is worth what the tester is worth: it has a name before it reads anything.
/// A card of its own, once a device; the reading's card is for the reading.
void fill_tester(Card& card, const Desk& desk) {
  const Local& local = *desk.local;
  const std::string make(trim(local.tester_make));
  const std::string number(trim(local.tester_number));
  const std::string date(trim(local.tester_date));
  card.id = "tester";
  card.cautions.clear();
  card.facts.clear();
  card.sentence = "Name the tester that you read with.";
  card.how = "It is asked once on this device. \"Tester\" beside a reading changes it.";
  card.texts = {text_field(desk, "tester-make", "Make", local.tester_make),
                text_field(desk, "tester-number", "Number on it", local.tester_number),
                text_field(desk, "tester-date", "Date of its calibration", local.tester_date)};
  card.texts[1].mono = card.texts[2].mono = true;
  Button mine = tap_button("This is my tester", desk.action(Verb::set_word, "tester"));
  mine.action.text = cat(make, " ", number, date.empty() ? "" : ", calibrated ", date);
  mine.enabled = !make.empty() && !number.empty();
  if (!mine.enabled) {
    mine.detail = "make and number first";
  }
  card.primary = mine;
}

namespace {

void choose(Card& card, const Desk& desk, const char* group, const char* id, const char* title,
            bool chosen) {
  Row row = row_of(id, title, chosen ? Mark::chosen : Mark::choice);
  row.group = group;
  row.tap = desk.action(Verb::choose_connection, id);
  card.choices.push_back(row);
}

}  // namespace

/// The supply as found, and what is in the machine.
void fill_prepare(Card& card, const Desk& desk) {
  const Local& local = *desk.local;
  safety::Prepared fact;
  fact.connection = local.connection.value_or(job::connection_of(*desk.pack()));
  fact.built_in = local.built_in;
  fact.frame_first = local.frame_first;
  const bool cord = fact.connection == safety::Connection::cord;
  choose(card, desk, "", "fixed", "Fixed wiring", !cord);
  choose(card, desk, "", "cord", "Cord and plug", cord);
  if (cord) {   // what is fastened in place wants a lock on its plug
    choose(card, desk, "How it stands", "built-in", "Built in", fact.built_in);
    choose(card, desk, "How it stands", "free-standing", "Free-standing", !fact.built_in);
  }
  Row odd = row_of("frame-first", "It tingles or trips, water is below, or no earth is found",
                   local.frame_first ? Mark::chosen : Mark::choice);
  odd.group = "Where it is so";
  odd.tap = desk.action(Verb::tick_doubt);
  card.choices.push_back(odd);
  card.sentence = "How is this machine fed?";
  safety::State found = desk.state->safety;
  found.connection = fact.connection;
  card.facts.push_back(cat("Supply: ", number_text(desk.pack()->supply.volts), " V. To be proved dead at: ",
                           lower_first(place_words(*desk.model(), found, safety::kSupply)), "."));
  std::string energies;
  for (int i = 0; i < safety::kEnergies; ++i) {
    const auto energy = static_cast<safety::Energy>(i);
    if (safety::in_set(job::energies_of(*desk.model()), energy)) {
      energies += cat(energies.empty() ? "" : ", ", safety::words(energy));
    }
  }
  card.how = cat("In it: ", energies, ".");
  card.primary = hold_button("so I found it", desk.fact(fact));
}

void fill_isolate(Card& card, const Desk& desk) {
  const safety::State& safe = desk.state->safety;
  const auto means = safety::offered(safe.connection, safe.system);
  const safety::Means chosen = desk.local->means.value_or(means.front());
  for (const safety::Means one : means) {
    Row row = row_of(safety::rule_of(one).word, safety::rule_of(one).title,
                     one == chosen ? Mark::chosen : Mark::choice);
    row.tap = desk.action(Verb::choose_means, row.id);
    card.choices.push_back(row);
  }
  if (said_live(safe)) {
    card.how = "The last means did not part it. Choose another.";
  }
  card.primary = hold_button("the supply is parted", desk.fact(safety::Isolated{chosen}));
}

void fill_hold(Card& card, const Desk& desk) {
  const safety::State& safe = desk.state->safety;
  const safety::ControlAsked asked{safe.means, safe.built_in, 1 + to_int(safe.helpers.size()), false};
  const auto controls = safety::offered(asked);
  const safety::Control chosen = desk.local->control.value_or(controls.front());
  if (controls.size() > 1) {
    for (const safety::Control one : controls) {
      Row row = row_of(safety::words(one), safety::title(one),
                       one == chosen ? Mark::chosen : Mark::choice);
      row.tap = desk.action(Verb::choose_control, row.id);
      card.choices.push_back(row);
    }
  }
  if (safety::needs_lock(chosen)) {
    card.texts.push_back(text_field(desk, "lock", "Number on your lock", desk.local->lock));
    card.texts.back().mono = true;
  }
  if (safety::needs_tag(chosen)) {
    card.texts.push_back(text_field(desk, "tag", "Number or words on the tag", desk.local->tag));
  }
  if (chosen == safety::Control::tag_and_measure) {
    card.texts.push_back(
        text_field(desk, "measure", "The one more measure, and why no lock fits", desk.local->measure));
  }
  safety::HeldFast fact;
  fact.control = chosen;
  card.primary = hold_button("it is held", desk.fact(fact));
}

bool said_live(const safety::State& safe) {
  return safe.power == safety::Power::live && (safe.lost == safety::Loss::meter_says_live ||
                                               safe.lost == safety::Loss::controls_answered ||
                                               safe.lost == safety::Loss::found_live);
}

bool hands_back(const safety::State& safe) {
  return said_live(safe) && safe.lost != safety::Loss::controls_answered;
}

/// Voltage where all should be dead. The machine does not run: there is nothing to stop.
void fill_hands_back(Card& card, const Desk& desk) {
  card.id = "todo-hands-back";
  card.sentence = "Hands back, refit nothing, keep all people off.";
  card.how = "Then isolate it again by another means, and prove it from the beginning.";
  card.primary = hold_button("nobody is near it", desk.fact(safety::Stopped{desk.state->safety.ran}));
}

}  // namespace kp::app
