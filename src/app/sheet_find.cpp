// Sheets of the Find stage: other tests, other parts, why this one, a reading, a test given up.
#include <algorithm>
#include <cmath>

#include "app/desk.hpp"
#include "app/find_words.hpp"
#include "base/text.hpp"
#include "job/bind_scene.hpp"

namespace kp::app {
namespace {

bool is_given_up(const Desk& desk, const pack::Test& test) {
  return std::any_of(desk.state->impossible.begin(), desk.state->impossible.end(),
                     [&](const auto& one) { return one.body.test == test.id; });
}

const job::TestRecorded* reading_of(const Desk& desk, const pack::Test& test) {
  const job::TestRecorded* last = nullptr;
  for (const auto& kept : desk.state->tests) {
    if (kept.body.test == test.id) last = &kept.body;
  }
  return last;
}

/// Seconds from now to the answer; below 0: not known.
double cost_of(const Desk& desk, int test) {
  const int index = desk.finder == nullptr ? -1 : desk.finder->test(test);
  if (index < 0) return -1;
  const job::Finding& finding = desk.finder->finding();
  const find::Test& one = finding.problem.tests[to_size(index)];
  return one.seconds + finding.problem.moves[0][to_size(one.standing)];
}

Row test_row(const Desk& desk, int index, double cost) {
  const pack::Test& test = desk.pack()->tests[to_size(index)];
  const job::TestRecorded* known = reading_of(desk, test);
  Row row = row_of(cat("choose-", test.id), test.title, Mark::choice);
  row.detail = test.probe == pack::Probe::look ? desk.pack()->parts[to_size(test.part)].name
                                               : band_text(test);
  row.group = is_given_up(desk, test) ? "Cannot be done here"
              : known != nullptr      ? "Done"
              : cost >= 0             ? "Tells something, nearest first"
                                      : "Tells nothing new";
  row.figure = known != nullptr ? reading_text(test, *known)
               : cost >= 0      ? cat(integer_text(std::max<std::int64_t>(1, std::llround(cost / 60))), " min")
                                : "";
  row.tap = desk.action(Verb::choose_test, test.id);
  return row;
}

void tests(Sheet& sheet, const Desk& desk) {
  sheet.title = "Tests";
  const std::vector<pack::Test>& all = desk.pack()->tests;
  std::vector<std::pair<double, int>> order;
  for (int i = 0; i < to_int(all.size()); ++i) {
    const double cost = cost_of(desk, i);
    const bool given_up = is_given_up(desk, all[to_size(i)]);
    const bool done = reading_of(desk, all[to_size(i)]) != nullptr;
    // What tells something comes first, by its cost; then what is done, the rest, and given up.
    const double place = given_up ? 3e9 : done ? 1e9 : cost < 0 ? 2e9 : cost;
    order.emplace_back(place, i);
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  sheet.buttons.push_back(tap_button("Reckon", desk.action(Verb::show_sheet, "reckon")));
  for (const auto& [place, index] : order) sheet.rows.push_back(test_row(desk, index, cost_of(desk, index)));
}

void parts(Sheet& sheet, const Desk& desk) {
  sheet.title = "Parts";
  sheet.buttons.push_back(tap_button("No fault found", desk.action(Verb::go_stage, "prove")));
  for (const pack::Part& part : desk.pack()->parts) {
    if (!part.removable) {
      continue;
    }
    Row row = row_of(cat("part-", part.id), part.name, Mark::choice);
    row.detail = part.stock;
    row.drawing = part.drawing;
    row.tap = desk.action(Verb::choose_part, part.id);
    sheet.rows.push_back(row);
  }
}

void advice(Sheet& sheet, const Desk& desk) {
  sheet.title = "Why this one";
  if (desk.finder == nullptr) return;
  sheet.paragraphs = desk.finder->reasons();
  sheet.paragraphs.emplace_back(
      "Shares come from common practice and from your readings. They advise; you decide.");
}

void reading(Sheet& sheet, const Desk& desk, const std::string& n) {
  sheet.title = "This reading";
  sheet.paragraphs.emplace_back("A reading that was wrong is taken back. It stays in the record as taken back.");
  sheet.buttons.push_back(tap_button("Take it back", desk.action(Verb::take_back, n)));
}

void give_up(Sheet& sheet, const Desk& desk, const std::string& id) {
  const int index = desk.pack()->test(id);
  if (index < 0) return;
  sheet.title = "Can't do this test";
  sheet.paragraphs.push_back(desk.pack()->tests[to_size(index)].title);
  for (const char* const why : {"No room for the probes", "No instrument for it", "A lead does not come off"}) {
    Row row = row_of(cat("because-", to_int(sheet.rows.size())), why, Mark::choice);
    row.tap = desk.action(Verb::test_impossible, id, why);
    sheet.rows.push_back(row);
  }
}

/// Where a probe goes, and the tests that use it.
void point(Sheet& sheet, const Desk& desk, const std::string& id) {
  const int index = desk.pack()->circuit.point(id);
  if (index < 0) return;
  const pack::TestPoint& place = desk.pack()->circuit.points[to_size(index)];
  const pack::Part& part = desk.pack()->parts[to_size(place.part)];
  sheet.title = place.title;
  Row where = row_of("where", part.name, Mark::choice);
  where.group = "On this part";
  where.drawing = part.drawing;
  sheet.rows.push_back(where);
  for (int i = 0; i < to_int(desk.pack()->tests.size()); ++i) {
    const pack::Test& test = desk.pack()->tests[to_size(i)];
    if (test.point_a != index && test.point_b != index) continue;
    Row row = test_row(desk, i, cost_of(desk, i));
    row.group = "Tests from here";
    sheet.rows.push_back(row);
  }
}

/// What was touched in the drawing: its name, its number, and the way to it.
void item(Sheet& sheet, const Desk& desk, const std::string& number) {
  const pack::Pack& pack = *desk.pack();
  const int index = static_cast<int>(parse_integer(number).value_or(-1));
  std::vector<int> parts;
  if (index >= job::kJointItem && index - job::kJointItem < to_int(pack.joints.size())) {
    const pack::Joint& joint = pack.joints[to_size(index - job::kJointItem)];
    sheet.title = joint.name;
    parts = joint.parts;
  } else if (index >= 0 && index < to_int(pack.parts.size())) {
    sheet.title = pack.parts[to_size(index)].name;
    parts = {index};
  }
  const job::Stage stage = desk.state->stage;
  const bool may_reach = stage == job::Stage::find || stage == job::Stage::open;
  for (const int part : parts) {
    const pack::Part& one = pack.parts[to_size(part)];
    Row row = row_of(cat("about-", one.id), parts.size() == 1 ? std::string("Part number") : one.name, Mark::choice);
    row.detail = one.stock;
    row.drawing = one.drawing;
    sheet.rows.push_back(row);
    if (!one.why.empty()) sheet.paragraphs.push_back(one.why);
    if (may_reach && one.removable) {
      sheet.buttons.push_back(tap_button(parts.size() == 1 ? std::string("Reach this") : cat("Reach the ", one.name),
                                         desk.action(Verb::choose_part, one.id)));
    }
  }
}

/// What stands behind the beginning of a name; empty where it begins otherwise.
std::string after(const std::string& name, const std::string& beginning) {
  return name.rfind(beginning, 0) == 0 ? name.substr(beginning.size()) : std::string();
}

}  // namespace

void fill_find_sheet(Sheet& sheet, const Desk& desk) {
  const std::string& name = desk.local->sheet;
  if (name == "tests") {
    tests(sheet, desk);
  } else if (name == "parts") {
    parts(sheet, desk);
  } else if (name == "reckon") {
    fill_reckon(sheet, *desk.pack(), desk.local->reckon,
                [&](const std::string& field) { return desk.action(Verb::set_word, field); });
  } else if (name == "advice") {
    advice(sheet, desk);
  } else if (const std::string n = after(name, "reading-"); !n.empty()) {
    reading(sheet, desk, n);
  } else if (const std::string touched = after(name, "item-"); !touched.empty()) {
    item(sheet, desk, touched);
  } else if (const std::string place = after(name, "point-"); !place.empty()) {
    point(sheet, desk, place);
  } else if (const std::string id = after(name, "no-test-"); !id.empty()) {
    give_up(sheet, desk, id);
  }
}

}  // namespace kp::app
