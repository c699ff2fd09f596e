// Find: what the fault may be, the test that is being done, and the way to it. What to do next is
// in stage_advice.cpp.
#include "app/desk.hpp"

#include <algorithm>
#include <cmath>

#include "app/find_words.hpp"
#include "app/picture.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"

namespace kp::app {

namespace {

void fill_readings(Snapshot& out, const Desk& desk) {
  const pack::Pack& pack = *desk.pack();
  for (const auto& kept : desk.state->tests) {
    const int index = pack.test(kept.body.test);
    if (index < 0) {
      continue;
    }
    const pack::Test& test = pack.tests[to_size(index)];
    const bool good = is_good(test, kept.body);
    Row row = row_of(cat("kept-", integer_text(kept.stamp.n)), test.title,
                     good ? Mark::done : Mark::failed);
    row.group = "Readings";
    row.detail = cat(clock_text(kept.stamp.at), good ? ", as a good one" : ", not as a good one");
    row.figure = reading_text(test, kept.body);
    row.tap = desk.action(Verb::show_sheet, cat("reading-", integer_text(kept.stamp.n)));
    out.below.push_back(row);
  }
  for (const auto& given_up : desk.state->impossible) {
    const int index = pack.test(given_up.body.test);
    if (index < 0) {
      continue;
    }
    Row row = row_of(cat("kept-", integer_text(given_up.stamp.n)), pack.tests[to_size(index)].title,
                     Mark::blocked);
    row.group = "Cannot be done here";
    row.detail = given_up.body.reason;
    out.below.push_back(row);
  }
}

/// Where the pack knows faults: beliefs as bars, the rest behind one of them.
void fill_beliefs(Snapshot& out, const Desk& desk) {
  constexpr int kShown = 5;
  constexpr double kLeast = 0.005;
  const job::Finding& finding = desk.finder->finding();
  const std::vector<double>& share = desk.finder->advice().belief.fault;
  std::vector<int> order;
  for (int i = 0; i < to_int(finding.faults.size()); ++i) {
    if (finding.faults[to_size(i)] >= 0) {
      order.push_back(i);
    }
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return share[to_size(a)] > share[to_size(b)]; });
  double rest = share.empty() ? 0 : share.back();
  for (int i = 0; i < to_int(order.size()); ++i) {
    const double p = share[to_size(order[to_size(i)])];
    if (i >= kShown - 1 || p < kLeast) {
      rest += p;
      continue;
    }
    const pack::Fault& fault = desk.pack()->faults[to_size(finding.faults[to_size(order[to_size(i)])])];
    Row row = row_of(cat("fault-", fault.id), fault.title, Mark::none);
    row.group = "What fits";
    row.figure = percent_text(p);
    row.bar = p;
    out.rows.push_back(row);
  }
  Row other = row_of("fault-else", "Anything else", Mark::none);
  other.group = "What fits";
  rest = std::min(rest, 1.0);
  other.figure = percent_text(rest);
  other.bar = rest;
  out.rows.push_back(other);
}

/// A way out more, where the foot has room for it.
void leave_open(Card& card, const Button& way) {
  constexpr std::size_t kMost = 3;
  if (card.ways_out.size() < kMost) {
    card.ways_out.insert(card.ways_out.end() - (card.ways_out.empty() ? 0 : 1), way);
  }
}

/// The test that is being done; where its place is not open yet, the next step of the way to it.
void fill_test(Snapshot& out, const Desk& desk, const pack::Test& test) {
  if (desk.way_to_test != nullptr && fill_next_step(out, desk, *desk.way_to_test)) {
    out.stage_where = cat("to: ", test.title);
    out.other_look.reset();   // the drawing shows the step
    out.card.ways_out = {tap_button("Why", desk.action(Verb::show_sheet, "why")),
                         tap_button("Not now", desk.action(Verb::choose_test)),
                         tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
    return;
  }
  const safety::Demand demand = job::demand_of(*desk.model(), *desk.state, test);
  const Button not_now = tap_button("Not now", desk.action(Verb::choose_test));
  if (test.live()) {
    // Hands clear, covers as the test wants them: the tests that the work asks for, then the release
    // order; every proof is void from there.
    if (desk.state->safety.power != safety::Power::on && fill_owed_test(out, desk, nullptr)) {
      leave_open(out.card, not_now);
      return;
    }
    const auto back = desk.put_back(true, job::wants_water(test));
    if (!back.empty()) {
      fill_todo_card(out, desk, back.front());
      leave_open(out.card, not_now);
      return;
    }
  } else if (fill_gate_card(out, desk, demand)) {
    leave_open(out.card, not_now);
    return;
  }
  Card& card = out.card;
  card.id = cat("test-", test.id);
  add_cautions(card, desk, test.caution, demand);
  card.sentence = test.title;
  card.how = test.how;
  for (const int joint : test.needs_released) {
    card.how += cat(" Off: ", lower_first(desk.pack()->joints[to_size(joint)].name), ".");
  }
  for (const int joint : job::misleading_joints(*desk.model(), desk.state->unit, test)) {
    card.refusal.push_back(cat("Still off: ", lower_first(desk.pack()->joints[to_size(joint)].name),
                               ". With it off the reading misleads. Put it back, or choose another test."));
  }
  if (test.probe == pack::Probe::look) {
    Button good = tap_button(test.good.empty() ? "Looks right" : test.good,
                             desk.action(Verb::test_looked, test.id));
    good.action.flag = true;
    card.primary = good;
    card.secondary.push_back(tap_button(test.bad.empty() ? "Not right" : test.bad,
                                        desk.action(Verb::test_looked, test.id)));
  } else if (out.exploded) {
    // The machine takes the room of the keypad while one looks for the places.
    card.primary = out.other_look;
    card.primary->label = "Enter reading";
  } else {
    NumberField field;
    field.id = cat("test-", test.id);
    field.label = test.title;
    field.unit = test.unit;
    field.least = test.field_low;
    field.most = test.field_high;
    field.open_loop = may_be_open(test);
    field.band = band_text(test);
    field.band_low = test.low;
    field.band_high = std::isfinite(test.high) ? test.high : test.low;
    field.entered = desk.action(Verb::test_reading, test.id);
    field.entered_open_loop = desk.action(Verb::test_open_loop, test.id);
    field.confirm = "Keep the reading";
    card.number = field;
  }
  card.ways_out = {tap_button("Other tests", desk.action(Verb::show_sheet, "tests")),
                   tap_button("Can't do it", desk.action(Verb::show_sheet, cat("no-test-", test.id))),
                   tap_button("Not now", desk.action(Verb::choose_test))};
}

/// A pack without faults only has its suspects: the technician picks.
void fill_suspects(Snapshot& out, const Desk& desk) {
  const pack::Pack& pack = *desk.pack();
  const int symptom = pack.symptom(desk.state->complaint.symptom);
  double sum = 0;
  std::vector<pack::Suspect> suspects;
  if (symptom >= 0) {
    suspects = pack.symptoms[to_size(symptom)].suspects;
  }
  for (const pack::Suspect& suspect : suspects) {
    sum += suspect.weight;
  }
  for (const pack::Suspect& suspect : suspects) {
    const pack::Part& part = pack.parts[to_size(suspect.part)];
    const double share = sum > 0 ? suspect.weight / sum : 0;
    Row row = row_of(part.id, suspect.fault, Mark::choice);
    row.group = "What fits, by experience";
    row.detail = part.name;
    row.figure = percent_text(share);
    row.bar = share;
    row.tap = desk.action(Verb::choose_part, part.id);
    out.rows.push_back(row);
  }
  out.card.id = "suspect";
  out.card.sentence = "Choose what you suspect.";
  out.card.how = "Measure it before you take anything apart.";
  out.card.ways_out = {tap_button("Tests", desk.action(Verb::show_sheet, "tests")),
                       tap_button("Other part", desk.action(Verb::show_sheet, "parts"))};
}

/// The upper part: beliefs and the strip, or the machine with the places of the probes.
void fill_look(Snapshot& out, const Desk& desk, int test, bool measuring) {
  const bool place = desk.local->place && test >= 0;
  if (place) {
    out.exploded = picture_of(desk, desk.pack()->tests[to_size(test)]);
  } else {
    if (!measuring) {
      fill_beliefs(out, desk);   // while one measures, the strip with the probes has their place
    }
    fill_circuit(out, desk, test);
  }
  if (test >= 0) {
    Button turn = tap_button(place ? "Show circuit" : "Show place", desk.action(Verb::show_place));
    turn.action.flag = !place;
    out.other_look = turn;
  }
}

}  // namespace

void fill_find(Snapshot& out, const Desk& desk) {
  const pack::Pack& pack = *desk.pack();
  const int symptom = pack.symptom(desk.state->complaint.symptom);
  if (symptom >= 0) {
    out.stage_where = pack.symptoms[to_size(symptom)].title;
  }
  const int chosen = pack.test(desk.local->test);
  if (desk.finder == nullptr) {
    if (chosen >= 0) {
      fill_test(out, desk, pack.tests[to_size(chosen)]);
    } else {
      fill_suspects(out, desk);
    }
    fill_readings(out, desk);
    return;
  }
  const int shown = chosen >= 0 ? chosen : desk.finder->advised_test();
  fill_look(out, desk, shown, chosen >= 0);
  if (chosen >= 0) {
    fill_test(out, desk, pack.tests[to_size(chosen)]);
  } else {
    fill_advice(out, desk);
  }
  fill_readings(out, desk);
}

}  // namespace kp::app
