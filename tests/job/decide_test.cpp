#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "job/codec.hpp"
#include "job/work.hpp"

// What decide() refuses and why, and what it lets through in each stage. That a hands-in step needs
// both isolations is 29 CFR 1910.147(d) and 1910.333(b)(2); the order of the work is this project's.

namespace kp {
namespace {

using job::Body;
using job::Deed;
using job::Outcome;
using job::PartSwapped;
using job::ProveRecorded;
using job::Stage;
using job::StepDone;
using job::TargetsChosen;
using job::TestRecorded;
using safety::Doubt;
using safety::Doubted;
using test::says;
using test::Work;

constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();
constexpr double kEndless = std::numeric_limits<double>::infinity();

/// Everything that puts hands into the machine: a step that leads to no proof, a look behind a
/// cover, a test before power.
std::vector<Body> hands_in() {
  TestRecorded look;
  look.test = "seal-look";
  look.looked = true;
  look.good = true;
  ProveRecorded base;
  base.test = "visual-base";
  base.passed = true;
  return {StepDone{Deed::release, "timer-knob-pull", {}, {}}, look, base};
}

void check_refused(const Work& work, std::string_view code) {
  for (const Body& body : hands_in()) {
    const job::Decision decision = work.ask(body);
    CAPTURE(std::string(job::kind_of(body)));
    CAPTURE(test::codes_of(decision));
    CHECK_FALSE(decision.accepted());
    CHECK(decision.events.empty());
    CHECK(says(decision, code));
    for (const safety::Reason& reason : decision.reasons) {
      CHECK(reason.sentence.size() > 10);
      CHECK(reason.sentence.back() == '.');
    }
  }
}

TEST_CASE("decide: hands go nowhere before both are proved, at any point of the way there") {
  Work work;
  work.arrive();
  const Body step = hands_in().front();
  CHECK(says(work.ask(step), "not-prepared"));
  int refused = 0;
  while (true) {
    const auto todos = safety::make_safe(
        work.state.safety, job::ask_of(work.model(), work.state, job::hands_demand(), work.by),
        work.clock(), work.law(), job::supply_place(work.model(), work.state));
    if (todos.empty()) {
      break;
    }
    for (const Body& body : hands_in()) {
      CAPTURE(static_cast<int>(todos.front().kind));
      CHECK_FALSE(work.ask(body).accepted());
      ++refused;
    }
    REQUIRE(work.do_first(todos));
  }
  CHECK(refused >= 45);   // 17 records lead there at the least: the machine is fixed
  for (const Body& body : hands_in()) {
    CAPTURE(std::string(job::kind_of(body)));
    CAPTURE(test::codes_of(work.ask(body)));
    CHECK(work.ask(body).accepted());
  }
}

TEST_CASE("decide: an accepted hands-in record names the proofs it stood on and its act") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  for (const Body& body : hands_in()) {
    const job::Decision decision = work.ask(body);
    REQUIRE_FALSE(decision.events.empty());
    const auto* step = std::get_if<StepDone>(&decision.events.front());
    const auto* measured = std::get_if<TestRecorded>(&decision.events.front());
    const auto* proved = std::get_if<ProveRecorded>(&decision.events.front());
    const auto& stands_on = step != nullptr       ? step->stands_on
                            : measured != nullptr ? measured->stands_on
                                                  : proved->stands_on;
    const safety::Act act = step != nullptr       ? step->act
                            : measured != nullptr ? measured->act
                                                  : proved->act;
    CHECK(act == (proved != nullptr ? safety::Act::prove_dead_test : safety::Act::hands_in));
    CHECK(stands_on.size() >= 4);  // isolated, proved, shut, relieved
    for (const std::uint32_t record : stands_on) {
      CHECK(record >= 1);
      CHECK(record <= work.state.last_n);
    }
  }
}

TEST_CASE("decide: proofs and acts that the person claims are not taken over") {
  Work work;
  work.arrive();
  REQUIRE(work.tell(work.prepared()).accepted());
  TestRecorded look;
  look.test = "hinge-look";
  look.looked = true;
  look.stands_on = {1, 2, 3};
  look.act = safety::Act::hands_in;
  const job::Decision decision = work.ask(look);
  REQUIRE(decision.accepted());
  const auto& kept = std::get<TestRecorded>(decision.events.front());
  CHECK(kept.stands_on.empty());
  CHECK(kept.act == safety::Act::look_outside);
  StepDone step{Deed::release, "outer-panel-screws", {}, {1, 2, 3, 4}};
  step.act = safety::Act::look_outside;
  CHECK_FALSE(work.ask(step).accepted());
}

TEST_CASE("decide: left with one's own lock on, only the bare terminals are proved again") {
  for (const Doubt doubt : {Doubt::left, Doubt::sight_lost}) {
    Work work;
    work.arrive();
    REQUIRE(work.open_gate());
    REQUIRE_FALSE(work.state.safety.groups.empty());
    REQUIRE(work.tell(Doubted{doubt}).accepted());
    CHECK(work.state.safety.groups.empty());
    CHECK(safety::supply_dead(work.state.safety, work.clock(), work.settings.safety));
    CHECK(says(work.ask(StepDone{Deed::release, "fuse-leads", {}, {}}), "work-not-proved"));
  }
}

TEST_CASE("decide: what voids the proof closes the gate again") {
  struct Row {
    const char* what;
    Body fact;
    const char* code;
  };
  const Row rows[] = {
      {"the clock was set", Doubted{Doubt::clock_doubted}, "power-not-proved"},
      {"a lock was off", Doubted{Doubt::lock_found_off}, "power-not-proved"},
      {"power found on", Doubted{Doubt::power_found_on}, "power-not-proved"},
      {"water found on", Doubted{Doubt::water_found_on}, "water-not-relieved"},
      {"a breaker opened", Doubted{Doubt::device_opened}, "power-not-proved"},
      {"the tool was closed too long", job::Resumed{301'000}, "gap-open"},
      {"the clock ran back", job::Resumed{-1}, "gap-open"},
      {"another person", safety::HandedOn{"Ben", "L-Ben"}, "other-person"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    Work work;
    work.arrive();
    REQUIRE(work.open_gate());
    REQUIRE(work.tell(row.fact).accepted());
    check_refused(work, row.code);
    work.by = work.state.person;
    CHECK(work.open_gate());
    CHECK(work.ask(hands_in().front()).accepted());
  }
}

TEST_CASE("decide: who takes over proves again with a lock of their own") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(safety::HandedOn{"Ben", ""}), "lock-missing"));
  CHECK(says(work.ask(safety::HandedOn{"", "L-Ben"}), "no-name"));
  REQUIRE(work.tell(safety::HandedOn{"Ben", "L-Ben"}).accepted());
  CHECK(work.state.person == "Ben");
  work.by = "Ben";
  check_refused(work, "power-not-proved");
}

TEST_CASE("decide: a short pause keeps the proof, an old proof does not hold") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::Resumed{300'000}).accepted());
  CHECK(work.ask(hands_in().front()).accepted());
  work.pass(5 * test::kHourMs);
  check_refused(work, "power-not-proved");
  check_refused(work, "water-not-relieved");
}

TEST_CASE("decide: power and water stay off while the machine is open") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(safety::PowerOn{}), "cover-off"));
  CHECK(says(work.ask(safety::PowerOn{}), "joint-open"));   // the water was relieved at it
  CHECK(says(work.ask(safety::WaterOn{false}), "joint-open"));
  CHECK(says(work.ask(safety::WaterOn{true}), "joint-open"));
  CHECK(says(work.ask(safety::Inspected{}), "cover-off"));
}

TEST_CASE("decide: readings come in their order, within the field, and from a meter that can prove") {
  Work work;
  work.arrive();
  safety::ReadingTaken reading;
  reading.place = safety::kSupply;
  reading.shown.volts = 121;
  reading.band_low = 104;
  reading.band_high = 127;
  CHECK(says(work.ask(reading), "not-prepared"));
  REQUIRE(work.tell(work.prepared()).accepted());
  CHECK(says(work.ask(reading), "not-held"));
  CHECK(says(work.ask(safety::Isolated{safety::Means::breaker_off}), "not-stopped"));
  REQUIRE(work.tell(safety::Stopped{true}).accepted());
  for (const safety::Means means : {safety::Means::door_switch, safety::Means::plug_out,
                                    safety::Means::word_of_another}) {
    CHECK(says(work.ask(safety::Isolated{means}), "means-refused"));
  }
  REQUIRE(work.tell(safety::Isolated{safety::Means::breaker_off}).accepted());
  CHECK(says(work.ask(safety::HeldFast{safety::Control::locked, "", "T1", {}}), "lock-missing"));
  CHECK(says(work.ask(safety::HeldFast{safety::Control::locked, "L1", "", {}}), "tag-missing"));
  CHECK(says(work.ask(safety::HeldFast{safety::Control::in_hand, "", "", {}}), "control-refused"));
  REQUIRE(work.tell(safety::HeldFast{safety::Control::locked, "L1", "T1", {}}).accepted());
  CHECK(says(work.ask(reading), "controls-not-tried"));
  REQUIRE(work.tell(safety::ControlsTried{safety::Answer::nothing}).accepted());
  CHECK(says(work.ask(reading), "water-not-shut"));
  REQUIRE(work.tell(safety::WaterShut{""}).accepted());
  CHECK(work.state.safety.valve == work.pack().water.valve);   // the pack's own words
  CHECK(says(work.ask(reading), "place-covered"));
  CHECK(says(work.ask(reading), "tester-missing"));
  for (auto step = work.step_to(job::proof_targets(work.model())); !step.empty();
       step = work.step_to(job::proof_targets(work.model()))) {
    REQUIRE(work.take(step.front()));
  }
  reading.tester = "M1";
  reading.function = safety::MeterFunction::non_contact;
  CHECK(says(work.ask(reading), "wrong-function"));
  reading.function = safety::MeterFunction::two_pole_detector;
  safety::ReadingTaken early = reading;
  early.role = safety::Role::pair;
  early.a = "L";
  early.b = "N";
  early.shown = {true, 0};
  CHECK(says(work.ask(early), "wrong-order"));
  for (const double volts : {-1001.0, 1001.0, kNothing, kEndless}) {
    CAPTURE(volts);
    reading.shown.volts = volts;
    CHECK(says(work.ask(reading), "out-of-range"));
  }
  reading.shown.volts = 121;
  reading.band_low = 0;   // a band from nothing up would make a dead tester a good one
  CHECK(says(work.ask(reading), "out-of-range"));
  reading.band_low = 104;
  CHECK(work.ask(reading).accepted());
}

TEST_CASE("decide: nonsense is refused at its field, with the range") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  TestRecorded ohms;
  ohms.test = "valve-ohms";
  for (const double value : {-1.0, 1e12, kNothing, -kEndless}) {
    CAPTURE(value);
    ohms.value = value;
    CHECK(says(work.ask(ohms), "out-of-range"));
  }
  ohms.test = "no-such-test";
  ohms.value = 1;
  CHECK(says(work.ask(ohms), "unknown-test"));
  ProveRecorded earth;
  earth.test = "earth";
  earth.value = -0.1;
  CHECK(says(work.ask(earth), "out-of-range"));
  ProveRecorded look;
  look.test = "visual-base";
  look.value = kNothing;
  CHECK(says(work.ask(look), "out-of-range"));
  look.value = 0;
  look.left_out = "no-time";
  CHECK(says(work.ask(look), "no-reason"));
  CHECK(says(work.ask(PartSwapped{"thermal-fuse", "X", -1, "", {}}), "out-of-range"));
  CHECK(says(work.ask(TargetsChosen{{}, ""}), "no-part"));
  CHECK(says(work.ask(TargetsChosen{{"frame"}, ""}), "not-removable"));
  CHECK(says(work.ask(TargetsChosen{{"no-such-part"}, ""}), "not-removable"));
  CHECK(says(work.ask(job::TimeCorrected{job::Phase::labour, 60'000, " "}), "no-reason"));
  CHECK(says(work.ask(job::TimeCorrected{job::Phase::labour, 25 * test::kHourMs, "slip"}),
             "out-of-range"));
  CHECK(says(work.ask(job::GapSettled{3, 60'000, "lunch"}), "no-such-gap"));
  CHECK(says(work.ask(job::QuoteGiven{2, 1, "USD", true}), "bad-quote"));
  CHECK(says(work.ask(job::NoteAdded{"  "}), "empty-note"));
  CHECK(says(work.ask(job::TestTakenBack{7}), "no-such-test"));
  CHECK(says(work.ask(job::TestImpossible{"no-such-test", "no room"}), "unknown-test"));
  CHECK(says(work.ask(job::TestImpossible{work.pack().tests[0].id, " "}), "no-reason"));
  CHECK(says(work.ask(job::StepBlocked{Deed::release, "toe-screws", ""}), "no-reason"));
  CHECK(says(work.ask(job::StepBlocked{Deed::release, "toe-screw", "rusty"}), "no-such-step"));
  CHECK(says(work.ask(safety::Discharged{"behind:access-panel", 20'000, 5, kNothing, "M1"}),
             "out-of-range"));
  CHECK(says(work.ask(safety::Cooled{"heater", -41}), "out-of-range"));
  CHECK(says(work.ask(safety::HelperHere{7, "Bo"}), "people-out-of-range"));
  CHECK(says(work.ask(safety::HelperHere{2, ""}), "no-name"));
}

TEST_CASE("decide: a record that the journal could not give back is not made") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(job::JobEnded{Outcome::repaired, ""}).accepted());
  job::Signed sign;
  sign.name = "N. Osei";
  sign.strokes = {0.1, 0.2, kNothing, 0.4};
  CHECK(says(work.ask(sign), "out-of-range"));
  sign.strokes = {0.1, 0.2, 0.3, 0.4};
  sign.name = "N. \xC3";  // half a character: what is stored is what is live
  const job::Decision decision = work.ask(sign);
  REQUIRE(decision.accepted());
  CHECK(std::get<job::Signed>(decision.events.front()).name == "N. \xEF\xBF\xBD");
}

TEST_CASE("decide: a test given up is known until it was done after all") {
  Work work;
  work.arrive();
  const std::string look = [&] {
    for (const pack::Test& test : work.pack().tests) {
      TestRecorded one;
      one.test = test.id;
      one.looked = true;
      if (test.probe == pack::Probe::look && work.ask(one).accepted()) {
        return test.id;
      }
    }
    return std::string();
  }();
  REQUIRE(!look.empty());
  REQUIRE(work.tell(job::TestImpossible{look, "no light"}).accepted());
  CHECK(work.state.impossible.size() == 1);
  TestRecorded seen;
  seen.test = look;
  seen.looked = true;
  seen.good = true;
  REQUIRE(work.tell(seen).accepted());
  CHECK(work.state.impossible.empty());
  CHECK(work.state.tests.size() == 1);
}

TEST_CASE("decide: steps follow the machine: cover, joint, position, tab by tab") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  const auto codes = [&work](Deed deed, const char* what) {
    return test::codes_of(work.ask(StepDone{deed, what, {}, {}}));
  };
  CHECK(codes(Deed::release, "timer-knob-pull") == "");
  CHECK(says(work.ask(StepDone{Deed::remove, "thermal-fuse", {}, {}}), "still-held"));
  CHECK(says(work.ask(StepDone{Deed::remove, "door-insulation", {}, {}}), "covered"));
  CHECK(codes(Deed::release, "toe-screws") == "not-now");   // off since the supply was proved
  CHECK(says(work.ask(StepDone{Deed::fasten, "timer-knob-pull", {}, {}}), "not-now"));
  CHECK(codes(Deed::release, "no-such-joint") == "no-such-step");
  CHECK(codes(Deed::turn, "on-back") == "no-such-step");
  CHECK(codes(Deed::turn, "door-open") == "");
  CHECK(codes(Deed::swap, "door-outer-panel") == "use-swap");
  CHECK(codes(Deed::fasten, "toe-screws") == "part-away");
  CHECK(says(work.ask(StepDone{Deed::release, "outer-panel-screws", {}, {}}), "wrong-position"));
  REQUIRE(work.tell(StepDone{Deed::release, "timer-knob-pull", {}, {}}).accepted());
  CHECK(codes(Deed::release, "timer-knob-pull") == "not-now");
}

TEST_CASE("decide: the way back asks for each check by name") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap("thermal-fuse"));
  REQUIRE(work.state.stage == Stage::close);
  int asked = 0;
  while (work.state.stage == Stage::close) {
    const std::vector<StepDone> next = work.next_step(true);
    REQUIRE(next.size() == 1);
    StepDone bare = next.front();
    bare.checks.clear();
    const job::Decision without = work.ask(bare);
    asked += says(without, "check-open") ? 1 : 0;
    REQUIRE(work.take(next.front()));
  }
  CHECK(asked >= 3);
}

}  // namespace
}  // namespace kp
