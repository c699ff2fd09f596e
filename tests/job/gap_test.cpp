// Dark, paused and closed are one thing (S7): over the policy's five minutes the next act first asks
// what happened, and the answer decides what still counts. The time is the tool's own: no public text
// was found. What the answers keep: order of safety, 1.8.

#include <doctest/doctest.h>

#include <string>

#include "job/codec.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

using job::Deed;
using job::StepDone;
using safety::GapAnswered;
using safety::Stayed;
using test::says;
using test::Work;

constexpr std::int64_t kLimitMs = 300'000;

/// Open at the places that these steps touch, everything proved.
Work open_job() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.open_gate(job::demand_of(work.model(), work.state, Deed::release,
                                        work.pack().joint("fuse-leads"))));
  return work;
}

job::Body at_terminals() { return StepDone{Deed::release, "fuse-leads", {}, {}}; }
job::Body elsewhere() { return StepDone{Deed::release, "timer-knob-pull", {}, {}}; }

enum class Kind { dark, paused, closed };

/// Away for so long, each the way it happens. Five seconds pass with each record.
void be_away(Work& work, Kind kind, std::int64_t ms) {
  constexpr std::int64_t kRecordMs = 5 * test::kSecondMs;
  switch (kind) {
    case Kind::dark:
      REQUIRE(work.tell(job::ScreenChanged{true, 0, false}).accepted());
      work.pass(ms - kRecordMs);
      REQUIRE(work.tell(job::ScreenChanged{false, 0, false}).accepted());
      return;
    case Kind::paused:
      REQUIRE(work.tell(job::PhaseStarted{job::Phase::waiting, "lunch", 0, false}).accepted());
      work.pass(ms - kRecordMs);
      REQUIRE(work.tell(job::PhaseStarted{job::Phase::labour, "resumed", 0, false}).accepted());
      return;
    case Kind::closed:
      work.pass(ms);
      work.life = "00000000000000a2";
      work.mono_ms = 1'000;
      REQUIRE(work.tell(job::Resumed{ms}).accepted());
      return;
  }
}

TEST_CASE("gap: dark, paused and closed ask after five minutes, and not before") {
  for (const Kind kind : {Kind::dark, Kind::paused, Kind::closed}) {
    CAPTURE(static_cast<int>(kind));
    Work shorter = open_job();
    REQUIRE(shorter.ask(at_terminals()).accepted());
    be_away(shorter, kind, kLimitMs);
    CHECK_FALSE(shorter.state.safety.gap_open);
    CHECK(shorter.ask(at_terminals()).accepted());

    Work longer = open_job();
    be_away(longer, kind, kLimitMs + 1);
    CHECK(longer.state.safety.gap_open);
    for (const job::Body& body : {at_terminals(), elsewhere(), job::Body(safety::Inspected{}),
                                  job::Body(job::StageEntered{job::Stage::open})}) {
      CAPTURE(std::string(job::kind_of(body)));
      CHECK(says(longer.ask(body), "gap-open"));
    }
    // The four hours in which a proof is believed have nothing to do with it.
    CHECK(longer.state.safety.power == safety::Power::supply_dead);
  }
}

TEST_CASE("gap: a screen that is still dark and a job that is still paused are gaps already") {
  for (const job::Body& begin : {job::Body(job::ScreenChanged{true, 0, false}),
                                 job::Body(job::PhaseStarted{job::Phase::waiting, "lunch", 0, false})}) {
    CAPTURE(std::string(job::kind_of(begin)));
    Work work = open_job();
    REQUIRE(work.tell(begin).accepted());
    work.pass(kLimitMs - 5 * test::kSecondMs);
    CHECK(work.ask(at_terminals()).accepted());
    work.pass(1);
    CHECK(says(work.ask(at_terminals()), "gap-open"));
    CHECK(says(work.ask(safety::Inspected{}), "gap-open"));
    job::TestRecorded look;
    look.test = "hinge-look";
    look.looked = true;
    CHECK(work.ask(look).accepted());   // eyes only
  }
}

TEST_CASE("gap: stayed: nothing is lost, and the proof ages on") {
  for (const Kind kind : {Kind::dark, Kind::paused, Kind::closed}) {
    CAPTURE(static_cast<int>(kind));
    Work work = open_job();
    be_away(work, kind, test::kHourMs);
    REQUIRE(work.tell(GapAnswered{Stayed::here}).accepted());
    CHECK(work.ask(at_terminals()).accepted());
    work.pass(3 * test::kHourMs);
    CHECK(says(work.ask(at_terminals()), "power-not-proved"));
    CHECK(says(work.ask(at_terminals()), "work-not-proved"));
  }
}

TEST_CASE("gap: left with one's own lock on: the terminals are read again, nothing else") {
  for (const Kind kind : {Kind::dark, Kind::paused, Kind::closed}) {
    CAPTURE(static_cast<int>(kind));
    Work work = open_job();
    be_away(work, kind, test::kHourMs);
    REQUIRE(work.tell(GapAnswered{Stayed::left_locked}).accepted());
    CHECK(test::codes_of(work.ask(at_terminals())) == "work-not-proved charge-not-gone");
    CHECK(work.ask(elsewhere()).accepted());
    int readings = 0;
    // Somebody may have been at the terminals: charge is taken off and read again too, ours.
    for (const auto& todo : safety::make_safe(
             work.state.safety,
             job::ask_of(work.model(), work.state,
                         job::demand_of(work.model(), work.state, Deed::release,
                                        work.pack().joint("fuse-leads")),
                         work.by),
             work.clock(), work.law(), job::supply_place(work.model(), work.state))) {
      const bool reads = todo.kind == safety::TodoKind::take_reading;
      readings += reads ? 1 : 0;
      CHECK((reads || todo.kind == safety::TodoKind::discharge));
      CHECK(todo.place.id == "behind:access-panel");
    }
    CHECK(readings >= 5);   // known source, three terminals, known source at the least
    REQUIRE(work.open_gate(job::demand_of(work.model(), work.state, Deed::release,
                                          work.pack().joint("fuse-leads"))));
    CHECK(work.ask(at_terminals()).accepted());
  }
}

TEST_CASE("gap: left unlocked, or nobody can say: everything is taken as live") {
  for (const Kind kind : {Kind::dark, Kind::paused, Kind::closed}) {
    CAPTURE(static_cast<int>(kind));
    Work work = open_job();
    be_away(work, kind, test::kHourMs);
    REQUIRE(work.tell(GapAnswered{Stayed::unknown}).accepted());
    const job::Decision step = work.ask(elsewhere());
    CHECK(says(step, "power-not-proved"));
    CHECK(says(step, "water-not-relieved"));
    CHECK(work.state.safety.power == safety::Power::live);
    CHECK(work.state.safety.water == safety::Water::open);
    CHECK(work.state.safety.locks.size() == 1);   // it hangs there, whatever it is worth
    CHECK_FALSE(work.state.as_left.away.empty()); // and the covers stay where they are
    // The way leads on, without a cover put back.
    REQUIRE(work.open_gate());
    CHECK(work.ask(elsewhere()).accepted());
  }
}

TEST_CASE("gap: a clock in doubt asks, whichever clock it is") {
  // The wall clock was set back while the screen was dark: the steady clock still tells (S6).
  Work dark = open_job();
  REQUIRE(dark.tell(job::ScreenChanged{true, 0, false}).accepted());
  dark.pass(test::kHourMs);
  dark.wall.utc_ms -= test::kHourMs;
  REQUIRE(dark.tell(job::ScreenChanged{false, 0, false}).accepted());
  CHECK(dark.state.safety.gap_open);
  // Closed, and the wall clock is before the last record now: nothing tells how long it was.
  Work closed = open_job();
  closed.life = "00000000000000a2";
  closed.mono_ms = 1'000;
  closed.wall.utc_ms -= test::kMinuteMs;
  CHECK(says(closed.ask(at_terminals()), "clock-doubt"));
  REQUIRE(closed.tell(job::Resumed{-test::kMinuteMs}).accepted());
  CHECK(closed.state.safety.power == safety::Power::live);
  CHECK(closed.state.safety.lost == safety::Loss::clock_doubt);
  CHECK_FALSE(closed.ask(elsewhere()).accepted());
}

TEST_CASE("gap: nothing is asked where nothing was isolated or shut yet") {
  for (const Kind kind : {Kind::dark, Kind::paused, Kind::closed}) {
    Work work;
    work.arrive();
    be_away(work, kind, 10 * test::kHourMs);
    CHECK_FALSE(work.state.safety.gap_open);
    CHECK(work.tell(work.prepared()).accepted());
  }
}

}  // namespace
}  // namespace kp
