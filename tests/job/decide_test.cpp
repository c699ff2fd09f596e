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
using job::Isolation;
using job::Outcome;
using job::PartSwapped;
using job::ProveRecorded;
using job::Stage;
using job::StageEntered;
using job::StepDone;
using job::TargetsChosen;
using job::TestRecorded;
using safety::EventKind;
using test::says;
using test::Work;

constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();
constexpr double kEndless = std::numeric_limits<double>::infinity();

Isolation act(EventKind kind) {
  Isolation body;
  body.act = kind;
  body.meter = "M1";
  return body;
}

/// Everything that puts hands into the machine.
std::vector<Body> hands_in() {
  TestRecorded ohms;
  ohms.test = "valve-ohms";
  ohms.value = 900;
  ProveRecorded earth;
  earth.test = "earth-closed";
  earth.value = 0.1;
  return {StepDone{Deed::release, "toe-screws", {}, {}}, ohms, earth};
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

TEST_CASE("decide: hands go nowhere without both isolations, at any point of the way there") {
  Work work;
  work.arrive();
  check_refused(work, "not-prepared");
  int refused = 0;
  while (true) {
    const auto todos = safety::make_safe(work.state.safety, {}, work.wall.utc_ms,
                                         work.settings.safety);
    if (todos.empty()) {
      break;
    }
    for (const Body& body : hands_in()) {
      CAPTURE(static_cast<int>(todos.front().kind));
      CHECK_FALSE(work.ask(body).accepted());
      ++refused;
    }
    REQUIRE(work.tell(work.answer(todos.front())).accepted());
  }
  CHECK(refused >= 30);
  for (const Body& body : hands_in()) {
    CAPTURE(test::codes_of(work.ask(body)));
    CHECK(work.ask(body).accepted());
  }
}

TEST_CASE("decide: an accepted hands-in record names the proofs it stood on") {
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
    CHECK(stands_on.size() >= 4);  // isolated, proved, shut, relieved
    for (const std::uint32_t record : stands_on) {
      CHECK(record >= 1);
      CHECK(record <= work.state.last_n);
    }
  }
}

TEST_CASE("decide: proofs that the person claims are not taken over") {
  Work work;
  work.arrive();
  TestRecorded look;
  look.test = "latch-look";
  look.looked = true;
  look.stands_on = {1, 2, 3};
  const job::Decision decision = work.ask(look);
  REQUIRE(decision.accepted());
  CHECK(std::get<TestRecorded>(decision.events.front()).stands_on.empty());
  CHECK_FALSE(work.ask(StepDone{Deed::release, "toe-screws", {}, {1, 2, 3, 4}}).accepted());
}

TEST_CASE("decide: what voids the proof closes the gate again") {
  struct Row {
    const char* what;
    Body fact;
    const char* code;
  };
  const Row rows[] = {
      {"left alone", act(EventKind::left_alone), "power-not-proved"},
      {"power found on", act(EventKind::power_found_on), "power-not-isolated"},
      {"water found on", act(EventKind::water_found_on), "water-not-shut"},
      {"a refitted part put energy back", act(EventKind::re_energised), "power-not-isolated"},
      {"the tool was closed too long", job::Resumed{301}, "power-not-proved"},
      {"the clock ran back", job::Resumed{-1}, "power-not-proved"},
      {"another person", job::TakenOver{"Ben"}, "not-prepared"},
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

TEST_CASE("decide: a short pause keeps the proof, an old proof does not hold") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::Resumed{300}).accepted());
  CHECK(work.ask(hands_in().front()).accepted());
  work.pass(5 * test::kHourMs);
  check_refused(work, "power-proof-old");
  check_refused(work, "water-proof-old");
}

TEST_CASE("decide: after power went back for a run, the whole proof is asked for again") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.put_back());
  check_refused(work, "power-on");
  check_refused(work, "water-on");
  REQUIRE(work.open_gate());
  CHECK(work.ask(hands_in().front()).accepted());
}

TEST_CASE("decide: power and water stay off while the machine is open") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(StepDone{Deed::release, "toe-screws", {}, {}}).accepted());
  CHECK(says(work.ask(act(EventKind::power_restored)), "not-closed"));
  CHECK(says(work.ask(act(EventKind::water_restored)), "not-closed"));
}

TEST_CASE("decide: readings come in their order, within the field, and from a meter that can prove") {
  Work work;
  work.arrive();
  Isolation reading = act(EventKind::reading);
  reading.function = safety::MeterFunction::two_pole_detector;
  reading.volts = 121;
  CHECK(says(work.ask(reading), "not-prepared"));
  REQUIRE(work.tell(work.answer({EventKind::prepared, {}, {}, {}, {}, {}, {}})).accepted());
  CHECK(says(work.ask(reading), "power-not-isolated"));
  REQUIRE(work.tell(act(EventKind::stopped)).accepted());
  Isolation isolated = act(EventKind::isolated);
  isolated.means = safety::Means::door_switch;
  CHECK(says(work.ask(isolated), "means-refused"));
  isolated.means = safety::Means::breaker_locked;
  CHECK(says(work.ask(isolated), "lock-missing"));
  isolated.lock = "L1";
  REQUIRE(work.tell(isolated).accepted());
  CHECK(says(work.ask(reading), "controls-not-tried"));
  REQUIRE(work.tell(act(EventKind::controls_tried)).accepted());
  reading.station = safety::Station::line_neutral;
  CHECK(says(work.ask(reading), "wrong-order"));
  reading.station = safety::Station::known_before;
  for (const double volts : {-1.0, 1001.0, kNothing, kEndless}) {
    CAPTURE(volts);
    reading.volts = volts;
    CHECK(says(work.ask(reading), "out-of-range"));
  }
  reading.volts = 121;
  CHECK(work.ask(reading).accepted());
}

TEST_CASE("decide: an isolation record cannot stand for another kind of record") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  for (const EventKind kind : {EventKind::step_done, EventKind::ended, EventKind::taken_over,
                               EventKind::resumed, EventKind::reopened,
                               EventKind::posture_changed}) {
    CAPTURE(safety::words(kind));
    CHECK(says(work.ask(act(kind)), "wrong-record"));
  }
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
  earth.test = "earth-closed";
  earth.value = -0.1;
  CHECK(says(work.ask(earth), "out-of-range"));
  ProveRecorded look;
  look.test = "visual";
  look.value = kNothing;
  CHECK(says(work.ask(look), "out-of-range"));
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
      if (test.probe == pack::Probe::look) return test.id;
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
  CHECK(codes(Deed::release, "access-screws") == "covered");
  CHECK(codes(Deed::remove, "toe-panel") == "still-held");
  CHECK(codes(Deed::fasten, "toe-screws") == "not-now");
  CHECK(codes(Deed::release, "no-such-joint") == "no-such-step");
  CHECK(codes(Deed::turn, "on-back") == "no-such-step");
  CHECK(codes(Deed::turn, "door-open") == "");
  CHECK(codes(Deed::swap, "toe-panel") == "use-swap");
  REQUIRE(work.tell(StepDone{Deed::turn, "door-open", {}, {}}).accepted());
  CHECK(codes(Deed::release, "toe-screws") == "wrong-position");
  REQUIRE(work.tell(StepDone{Deed::turn, "in-place", {}, {}}).accepted());
  REQUIRE(work.tell(StepDone{Deed::release, "toe-screws", {}, {}}).accepted());
  REQUIRE(work.tell(StepDone{Deed::remove, "toe-panel", {}, {}}).accepted());
  CHECK(codes(Deed::fasten, "toe-screws") == "part-away");
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
    REQUIRE(work.tell(next.front()).accepted());
  }
  CHECK(asked >= 3);
}

TEST_CASE("decide: a second pair of hands is asked for where the unit is laid down") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(TargetsChosen{{"saddle-spring"}, "slack"}).accepted());
  bool laid = false;
  for (int i = 0; i < 60 && !laid; ++i) {
    const StepDone step = work.next_step(false).front();
    laid = step.deed == Deed::turn && step.what == "on-back";
    const int subject = job::subject_index(work.pack(), work.state.unit, step.deed, step.what);
    const safety::Demand demand = job::demand_of(work.pack(), step.deed, subject);
    if (laid) {
      CHECK(demand.people == 2);
      CHECK(says(work.ask(step), "helper-missing"));
    }
    REQUIRE(work.open_gate(demand));
    REQUIRE(work.tell(step).accepted());
  }
  CHECK(laid);
}

}  // namespace
}  // namespace kp
