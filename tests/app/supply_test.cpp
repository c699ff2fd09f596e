// The supply as found is asked at Arrive; the tester has a card of its own; voltage where all should be
// dead is said so, and every series of readings stays to be seen. (Issue 8, section 2; safety-order.md
// 1.2 and 1.4.)

#include <doctest/doctest.h>

#include <set>

#include "app/proved.hpp"
#include "base/text.hpp"

namespace {

using namespace kp;
using app::Verb;
using memory::MemoryMedium;
using memory::MemoryStore;
using test::has;
using test::Robot;
using test::Window;

struct Bench {
  std::shared_ptr<MemoryMedium> medium = std::make_shared<MemoryMedium>();
  MemoryStore field{medium};
  Window window{field};
  Robot robot{*window.session};

  Bench() {
    window.act(Verb::new_job);
    test::ready(robot);
  }
  [[nodiscard]] const app::Card& card() const { return window.seen().card; }
  /// Works until the card is so, or nothing can be done any more.
  template <class Wanted>
  bool work_until(const Wanted& wanted) {
    for (int step = 0; step < 160; ++step) {
      if (wanted(card())) return true;
      window.clock.pass(5'000);
      if (!robot.step()) return false;
      window.settle();
    }
    return false;
  }
  void send(app::Action action) const {
    window.session->act(action);
    window.settle();
  }
};

bool is_pair(const app::Card& card) {
  return card.number.has_value() && has(card.number->id, "reading-supply-pair");
}

std::set<std::string> groups_of(const std::vector<app::Row>& rows) {
  std::set<std::string> out;
  for (const app::Row& row : rows) out.insert(row.group);
  return out;
}

}  // namespace

TEST_CASE("the supply as found is asked at Arrive, recorded there and not asked again in Make safe") {
  Bench bench;
  REQUIRE(bench.work_until([](const app::Card& card) { return card.id == "todo-prepare"; }));
  CHECK(bench.window.session->state().stage == job::Stage::arrive);
  const auto chosen = [&](const char* id) {
    for (const app::Row& row : bench.card().choices) {
      if (row.id == id) return row;
    }
    FAIL_CHECK(id << " is not offered");
    return app::Row{};
  };
  CHECK(chosen("fixed").mark == app::Mark::chosen);
  bench.send(chosen("cord").tap.value());
  bench.send(chosen("free-standing").tap.value());
  const auto& facts = bench.card().facts;
  REQUIRE(facts.size() == 1);
  CHECK(has(facts.front(), "120 V"));
  CHECK(has(facts.front(), "pins of the plug"));
  bench.send(bench.card().primary.value().action);
  const safety::State& safe = bench.window.session->state().safety;
  CHECK(safe.prepared.holds());
  CHECK(safe.connection == safety::Connection::cord);
  CHECK_FALSE(safe.built_in);
  CHECK(safe.volts == 120);
  CHECK(bench.window.session->state().stage == job::Stage::arrive);
  CHECK(bench.card().id == "ready");
  REQUIRE(bench.work_until([](const app::Card& card) { return card.id == "todo-isolate"; }));
  for (const app::Row& row : bench.window.seen().rows) CHECK_FALSE(has(row.title, "energies"));
}

TEST_CASE("the tester is named once a device, on a card of its own, before the first reading") {
  Bench bench;
  REQUIRE(bench.work_until([](const app::Card& card) { return card.id == "tester"; }));
  CHECK(bench.window.session->state().stage == job::Stage::make_safe);
  CHECK_FALSE(bench.card().number.has_value());
  REQUIRE(bench.card().texts.size() == 3);
  CHECK_FALSE(bench.card().primary.value().enabled);
  const char* words[] = {"Orrin", "TP-8", "2026-03-02"};
  for (std::size_t i = 0; i < 3; ++i) {
    app::Action typed = bench.card().texts[i].changed;
    typed.text = words[i];
    bench.send(typed);
  }
  REQUIRE(bench.card().primary.value().enabled);
  bench.send(bench.card().primary.value().action);
  REQUIRE(bench.card().number.has_value());
  CHECK(bench.card().texts.empty());
  REQUIRE(bench.work_until(is_pair));
  CHECK(bench.window.session->state().safety.series.readings.front().tester ==
        "Orrin TP-8, calibrated 2026-03-02");
  // Another job on this device.
  bench.window.act(Verb::leave_job);
  bench.window.act(Verb::new_job);
  CHECK(bench.work_until(is_pair));
  CHECK(bench.window.session->state().safety.series.readings.front().tester ==
        "Orrin TP-8, calibrated 2026-03-02");
}

TEST_CASE("voltage where all should be dead: hands back, refit nothing, people off, isolate again") {
  Bench bench;
  REQUIRE(bench.work_until(is_pair));
  app::Action live = bench.card().number->entered;
  live.value = 118;
  bench.send(live);
  CHECK(bench.window.session->state().safety.power == safety::Power::live);
  CHECK(bench.card().id == "todo-hands-back");
  for (const char* part : {"Hands back", "refit nothing", "people off"}) CHECK(has(bench.card().sentence, part));
  CHECK(has(bench.card().how, "isolate it again"));
  for (const app::Row& row : bench.window.seen().rows) CHECK_FALSE(has(row.title, "Stop the machine"));
  CHECK_FALSE(has(cat(bench.card().sentence, bench.card().how), "Stop the machine"));
  REQUIRE(bench.card().cautions.size() == 1);
  CHECK(bench.card().cautions.front().word == safety::SignalWord::danger);
  CHECK(bench.window.seen().strip.power.word == "LIVE");
  bench.send(bench.card().primary.value().action);
  CHECK(bench.card().id == "todo-isolate");
  CHECK(has(bench.card().how, "Choose another"));
}

TEST_CASE("the sheet of the strip shows every series of readings by its place") {
  Bench bench;
  REQUIRE(bench.work_until(is_pair));
  app::Action live = bench.card().number->entered;
  live.value = 118;
  bench.send(live);
  REQUIRE(bench.work_until([&](const app::Card&) { return test::all_green(bench.window); }));
  bench.window.act(Verb::show_sheet, "power");
  REQUIRE(bench.window.seen().sheet.has_value());
  const auto& rows = bench.window.seen().sheet->rows;
  int read = 0;
  for (const auto& fact : bench.window.session->state().facts) {
    read += std::holds_alternative<safety::ReadingTaken>(fact.body) ? 1 : 0;
  }
  CHECK(read > 6);
  CHECK(static_cast<int>(rows.size()) == read);
  int failed = 0;
  for (const app::Row& row : rows) {
    if (row.mark != app::Mark::failed) continue;
    ++failed;
    CHECK(row.figure == "118.0 V");
    CHECK(has(row.group, "not finished"));
  }
  CHECK(failed == 1);
  const auto groups = groups_of(rows);
  CHECK(groups.size() >= 2);
  CHECK(std::count_if(groups.begin(), groups.end(),
                      [](const std::string& one) { return has(one, "proved dead"); }) >= 1);
}
