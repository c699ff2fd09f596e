#include <doctest/doctest.h>

#include "job/bind_bill.hpp"
#include "job/state_text.hpp"
#include "job/unit_found.hpp"
#include "job/work.hpp"

// The four ends of a job and the second visit. That a machine is left isolated, shut and tagged is
// the sense of 29 CFR 1910.147(d)(4); the rest is this project's own.

namespace kp {
namespace {

using job::JobEnded;
using job::Outcome;
using job::Stage;
using job::VisitBegun;
using test::says;
using test::Work;

bill::RateCard card() { return {}; }

bill::ServiceRecord record_of(const Work& work) {
  return job::bind_record(work.state, work.context(), card(), work.tip, work.wall);
}

TEST_CASE("ending repaired: closed, proved, power and water back, no lock left") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "nothing-done"));
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "proof-open"));
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "lock-hanging"));
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "still-isolated"));
  CHECK(says(work.ask(JobEnded{Outcome::none, ""}), "no-outcome"));
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove(pack::ProveWhen::before_power));
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "proof-open"));
  REQUIRE(work.prove_all());
  job::ProveRecorded failed;
  failed.test = "dry";
  work.pass(2 * test::kMinuteMs);
  REQUIRE(work.tell(failed).accepted());
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "proof-failed"));
  work.pass(2 * test::kMinuteMs);
  failed.passed = true;
  REQUIRE(work.tell(failed).accepted());
  REQUIRE(work.tell(JobEnded{Outcome::repaired, ""}).accepted());
  CHECK(work.state.stage == Stage::bill);
  CHECK(work.state.safety.locks.empty());
  CHECK(says(work.ask(job::NoteAdded{""}), "empty-note"));
  CHECK(says(work.ask(job::StepDone{job::Deed::turn, "door-open", {}, {}}), "ended"));
  CHECK(says(work.ask(safety::HandedOn{"Ben", "L-Ben"}), "ended"));
  const bill::ServiceRecord record = record_of(work);
  // After the static leak test the water was shut on tight joints: that is shown too.
  for (const bill::IsolationTaken& one : record.isolations) {
    CAPTURE(one.title);
    CAPTURE(one.how);
    CHECK(one.proved.has_value());
    CHECK(one.how.find("behind:") == std::string::npos);
  }
  CHECK(record.work.outcome == bill::Outcome::repaired);
  REQUIRE(record.work.parts.size() == 1);
  CHECK(record.work.parts[0].stock == "QP 1");
  CHECK(record.tests.size() == work.state.proved.size());
  CHECK(to_int(record.tests.size()) > test::outside_tests(work.pack()));
  for (const auto& test : record.tests) {
    CHECK(test.pass);
  }
  CHECK(record.awaited.empty());
}

TEST_CASE("the last joint that is opened is tested under pressure, and stays shut") {
  Work work;
  work.arrive();
  REQUIRE(work.repair("inlet-valve"));
  REQUIRE(work.prove(pack::ProveWhen::before_power));
  std::uint32_t tested = 0;
  for (const auto& one : work.state.proved) {
    tested = one.body.act == safety::Act::static_test && one.body.passed ? one.stamp.n : tested;
  }
  REQUIRE(tested > 0);
  int covers = 0;
  for (const auto& step : work.state.steps) {
    if (step.stamp.n < tested) {
      continue;
    }
    CHECK(step.body.deed != job::Deed::release);
    covers += step.body.deed == job::Deed::set ? 1 : 0;
  }
  CHECK(covers > 0);
  for (const auto& fact : work.state.facts) {
    CHECK_FALSE((fact.stamp.n > tested && std::holds_alternative<safety::Relieved>(fact.body)));
  }
}

TEST_CASE("a test is not left out as untouched where the record says otherwise") {
  const auto left_out = [](Work& work, const char* test, const char* why) {
    job::ProveRecorded body;
    body.test = test;
    body.left_out = why;
    return work.ask(body);
  };
  Work parted;
  parted.arrive();
  REQUIRE(parted.repair("thermal-fuse"));   // its leads were off
  CHECK(says(left_out(parted, "insulation", "untouched"), "no-reason"));
  CHECK(says(left_out(parted, "earth", "untouched"), "no-reason"));
  CHECK(left_out(parted, "insulation", "part-measured").accepted());
  CHECK(left_out(parted, "polarity", "untouched").accepted());   // the supply's own leads were not

  Work closed;
  closed.arrive();
  CHECK(left_out(closed, "insulation", "untouched").accepted());
  CHECK(left_out(closed, "earth", "untouched").accepted());
}

TEST_CASE("ending no fault found: nothing swapped, everything proved") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  CHECK(says(work.ask(JobEnded{Outcome::no_fault_found, ""}), "not-closed"));
  REQUIRE(work.tell(job::StageEntered{Stage::close}).accepted());
  REQUIRE(work.work_through(Stage::close));
  REQUIRE(work.prove_all());
  CHECK(says(work.ask(JobEnded{Outcome::repaired, ""}), "nothing-done"));
  REQUIRE(work.tell(JobEnded{Outcome::no_fault_found, ""}).accepted());
  CHECK(work.state.outcome == Outcome::no_fault_found);
  CHECK(record_of(work).work.outcome == bill::Outcome::no_fault_found);
  CHECK(record_of(work).work.parts.empty());
}

TEST_CASE("ending waiting for parts: left open, isolated, shut and tagged, with the part named") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::TargetsChosen{{"thermal-fuse", "float-switch"}, "open"}).accepted());
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap("float-switch"));
  REQUIRE(work.state.stage == Stage::swap);
  const JobEnded end{Outcome::waiting_for_parts, "Fuse ordered."};
  CHECK(says(work.ask(JobEnded{Outcome::waiting_for_parts, " "}), "no-reason"));
  {
    // A tag hangs with the lock; with it gone nobody leaves.
    Work bare = work;
    bare.state.safety.tagged = {};
    CHECK(says(bare.ask(end), "leave-tag"));
  }
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(end).accepted());
  CHECK(work.state.safety.tag == "T1");
  CHECK(work.state.safety.power == safety::Power::supply_dead);
  CHECK((work.state.safety.water == safety::Water::relieved ||
         work.state.safety.water == safety::Water::holding));
  CHECK(work.state.safety.locks.size() == 1);
  const bill::ServiceRecord record = record_of(work);
  REQUIRE(record.awaited.size() == 1);  // what was fitted is not awaited
  CHECK(record.awaited[0].name == "thermal fuse");
  CHECK(record.work.outcome == bill::Outcome::waiting_for_parts);
}

TEST_CASE("ending waiting for parts needs the isolation, before it was ever made") {
  Work work;
  work.arrive();
  const job::Decision decision = work.ask(JobEnded{Outcome::waiting_for_parts, "Fuse."});
  CHECK(says(decision, "leave-power-locked"));
  CHECK(says(decision, "water-not-shut"));
  CHECK(says(decision, "leave-tag"));
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  CHECK(work.tell(JobEnded{Outcome::waiting_for_parts, "Fuse."}).accepted());
}

TEST_CASE("ending not to be used: the hazard is written down, the machine is left tagged") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.wind_up(Outcome::not_to_be_used));
  CHECK(says(work.ask(JobEnded{Outcome::not_to_be_used, ""}), "no-reason"));
  REQUIRE(work.tell(JobEnded{Outcome::not_to_be_used, "Burnt wiring."}).accepted());
  const bill::ServiceRecord record = record_of(work);
  CHECK(record.hazard == "Burnt wiring.");
  CHECK(record.work.outcome == bill::Outcome::not_to_be_used);
}

/// A first visit that waits for the fuse, billed or not.
void first_visit(Work& work, bool billed) {
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::TargetsChosen{{"thermal-fuse", "float-switch"}, "open"}).accepted());
  REQUIRE(work.work_through(Stage::open));
  REQUIRE(work.swap("float-switch"));
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(JobEnded{Outcome::waiting_for_parts, "Fuse ordered."}).accepted());
  if (billed) {
    REQUIRE(work.tell(test::issued("1-1", 9'000)).accepted());
    CHECK(says(work.ask(job::InvoiceIssued{"1-2", 9'000, "USD"}), "issued"));
    CHECK(says(work.ask(job::TimeCorrected{job::Phase::labour, 60'000, "slip"}), "issued"));
  }
}

TEST_CASE("second visit: the same job goes on, and the machine is taken as live again") {
  Work work;
  first_visit(work, false);
  const plan::State left = work.state.unit;
  const std::int64_t counted = job::total_ms(work.state.clock);
  // Nine days, another run of the program, another zone.
  work.wall.utc_ms += 9 * 24 * test::kHourMs;
  work.wall.offset_min = -240;
  work.life = "00000000000000b2";
  work.mono_ms = 50;
  REQUIRE(work.tell(job::Resumed{9LL * 24 * test::kHourMs}).accepted());
  REQUIRE(work.tell(VisitBegun{}).accepted());
  CHECK(work.state.job == "20261025-0001");
  CHECK(work.state.visit == 2);
  CHECK(work.state.outcome == Outcome::none);
  CHECK(work.state.stage == Stage::make_safe);
  CHECK(work.state.unit.released == left.released);
  CHECK(work.state.unit.removed == left.removed);
  CHECK(work.state.unit.position == left.position);
  CHECK(work.state.swapped.size() == 1);
  // The days between count nowhere, and nobody is asked about them.
  CHECK(work.state.clock.open_questions.empty());
  CHECK(job::total_ms(work.state.clock) == counted + 5 * test::kSecondMs);  // between its two records
  CHECK(work.state.safety.power == safety::Power::live);
  CHECK(work.state.safety.water == safety::Water::open);
  CHECK(work.state.safety.locks.size() == 1);   // what hung, hangs
  CHECK(says(work.ask(work.next_step(false).empty()
                          ? job::Body(job::PartSwapped{"thermal-fuse", "QP 2", 1, "", {}})
                          : job::Body(work.next_step(false).front())),
             "unit-unseen"));
  REQUIRE(work.tell(job::as_it_was_left(work.state)).accepted());
  CHECK(work.state.unit.released == left.released);
  CHECK(work.state.unit.removed == left.removed);
  CHECK(work.state.unit.position == left.position);
  CHECK(says(work.ask(job::PartSwapped{"thermal-fuse", "QP 2", 1, "", {}}), "power-not-proved"));
  REQUIRE(work.open_gate());
  CHECK(work.state.stage == Stage::swap);  // the unit stood open, the fuse is out
  REQUIRE(work.swap("thermal-fuse"));
  REQUIRE(work.work_through(Stage::close));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(JobEnded{Outcome::repaired, ""}).accepted());
  CHECK(work.state.swapped.size() == 2);
  // Nothing was billed before: this invoice has both visits.
  const bill::WorkRecord bill = job::bind_work(work.state, work.context());
  CHECK(bill.call_outs == 2);
  CHECK(bill.parts.size() == 2);
  // The record keeps what was isolated on both days.
  int power = 0;
  for (const auto& isolation : record_of(work).isolations) {
    power += isolation.energy == bill::EnergyKind::electricity ? 1 : 0;
  }
  CHECK(power >= 2);
  const job::Replayed replayed = job::replay(journal::read_lines(work.lines), test::shipped_library());
  CHECK_FALSE(replayed.damage.has_value());
  CHECK(test::same(replayed.state, work.state));
}

TEST_CASE("second visit: what the first invoice covers is not billed again") {
  Work work;
  first_visit(work, true);
  const std::int64_t first = job::total_ms(work.state.clock, job::Phase::labour);
  CHECK(first > 0);
  work.pass(30 * test::kHourMs);
  REQUIRE(work.tell(VisitBegun{}).accepted());
  REQUIRE(work.tell(job::as_it_was_left(work.state)).accepted());
  REQUIRE(work.open_gate());
  REQUIRE(work.swap("thermal-fuse"));
  REQUIRE(work.work_through(Stage::close));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(JobEnded{Outcome::repaired, ""}).accepted());
  const bill::WorkRecord bill = job::bind_work(work.state, work.context());
  CHECK(bill.call_outs == 1);
  REQUIRE(bill.parts.size() == 1);
  CHECK(bill.parts[0].name == "thermal fuse");
  std::int64_t labour = 0;
  for (const bill::Segment& segment : bill.segments) {
    labour += segment.kind == bill::SegmentKind::labour ? segment.counted_ms.value_or(0) : 0;
  }
  CHECK(labour == job::total_ms(work.state.clock, job::Phase::labour) - first);
  CHECK(labour > 0);
  // The record is of the whole job all the same.
  CHECK(record_of(work).work.parts.size() == 2);
  CHECK(work.tell(test::issued("1-2", 5'000)).accepted());
}

}  // namespace
}  // namespace kp
