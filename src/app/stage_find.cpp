// Find: suspects by the pack's weights, readings kept, and the technician's own choice.
#include "app/desk.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

namespace {

const pack::Test* test_of(const pack::Pack& pack, const std::string& id) {
  for (const pack::Test& test : pack.tests) {
    if (test.id == id) {
      return &test;
    }
  }
  return nullptr;
}

/// The first test of that part that has no reading yet. One with the power on is taken from the
/// list, by the technician's own choice.
const pack::Test* next_test(const Desk& desk, int part) {
  for (const pack::Test& test : desk.pack()->tests) {
    if (test.part != part || test.running) {
      continue;
    }
    const bool done =
        std::any_of(desk.state->tests.begin(), desk.state->tests.end(),
                    [&](const auto& kept) { return kept.body.test == test.id; });
    if (!done) {
      return &test;
    }
  }
  return nullptr;
}

std::string band_text(const pack::Test& test) {
  return cat("good ", job::band_words(test));
}

std::string reading_text(const job::TestRecorded& kept) {
  if (kept.looked) {
    return kept.good ? "good" : "not good";
  }
  return kept.open_loop ? "OL" : cat(number_text(kept.value), " ", kept.unit);
}

bool in_band(const pack::Test& test, const job::TestRecorded& kept) {
  if (kept.looked) {
    return kept.good;
  }
  return job::in_band(test, kept.value, kept.open_loop);
}

// What is suspected: the part chosen; after the program was closed, the one measured last.
int suspect_of(const Desk& desk) {
  const pack::Pack& pack = *desk.pack();
  if (!desk.local->part.empty() || desk.state->tests.empty()) {
    return pack.part(desk.local->part);
  }
  const pack::Test* test = test_of(pack, desk.state->tests.back().body.test);
  return test == nullptr ? -1 : test->part;
}

void fill_suspects(Snapshot& out, const Desk& desk) {
  const pack::Pack& pack = *desk.pack();
  const int symptom = pack.symptom(desk.state->complaint.symptom);
  std::vector<pack::Suspect> suspects;
  double sum = 0;
  if (symptom >= 0) {
    suspects = pack.symptoms[to_size(symptom)].suspects;
    out.stage_where = pack.symptoms[to_size(symptom)].title;
  }
  for (const pack::Suspect& suspect : suspects) {
    sum += suspect.weight;
  }
  std::stable_sort(suspects.begin(), suspects.end(),
                   [](const auto& a, const auto& b) { return a.weight > b.weight; });
  for (const pack::Suspect& suspect : suspects) {
    const pack::Part& part = pack.parts[to_size(suspect.part)];
    const double share = sum > 0 ? suspect.weight / sum : 0;
    Row row = row_of(part.id, suspect.fault,
                     suspect_of(desk) == suspect.part ? Mark::chosen : Mark::choice);
    row.group = "What fits, by experience";
    row.detail = part.name;
    row.figure = cat(fixed_text(share * 100, 0), " %");
    row.bar = share;
    row.drawing = part.drawing;
    row.tap = desk.action(Verb::choose_part, part.id);
    out.rows.push_back(row);
  }
}

void fill_readings(Snapshot& out, const Desk& desk) {
  for (const auto& kept : desk.state->tests) {
    const pack::Test* test = test_of(*desk.pack(), kept.body.test);
    if (test == nullptr) {
      continue;
    }
    const bool good = in_band(*test, kept.body);
    Row row = row_of(cat("kept-", integer_text(kept.stamp.n)), test->title,
                     good ? Mark::done : Mark::failed);
    row.group = "Readings";
    row.detail = cat(clock_text(kept.stamp.at), good ? ", as a good one" : ", not as a good one");
    row.figure = reading_text(kept.body);
    row.tap = desk.action(Verb::show_sheet, cat("reading-", integer_text(kept.stamp.n)));
    out.rows.push_back(row);
  }
}

/// The card of a test that is being done.
void fill_test_card(Snapshot& out, const Desk& desk, const pack::Test& test) {
  Card& card = out.card;
  card.id = cat("test-", test.id);
  card.cautions = safety::cautions_of({}, true);
  card.sentence = test.title;
  card.how = test.how;
  if (test.probe == pack::Probe::look) {
    Button good = tap_button("Looks right", desk.action(Verb::test_looked, test.id));
    good.action.flag = true;
    card.primary = good;
    card.secondary.push_back(tap_button("Not right", desk.action(Verb::test_looked, test.id)));
  } else {
    NumberField field;
    field.id = cat("test-", test.id);
    field.label = test.title;
    field.unit = test.unit;
    field.least = test.field_low;
    field.most = test.field_high;
    field.open_loop = test.probe == pack::Probe::ohm || test.probe == pack::Probe::continuity;
    field.band = band_text(test);
    field.band_low = test.low;
    field.band_high = std::min(test.high, test.field_high);
    field.entered = desk.action(Verb::test_reading, test.id);
    field.entered_open_loop = desk.action(Verb::test_open_loop, test.id);
    field.confirm = "Keep the reading";
    card.number = field;
  }
  card.ways_out = {tap_button("Other tests", desk.action(Verb::show_sheet, "tests")),
                   tap_button("Not now", desk.action(Verb::choose_test))};
}

void fill_choice_card(Snapshot& out, const Desk& desk) {
  Card& card = out.card;
  const pack::Pack& pack = *desk.pack();
  const int part = suspect_of(desk);
  card.ways_out = {tap_button("Other tests", desk.action(Verb::show_sheet, "tests")),
                   tap_button("Other part", desk.action(Verb::show_sheet, "parts")),
                   tap_button("No fault", desk.action(Verb::go_stage, "prove"))};
  if (part < 0) {
    card.id = "suspect";
    card.sentence = "Choose what you suspect.";
    card.how = "Measure it before you take anything apart.";
    return;
  }
  const pack::Part& chosen = pack.parts[to_size(part)];
  card.id = cat("reach-", chosen.id);
  const pack::Test* test = next_test(desk, part);
  card.sentence = test != nullptr ? cat("Measure the ", chosen.name, " before you reach it.")
                                  : cat("Reach the ", chosen.name, ".");
  if (test != nullptr) {
    card.how = cat(test->title, ", ", band_text(*test));
    if (test->probe == pack::Probe::look) {
      card.how = test->title;
    }
    card.primary = tap_button("Do this test", desk.action(Verb::choose_test, test->id));
    Button reach = tap_button("Reach it", desk.action(Verb::choose_part, chosen.id));
    reach.action.flag = true;
    card.secondary.push_back(reach);
    return;
  }
  Button reach = tap_button(cat("Reach the ", chosen.name),
                            desk.action(Verb::choose_part, chosen.id));
  reach.action.flag = true;
  card.primary = reach;
}

}  // namespace

void fill_find(Snapshot& out, const Desk& desk) {
  fill_suspects(out, desk);
  fill_readings(out, desk);
  const pack::Test* test = test_of(*desk.pack(), desk.local->test);
  if (test != nullptr) {
    const safety::Demand demand = job::demand_of(*desk.pack(), *test);
    if (!fill_gate_card(out, desk, demand)) {
      fill_test_card(out, desk, *test);
    }
    return;
  }
  fill_choice_card(out, desk);
}

}  // namespace kp::app
