// Prove: the tests with power off, then water and power back, the run, and how the job ends.
#include "app/desk.hpp"

#include <algorithm>

#include "app/picture.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"
#include "job/owed_tests.hpp"

namespace kp::app {

namespace {

const job::ProveRecorded* result_of(const job::State& state, const std::string& test) {
  for (const auto& one : state.proved) {
    if (one.body.test == test) {
      return &one.body;
    }
  }
  return nullptr;
}

std::string limit_text(const pack::ProveTest& test) {
  if (test.has_low && test.has_high) {
    return cat(number_text(test.low), " to ", number_text(test.high), " ", test.unit);
  }
  if (test.has_high) {
    return cat("at most ", number_text(test.high), " ", test.unit);
  }
  return test.has_low ? cat("at least ", number_text(test.low), " ", test.unit) : std::string();
}

const char* group_of(pack::ProveWhen when) {
  switch (when) {
    case pack::ProveWhen::before_power:
      return "Before power goes back";
    case pack::ProveWhen::running:
      return "With water and power on";
    case pack::ProveWhen::after:
      return "Before you leave";
  }
  return "";
}

void fill_test_card(Snapshot& out, const Desk& desk, const pack::ProveTest& test) {
  Card& card = out.card;
  card.id = cat("prove-", test.id);
  if (!test.caution.empty()) {
    safety::Caution caution;
    caution.word = test.when == pack::ProveWhen::running ? safety::SignalWord::warning
                                                         : safety::SignalWord::caution;
    caution.sentence = test.caution;
    card.cautions.push_back(caution);
  }
  card.sentence = test.title;
  card.how = test.how;
  if (desk.practice()) {
    card.facts.push_back(cat("Limit: ", test.source));
  }
  if (!test.unit.empty()) {
    NumberField field;
    field.id = cat("prove-", test.id);
    field.label = test.title;
    field.unit = test.unit;
    field.least = test.field_low;
    field.most = test.field_high;
    field.band = limit_text(test);
    field.band_low = test.has_low ? test.low : test.field_low;
    field.band_high = test.has_high ? test.high : test.field_high;
    field.entered = desk.action(Verb::prove_reading, test.id);
    field.confirm = "Keep the reading";
    card.number = field;
    card.sentence.clear();
  } else {
    Action good = desk.action(Verb::prove_looked, test.id);
    good.flag = true;
    card.primary = hold_button("this is right", good);
    card.secondary.push_back(tap_button("Not right", desk.action(Verb::prove_looked, test.id)));
  }
  if (const std::int64_t left = job::wait_left_ms(*desk.state, test, desk.now); left > 0) {
    card.facts.push_back(cat("It takes ", duration_words(test.wait_seconds), "."));
    if (card.primary.has_value()) {
      card.primary->enabled = false;
      card.primary->detail = cat("in ", duration_text(left + 999));
    }
  }
  for (const std::string& word : job::left_out_for(*desk.model(), *desk.state, test)) {
    if (card.secondary.size() >= 2) {
      break;
    }
    card.secondary.push_back(
        tap_button(cat("Leave out: ", word), desk.action(Verb::prove_left_out, test.id, word)));
  }
  card.ways_out = {tap_button("Why", desk.action(Verb::show_sheet, "why")),
                   tap_button("Open again", desk.action(Verb::show_sheet, "reopen")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

void fill_failed_card(Snapshot& out, const Desk& desk, const pack::ProveTest& test) {
  Card& card = out.card;
  card.id = cat("failed-", test.id);
  card.sentence = cat("Mend this: ", test.title, ".");
  card.how = "The machine must not go back to the customer like this.";
  card.primary = tap_button("Test it again", desk.action(Verb::choose_prove, test.id));
  card.secondary.push_back(tap_button("Open again", desk.action(Verb::show_sheet, "reopen")));
  card.ways_out = {tap_button("End the visit", desk.action(Verb::show_sheet, "end")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

void fill_end_card(Snapshot& out, const Desk& desk) {
  const bool repaired = !desk.state->swapped.empty();
  Card& card = out.card;
  card.id = "end";
  card.sentence = repaired ? "Every test is passed. The machine is repaired."
                           : "Every test is passed. No fault was found.";
  card.how = "Show the customer that it runs.";
  Action end = desk.action(Verb::end_job, repaired ? "repaired" : "no-fault-found");
  card.primary = hold_button("job is done", end);
  card.ways_out = {tap_button("End another way", desk.action(Verb::show_sheet, "end")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

/// What it takes to have the place of a test open.
plan::Targets targets_of(const pack::ProveTest& test) {
  plan::Targets targets;
  targets.positions = test.positions;
  if (!test.behind.empty()) {
    targets.points.push_back(plan::Point{test.part, job::bind_access(test.behind)});
  }
  return targets;
}

/// A place that is closed now: the way to it, or the card that says so.
void fill_closed_place(Snapshot& out, const Desk& desk, const pack::ProveTest& test,
                       const std::vector<safety::Reason>& closed) {
  fill_test_card(out, desk, test);
  Card& card = out.card;
  card.number.reset();
  card.primary.reset();
  card.sentence = test.title;
  for (const safety::Reason& reason : closed) {
    card.refusal.push_back(reason.sentence);
  }
  const std::vector<std::string> codes = job::left_out_for(*desk.model(), *desk.state, test);
  if (codes.empty()) {
    card.primary = tap_button("Open again", desk.action(Verb::show_sheet, "reopen"));
    return;
  }
  // What was not opened cannot have been changed: it is said, with its reason, and stands so. There is
  // nothing to read at the machine, so nothing is held.
  const std::string& word = codes.front();
  card.primary = tap_button(cat("Leave out: ", word), desk.action(Verb::prove_left_out, test.id, word));
  card.secondary.clear();
}

/// A test that must be made where the place is closed: the next step of the way to it.
void fill_way_to(Snapshot& out, const Desk& desk, const pack::ProveTest& test,
                 const std::vector<safety::Reason>& closed) {
  const plan::Plan way = plan::reach(desk.model()->rules, desk.state->unit, targets_of(test));
  if (way.error.has_value() || !fill_next_step(out, desk, way)) {
    fill_closed_place(out, desk, test, closed);
  }
}

/// What was opened again on the way (the nut that relieves the water) is closed by the steps of Close.
void fill_close_first(Snapshot& out, const Desk& desk, const pack::ProveTest& test) {
  Card& card = out.card;
  card.id = "close-first";
  card.sentence = "Close the machine first.";
  card.how = cat("Then: ", test.title, ".");
  card.primary = tap_button("Close", desk.action(Verb::go_stage, "close"));
}

}  // namespace

bool fill_owed_test(Snapshot& out, const Desk& desk, const plan::Plan* closing) {
  const job::Model& model = *desk.model();
  const plan::State& unit = desk.state->unit;
  std::vector<int> due = job::tests_owed(model, *desk.state);
  if (closing != nullptr) {
    // On the way back only what the next step would close the place of.
    int first = 0;
    while (first < to_int(closing->steps.size()) &&
           closing->steps[to_size(first)].kind == plan::Kind::take_tool) {
      ++first;
    }
    std::vector<int> done;
    for (int test = 0; test < to_int(model.pack.prove_tests.size()); ++test) {
      if (std::find(due.begin(), due.end(), test) == due.end()) {
        done.push_back(test);
      }
    }
    due.clear();
    for (const job::Placing& one : job::prove_schedule(model, unit, *closing, done)) {
      if (one.before >= 0 && one.before <= first) {
        due.push_back(one.test);
      }
    }
  }
  if (due.empty()) {
    return false;
  }
  const pack::ProveTest& test = model.pack.prove_tests[to_size(due.front())];
  const auto shut = job::place_reasons(model, unit, test);
  if (!shut.empty()) {
    fill_way_to(out, desk, test, shut);
    return true;
  }
  out.exploded = picture_of(desk, nullptr);
  if (!fill_gate_card(out, desk, job::demand_of(model, *desk.state, test))) {
    fill_test_card(out, desk, test);
  }
  return true;
}

void fill_prove(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  const pack::Pack& pack = *desk.pack();
  const pack::ProveTest* next = nullptr;
  const pack::ProveTest* failed = nullptr;
  int done = 0;
  int number = 0;
  for (const pack::ProveTest& test : pack.prove_tests) {
    const job::ProveRecorded* result = result_of(state, test.id);
    ++number;
    const bool again = desk.local->prove == test.id;
    Row row = row_of(cat("prove-", test.id), test.title, Mark::todo);
    row.group = group_of(test.when);
    row.detail = limit_text(test);
    row.number = number;
    if (result != nullptr && !again) {
      const bool left_out = !result->left_out.empty();
      row.mark = result->passed ? Mark::done : left_out ? Mark::blocked : Mark::failed;
      row.figure = left_out ? cat("left out: ", result->left_out)
                   : test.unit.empty() ? std::string(result->passed ? "right" : "not right")
                                       : cat(number_text(result->value), " ", test.unit);
      done += result->passed || left_out ? 1 : 0;
      failed = !result->passed && !left_out && failed == nullptr ? &test : failed;
    } else if (next == nullptr || again) {
      next = &test;
    }
    row.tap = desk.action(Verb::choose_prove, test.id);
    out.rows.push_back(row);
  }
  out.stage_where = cat(done, " of ", number);
  if (failed != nullptr) {
    fill_failed_card(out, desk, *failed);
    return;
  }
  if (next != nullptr) {
    for (Row& row : out.rows) {
      if (row.id == cat("prove-", next->id)) {
        row.mark = Mark::now;
      }
    }
  }
  const bool needs_closed = next != nullptr && (next->when != pack::ProveWhen::before_power ||
                                                !job::has_place(*next));
  if (needs_closed && !job::is_closed(*desk.model(), state.unit)) {
    fill_close_first(out, desk, *next);
    return;
  }
  const bool dead_test = next != nullptr && next->when == pack::ProveWhen::before_power;
  if (dead_test) {
    const auto closed = job::place_reasons(*desk.model(), state.unit, *next);
    if (!closed.empty() && job::left_out_for(*desk.model(), state, *next).empty()) {
      fill_way_to(out, desk, *next, closed);
    } else if (!closed.empty()) {
      fill_closed_place(out, desk, *next, closed);
    } else if (!fill_gate_card(out, desk, job::demand_of(*desk.model(), state, *next))) {
      fill_test_card(out, desk, *next);
    }
    return;
  }
  const auto back = desk.put_back(true, true);
  if (!back.empty()) {
    fill_todo_card(out, desk, back.front());
    return;
  }
  if (next != nullptr) {
    fill_test_card(out, desk, *next);
    return;
  }
  fill_end_card(out, desk);
}

}  // namespace kp::app
