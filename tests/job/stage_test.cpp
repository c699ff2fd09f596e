#include <doctest/doctest.h>

#include <algorithm>

#include "job/work.hpp"

// The stages: when each may be entered, which record completes it, and what the proving asks for.
// The order of the work is this project's own.

namespace kp {
namespace {

using job::Deed;
using job::Isolation;
using job::Outcome;
using job::PartSwapped;
using job::ProveRecorded;
using job::Stage;
using job::StageEntered;
using job::StepDone;
using job::TargetsChosen;
using safety::EventKind;
using test::says;
using test::Work;

Isolation act(EventKind kind) {
  Isolation body;
  body.act = kind;
  return body;
}

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
  REQUIRE(work.tell(work.next_step(false).front()).accepted());
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
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  ProveRecorded dry;
  dry.test = "dry";
  dry.passed = true;
  CHECK(says(work.ask(dry), "not-running"));
  REQUIRE(work.prove(pack::ProveWhen::before_power));
  for (const EventKind kind :
       {EventKind::inspected, EventKind::panels_set, EventKind::people_clear}) {
    REQUIRE(work.tell(act(kind)).accepted());
  }
  REQUIRE(work.tell(act(EventKind::water_restored)).accepted());
  CHECK(says(work.ask(dry), "not-running"));
  REQUIRE(work.put_back());
  const job::Decision decision = work.ask(dry);
  REQUIRE(decision.accepted());
  CHECK_FALSE(std::get<ProveRecorded>(decision.events.front()).stands_on.empty());
}

TEST_CASE("decide: a reading decides for itself whether the test is passed") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  ProveRecorded earth;
  earth.test = "earth-closed";
  earth.passed = true;
  earth.value = 1.01;  // the limit of the pack: 1 ohm
  const job::Decision high = work.ask(earth);
  REQUIRE(high.accepted());
  CHECK_FALSE(std::get<ProveRecorded>(high.events.front()).passed);
  earth.passed = false;
  earth.value = 1;
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
  REQUIRE(work.tell(StepDone{Deed::release, "toe-screws", {}, {}}).accepted());
  CHECK(work.state.proved.empty());
  StepDone back{Deed::fasten, "toe-screws", {}, {}};
  for (const pack::RefitCheck& check : work.pack().refit_checks) {
    back.checks.push_back(check.id);
  }
  REQUIRE(work.tell(back).accepted());
  CHECK(says(work.ask(job::JobEnded{Outcome::repaired, ""}), "proof-open"));
}

TEST_CASE("decide: a test with a place is made while the place is open, and stays made on the way back") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  ProveRecorded look;
  look.test = "visual-base";
  look.passed = true;
  CHECK(says(work.ask(look), "place-shut"));
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap("thermal-fuse"));
  REQUIRE(work.open_gate());
  CHECK(work.ask(look).accepted());
  REQUIRE(work.work_through(Stage::close));
  CHECK(says(work.ask(look), "place-shut"));
  CHECK(std::any_of(work.state.proved.begin(), work.state.proved.end(),
                    [](const auto& one) { return one.body.test == "visual-base"; }));
}

TEST_CASE("decide: no power before what can be proved without it is proved") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(act(EventKind::power_restored)), "proof-open"));
  REQUIRE(work.prove(pack::ProveWhen::before_power));
  CHECK_FALSE(says(work.ask(act(EventKind::power_restored)), "proof-open"));
  ProveRecorded earth;
  earth.test = "earth-closed";
  earth.value = 200;
  REQUIRE(work.tell(earth).accepted());
  CHECK(says(work.ask(act(EventKind::power_restored)), "proof-failed"));
}

}  // namespace
}  // namespace kp
