#include <doctest/doctest.h>

#include <algorithm>

#include "job/work.hpp"

// The stages: when each may be entered, which record completes it, and what the proving asks for.
// The order of the work is this project's own.

namespace kp {
namespace {

using job::Deed;
using job::Outcome;
using job::PartSwapped;
using job::ProveRecorded;
using job::Stage;
using job::StageEntered;
using job::StepDone;
using job::TargetsChosen;
using test::says;
using test::Work;

TEST_CASE("decide: no stage is entered before its time") {
  Work work;
  job::JobOpened opened;
  opened.job = "j";
  CHECK(says(work.ask(StageEntered{Stage::make_safe}), "not-open"));
  REQUIRE(work.tell(opened).accepted());
  CHECK(says(work.ask(opened), "already-open"));
  CHECK(says(work.ask(StageEntered{Stage::make_safe}), "no-machine"));
  CHECK(says(work.ask(job::MachineIdentified{"no-such-pack", "", ""}), "unknown-pack"));
  CHECK(says(work.ask(job::ComplaintNoted{"wet-and-cold", ""}), "no-machine"));
  REQUIRE(work.tell(job::MachineIdentified{"pump-module", "", ""}).accepted());
  CHECK(says(work.ask(StageEntered{Stage::make_safe}), "no-complaint"));
  CHECK(says(work.ask(job::ComplaintNoted{"no-such", ""}), "unknown-complaint"));
  CHECK(says(work.ask(job::ComplaintNoted{"", " "}), "empty-complaint"));
  REQUIRE(work.tell(job::ComplaintNoted{"wet-and-cold", ""}).accepted());
  for (const Stage stage : {Stage::find, Stage::open, Stage::swap}) {
    CAPTURE(std::string(job::stage_word(stage)));
    CHECK(says(work.ask(StageEntered{stage}), "not-prepared"));
  }
  CHECK(says(work.ask(StageEntered{Stage::bill}), "not-ended"));
  REQUIRE(work.tell(StageEntered{Stage::make_safe}).accepted());
  REQUIRE(work.open_gate());
  CHECK(work.state.stage == Stage::find);
  CHECK(says(work.ask(StageEntered{Stage::open}), "no-part"));
  CHECK(says(work.ask(StageEntered{Stage::swap}), "no-part"));
  REQUIRE(work.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  CHECK(work.state.stage == Stage::open);
  CHECK(says(work.ask(StageEntered{Stage::swap}), "not-reached"));
  CHECK(says(work.ask(PartSwapped{"thermal-fuse", "X", 1, "", {}}), "still-in"));
  REQUIRE(work.take(work.next_step(false).front()));
  CHECK(says(work.ask(StageEntered{Stage::prove}), "not-closed"));
  ProveRecorded early;
  early.test = "dry";
  early.passed = true;
  CHECK(says(work.ask(early), "not-closed"));
  CHECK(says(work.ask(job::MachineIdentified{"pump-module", "", ""}), "work-begun"));
  CHECK(work.ask(StageEntered{Stage::make_safe}).accepted());
  CHECK(says(work.ask(job::Signed{"N", {0, 0, 1, 1}}), "not-ended"));
  CHECK(says(work.ask(job::InvoiceIssued{"1", 1, "USD"}), "not-ended"));
  CHECK(says(work.ask(job::VisitBegun{}), "not-ended"));
}

TEST_CASE("decide: each stage in turn, moved on by the record that completes it") {
  Work work;
  std::string path;
  const auto note = [&] {
    path += cat(job::stage_word(work.state.stage), " ");
  };
  note();
  work.arrive();
  note();
  REQUIRE(work.open_gate());
  note();
  REQUIRE(work.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  note();
  REQUIRE(work.work_through(Stage::open));
  note();
  REQUIRE(work.swap("thermal-fuse"));
  note();
  REQUIRE(work.work_through(Stage::close));
  note();
  CHECK(job::is_closed(work.model(), work.state.unit));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(job::JobEnded{Outcome::repaired, ""}).accepted());
  note();
  CHECK(path == "arrive make-safe find open swap close prove bill ");
}

TEST_CASE("decide: the run needs water and power, both, and hands clear") {
  Work ready;
  ready.arrive();
  REQUIRE(ready.open_gate());
  REQUIRE(ready.repair("thermal-fuse"));
  REQUIRE(ready.prove(pack::ProveWhen::before_power));
  ProveRecorded dry;
  dry.test = "dry";
  dry.passed = true;
  // Power without water; and it is opened before the power, slowly, so not after it.
  Work dead = ready;
  CHECK(says(dead.ask(dry), "not-running"));
  REQUIRE(dead.put_back(false));
  REQUIRE(dead.state.safety.power == safety::Power::on);
  REQUIRE(dead.state.safety.water != safety::Water::run);
  dead.pass(2 * test::kMinuteMs);
  CHECK(says(dead.ask(dry), "not-running"));
  CHECK(says(dead.ask(safety::WaterOn{false}), "people-not-warned"));
  // Water without power, at each step of the way to it.
  Work wet = ready;
  int asked = 0;
  for (int i = 0; i < 20 && wet.state.safety.power != safety::Power::on; ++i) {
    asked += wet.state.safety.water == safety::Water::run ? 1 : 0;
    CHECK(says(wet.ask(dry), "not-running"));
    safety::Demand demand;
    demand.act = safety::Act::power_on;
    const auto todos = safety::put_back(wet.state.safety, true, true,
                                        job::ask_of(wet.model(), wet.state, demand, wet.by), wet.clock(),
                                        wet.law(), job::supply_place(wet.model(), wet.state));
    REQUIRE_FALSE(todos.empty());
    REQUIRE(wet.tell(wet.answer(todos.front())).accepted());
  }
  CHECK(asked >= 2);   // with the water on: lock, look and power are still to come
  wet.pass(2 * test::kMinuteMs);
  const job::Decision decision = wet.ask(dry);
  REQUIRE(decision.accepted());
  CHECK_FALSE(std::get<ProveRecorded>(decision.events.front()).stands_on.empty());
  // Hands clear: nothing of the machine is undone while it runs.
  const job::Decision knob = wet.ask(StepDone{Deed::release, "timer-knob-pull", {}, {}});
  CHECK(says(knob, "power-not-proved"));
  CHECK(says(knob, "water-not-relieved"));
  const job::Decision cover = wet.ask(StepDone{Deed::release, "toe-screws", {}, {}});
  CHECK(says(cover, "not-held"));   // a cover on the way to a point of proof
  CHECK(says(cover, "water-not-shut"));
}

TEST_CASE("decide: a test that takes its time is not done before that time is over (S19)") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove(pack::ProveWhen::before_power));
  REQUIRE(work.put_back());
  int timed = 0;
  for (const pack::ProveTest& test : work.pack().prove_tests) {
    if (test.when != pack::ProveWhen::running || test.wait_seconds == 0) continue;
    CAPTURE(test.id);
    ++timed;
    Work at = work;   // right after the power came on, 5 seconds later
    at.pass(std::int64_t{test.wait_seconds} * test::kSecondMs - 5 * test::kSecondMs - 1);
    CHECK(says(at.ask(test::good_result(test)), "too-early"));
    at.pass(1);
    CHECK(at.tell(test::good_result(test)).accepted());
    CHECK(says(at.ask(test::good_result(test)), "too-early"));   // the next one takes its own time
    // The wall clock cannot be set forward over it.
    Work set = work;
    set.wall.utc_ms += 1000 * std::int64_t{test.wait_seconds};
    CHECK(says(set.ask(test::good_result(test)), "too-early"));
  }
  CHECK(timed >= 5);
}

TEST_CASE("decide: a reading decides for itself whether the test is passed") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  const pack::ProveTest& test =
      work.pack().prove_tests[to_size(work.pack().prove_test("earth"))];
  REQUIRE(work.open_gate(job::demand_of(work.model(), work.state, test)));
  ProveRecorded earth;
  earth.test = "earth";
  earth.passed = true;
  earth.value = 0.31;  // the limit of the pack: 0.3 ohm
  const job::Decision high = work.ask(earth);
  REQUIRE(high.accepted());
  CHECK_FALSE(std::get<ProveRecorded>(high.events.front()).passed);
  earth.passed = false;
  earth.value = 0.3;
  CHECK(std::get<ProveRecorded>(work.ask(earth).events.front()).passed);
}

TEST_CASE("decide: what was proved is void once hands go in again") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove_all());
  REQUIRE(to_int(work.state.proved.size()) > test::outside_tests(work.pack()));
  REQUIRE(work.tell(StageEntered{Stage::make_safe}).accepted());
  REQUIRE(work.open_gate());
  CHECK(work.state.proved.empty());
  while (!job::is_closed(work.model(), work.state.unit)) {
    REQUIRE(work.take(work.next_step(true).front()));
  }
  CHECK(work.state.proved.empty());
  CHECK(says(work.ask(job::JobEnded{Outcome::repaired, ""}), "proof-open"));
}

TEST_CASE("decide: a test with a place is made while the place is open, and stays made on the way back") {
  Work work;
  work.arrive();
  ProveRecorded look;
  look.test = "visual-door";
  look.passed = true;
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(look), "place-shut"));
  look.test = "visual-base";
  REQUIRE(work.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap("thermal-fuse"));
  CHECK(work.ask(look).accepted());
  REQUIRE(work.work_through(Stage::close));
  CHECK(says(work.ask(look), "place-shut"));
  CHECK(std::any_of(work.state.proved.begin(), work.state.proved.end(),
                    [](const auto& one) { return one.body.test == "visual-base"; }));
}

/// Makes the tests whose place the next step of the way back shuts; this one reads this value.
bool prove_due(Work& work, const std::string& id, double value) {
  std::vector<int> done;
  for (const auto& one : work.state.proved) {
    done.push_back(work.pack().prove_test(one.body.test));
  }
  const plan::Plan back = job::plan_back(work.model(), work.state);
  int first = 0;
  while (first < to_int(back.steps.size()) &&
         back.steps[to_size(first)].kind == plan::Kind::take_tool) {
    ++first;
  }
  for (const job::Placing& one : job::prove_schedule(work.model(), work.state.unit, back, done)) {
    const pack::ProveTest& test = work.pack().prove_tests[to_size(one.test)];
    if (one.before < 0 || one.before > first) continue;
    if (test.id != id) {
      if (!work.prove(test)) return false;
      continue;
    }
    ProveRecorded reading = test::good_result(test);
    reading.value = value;
    if (!work.open_gate(job::demand_of(work.model(), work.state, test)) ||
        !work.tell(reading).accepted()) {
      return false;
    }
  }
  return true;
}

/// Closed after a repair with every test before power made, each in its time; this one read this.
void close_with(Work& work, const char* part, const std::string& id, double value) {
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(TargetsChosen{{part}, "open"}).accepted());
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap(part));
  for (int i = 0; i < 300 && work.state.stage == Stage::close; ++i) {
    REQUIRE(prove_due(work, id, value));
    const StepDone step = work.next_step(true).front();
    const int subject = job::subject_index(work.pack(), work.state.unit, step.deed, step.what);
    REQUIRE(work.open_gate(job::demand_of(work.model(), work.state, step.deed, subject)));
    // What the gate wants may undo the nut again, and with it what comes next.
    const StepDone now = work.next_step(true).front();
    if (now.what == step.what && now.deed == step.deed) REQUIRE(work.tell(step).accepted());
  }
  REQUIRE(work.state.stage == Stage::prove);
  REQUIRE(std::any_of(work.state.proved.begin(), work.state.proved.end(), [&](const auto& one) {
    return one.body.test == id && one.body.value == value;
  }));
  for (const pack::ProveTest& other : work.pack().prove_tests) {
    const bool made = std::any_of(work.state.proved.begin(), work.state.proved.end(),
                                  [&](const auto& one) { return one.body.test == other.id; });
    if (!made && other.when == pack::ProveWhen::before_power) REQUIRE(work.prove(other));
  }
}

TEST_CASE("decide: no power before what can be proved without it is proved (S9)") {
  // Earth path above 0.3 ohm, insulation below 1.0 Mohm: EN 50678 (VDE 0701), second hand.
  // For the second the machine is laid down, so its leads are off the supply.
  struct Row {
    const char* part;
    const char* test;
    double good, bad;
  };
  for (const Row& row : {Row{"thermal-fuse", "earth", 0.3, 200.0},
                         Row{"saddle-spring", "insulation", 1.0, 0.2}}) {
    CAPTURE(row.test);
    Work sound;
    close_with(sound, row.part, row.test, row.good);
    CHECK(test::codes_of(sound.ask(safety::Inspected{})) == "");   // nothing else stands against it
    CHECK(sound.put_back());
    Work work;
    close_with(work, row.part, row.test, row.bad);
    CHECK(test::codes_of(work.ask(safety::Inspected{})) == "tests-open");
    CHECK(says(work.ask(safety::PowerOn{}), "tests-open"));
    CHECK_FALSE(work.put_back());
    CHECK(says(work.ask(job::JobEnded{Outcome::repaired, ""}), "proof-failed"));
  }
  Work none;
  none.arrive();
  REQUIRE(none.open_gate());
  REQUIRE(none.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  REQUIRE(none.work_through(Stage::open));
  REQUIRE(none.swap("thermal-fuse"));
  while (none.state.stage == Stage::close) {
    REQUIRE(none.take(none.next_step(true).front()));
  }
  CHECK(says(none.ask(safety::Inspected{}), "tests-open"));
}

}  // namespace
}  // namespace kp
