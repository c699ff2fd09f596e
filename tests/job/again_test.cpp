// Journals decided again: what honest work wrote is believed, and a forgery with a new chain is not
// believable from the first record that the journal's own rules, pack or clocks refuse.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "job/again.hpp"
#include "job/audit.hpp"
#include "job/forge.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

using job::Again;
using journal::Entry;
using test::forged;
using test::Work;

/// A repaired machine: from the first record to the last.
const Work& repaired() {
  static const Work work = [] {
    Work made;
    made.arrive();
    REQUIRE(made.open_gate());
    REQUIRE(made.repair("thermal-fuse"));
    REQUIRE(made.prove_all());
    REQUIRE(made.tell(job::JobEnded{job::Outcome::repaired, ""}).accepted());
    return made;
  }();
  return work;
}

Again again(const std::vector<std::string>& lines, const job::Settings& today = {}) {
  return job::decide_again(journal::read_lines(lines), test::shipped_library(), today);
}

std::string codes_of(const job::Disbelief& one) {
  std::string out;
  for (const safety::Reason& reason : one.reasons) {
    out += cat(out.empty() ? "" : " ", reason.code);
  }
  return out;
}

/// The first record of that kind from `from` on, as its number; 0: none.
std::uint32_t first_of(const std::vector<std::string>& lines, std::string_view kind, std::uint32_t from = 1) {
  for (const Entry& entry : journal::read_lines(lines).entries) {
    if (entry.kind == kind && entry.seq >= from) return entry.seq;
  }
  return 0;
}

/// The forgery holds in form and chain, and is refused from this record on, for this reason.
void not_believable(const std::vector<std::string>& lines, std::uint32_t n, const std::string& code) {
  const journal::Loaded loaded = journal::read_lines(lines);
  REQUIRE_FALSE(loaded.damage.has_value());
  REQUIRE(loaded.entries.size() == lines.size());
  const Again judged = again(lines);
  CHECK(judged.decided);
  REQUIRE(judged.not_believable.size() == 1);   // the first counts, what follows it stands on sand
  CHECK(judged.not_believable.front().n == n);
  CAPTURE(codes_of(judged.not_believable.front()));
  CHECK((" " + codes_of(judged.not_believable.front()) + " ").find(" " + code + " ") != std::string::npos);
}

TEST_CASE("again: what honest work wrote is believed, by its own rules and by today's") {
  const Again judged = again(repaired().lines);
  CHECK(judged.decided);
  CHECK(judged.not_believable.empty());
  CHECK(judged.today.empty());

  // With a gap, a hand-over, a reading taken back, a doubt, a second visit.
  Work long_job;
  long_job.arrive();
  REQUIRE(long_job.open_gate());
  REQUIRE(long_job.tell(job::ScreenChanged{true, 0, false}).accepted());
  long_job.pass(test::kHourMs);
  REQUIRE(long_job.tell(job::ScreenChanged{false, 0, false}).accepted());
  REQUIRE(long_job.tell(safety::GapAnswered{safety::Stayed::left_locked}).accepted());
  REQUIRE(long_job.tell(safety::HandedOn{"Ben", "L-Ben"}).accepted());
  long_job.by = "Ben";
  REQUIRE(long_job.open_gate());
  job::TestRecorded look;
  look.test = "hinge-look";
  look.looked = true;
  REQUIRE(long_job.tell(look).accepted());
  REQUIRE(long_job.tell(job::TestTakenBack{long_job.state.last_n}).accepted());
  REQUIRE(long_job.tell(safety::Doubted{safety::Doubt::power_found_on}).accepted());
  REQUIRE(long_job.open_gate());
  REQUIRE(long_job.wind_up(job::Outcome::waiting_for_parts));
  REQUIRE(long_job.tell(job::JobEnded{job::Outcome::waiting_for_parts, "a fuse"}).accepted());
  long_job.life = "00000000000000a2";
  long_job.mono_ms = 500;
  long_job.pass(24 * test::kHourMs);
  REQUIRE(long_job.tell(job::Resumed{24 * test::kHourMs}).accepted());
  REQUIRE(long_job.tell(job::VisitBegun{}).accepted());
  const Again after = again(long_job.lines);
  CHECK(after.decided);
  for (const job::Disbelief& one : after.not_believable) {
    FAIL_CHECK(cat(one.kind, " ", integer_text(one.n), ": ", codes_of(one)));
  }
  CHECK(after.today.empty());
}

TEST_CASE("again: a forged belief, 118 V said to be nothing, is not believable") {
  std::uint32_t at = 0;
  const auto lines = forged(repaired().lines, [&](Entry& entry) {
    (void)test::change_body<safety::ReadingTaken>(entry, [&](safety::ReadingTaken& reading) {
      if (at == 0 && reading.role == safety::Role::pair) {
        at = entry.seq;
        reading.shown = {false, 118};   // found stays nil
      }
    });
    return true;
  });
  not_believable(lines, at, "says-otherwise");
}

TEST_CASE("again: a reading that is said to prove the place before all pairs are read") {
  std::uint32_t at = 0;
  const auto lines = forged(repaired().lines, [&](Entry& entry) {
    (void)test::change_body<safety::ReadingTaken>(entry, [&](safety::ReadingTaken& reading) {
      if (at == 0 && reading.role == safety::Role::pair && !reading.proves) {
        at = entry.seq;
        reading.proves = true;
      }
    });
    return true;
  });
  not_believable(lines, at, "says-otherwise");
}

TEST_CASE("again: hands in without their proofs") {
  const auto& honest = repaired().lines;
  // Every reading of the supply taken out: the first act behind them stands on nothing.
  const auto unread = forged(honest, [](Entry& entry) { return entry.kind != safety::ReadingTaken::kKind; });
  const Again judged = again(unread);
  REQUIRE(judged.not_believable.size() == 1);
  CHECK(judged.not_believable.front().n <= first_of(unread, job::TargetsChosen::kKind));
  CHECK(codes_of(judged.not_believable.front()).find("power-not-proved") != std::string::npos);
  // The water never shut.
  const auto wet = forged(honest, [](Entry& entry) { return entry.kind != safety::WaterShut::kKind; });
  const Again open = again(wet);
  REQUIRE(open.not_believable.size() == 1);
  CHECK(codes_of(open.not_believable.front()).find("water-not-shut") != std::string::npos);
  // Every isolation gone.
  const auto live = forged(honest, [](Entry& entry) {
    return entry.kind != safety::Isolated::kKind && entry.kind != safety::HeldFast::kKind;
  });
  REQUIRE(again(live).not_believable.size() == 1);
  // A step that names other proofs than it stood on.
  std::uint32_t at = 0;
  const auto claimed = forged(honest, [&](Entry& entry) {
    (void)test::change_body<job::StepDone>(entry, [&](job::StepDone& step) {
      if (at == 0 && step.act == safety::Act::hands_in) {
        at = entry.seq;
        step.stands_on.pop_back();
      }
    });
    return true;
  });
  REQUIRE(at > 0);
  not_believable(claimed, at, "says-otherwise");
  // A step that is said to be no hands in.
  at = 0;
  const auto softened = forged(honest, [&](Entry& entry) {
    (void)test::change_body<job::StepDone>(entry, [&](job::StepDone& step) {
      if (at == 0 && step.act == safety::Act::hands_in) {
        at = entry.seq;
        step.act = safety::Act::look_outside;
      }
    });
    return true;
  });
  not_believable(softened, at, "says-otherwise");
}

TEST_CASE("again: a lock that another person took off, a step that another person did") {
  const std::uint32_t off = first_of(repaired().lines, safety::LockOff::kKind);
  REQUIRE(off > 0);
  not_believable(forged(repaired().lines,
                        [&](Entry& entry) {
                          entry.by = entry.seq == off ? "Eve" : entry.by;
                          return true;
                        }),
                 off, "lock-of-another");
  const std::uint32_t step = first_of(repaired().lines, job::StepDone::kKind);
  not_believable(forged(repaired().lines,
                        [&](Entry& entry) {
                          entry.by = entry.seq == step ? "Eve" : entry.by;
                          return true;
                        }),
                 step, "other-person");
}

TEST_CASE("again: a time that goes backwards") {
  const std::uint32_t proved = first_of(repaired().lines, job::TargetsChosen::kKind);
  const std::uint32_t step = first_of(repaired().lines, job::StepDone::kKind, proved);
  REQUIRE(step > 0);
  // The wall clock: the act is refused while it is in doubt.
  not_believable(forged(repaired().lines,
                        [&](Entry& entry) {
                          entry.at.utc_ms -= entry.seq == step ? test::kHourMs : 0;
                          return true;
                        }),
                 step, "clock-doubt");
  // The steady clock of one run cannot: an old proof would look young by it.
  not_believable(forged(repaired().lines,
                        [&](Entry& entry) {
                          entry.mono_ms -= entry.seq >= step ? test::kHourMs : 0;
                          return true;
                        }),
                 step, "steady-clock-back");
}

TEST_CASE("again: a journal that does not say what it was decided under") {
  const auto none = forged(repaired().lines, [](Entry& entry) { return entry.kind != job::StandsOn::kKind; });
  not_believable(none, 2, "no-stands-on");
  // The first one names no machine yet; the one of the machine is taken out.
  const std::uint32_t machine = first_of(repaired().lines, job::MachineIdentified::kKind);
  std::uint32_t at = 0;
  const auto other = forged(repaired().lines, [&](Entry& entry) {
    const bool out = entry.kind == job::StandsOn::kKind && entry.seq + 1 == machine;
    at = out ? entry.seq : at;
    return !out;
  });
  REQUIRE(at > 0);
  not_believable(other, at, "no-stands-on");
}

TEST_CASE("again: rows that this program does not know: form, chain and arithmetic alone, and said") {
  const auto lines = forged(repaired().lines, [](Entry& entry) {
    (void)test::change_body<job::StandsOn>(entry, [](job::StandsOn& fact) {
      fact.rows.push_back("9001 moon-is-full hands-in");
    });
    return true;
  });
  const Again judged = again(lines);
  CHECK_FALSE(judged.decided);
  CHECK(judged.why_not == "It was decided by rules this program does not know.");
  CHECK(judged.not_believable.empty());
  const job::Audit audit = job::audit(journal::read_lines(lines));
  CHECK(audit.findings.faults() == 0);
  CHECK(audit.findings.has("unknown-row"));
  REQUIRE(audit.further.newer.has_value());
  CHECK(*audit.further.newer == first_of(lines, job::StandsOn::kKind));
}

TEST_CASE("again: what only today's rows or policy ask for is no disbelief") {
  // Rows of a day when nobody asked for the watch at the joint.
  Work before;
  before.settings.rows.erase(
      std::remove_if(before.settings.rows.begin(), before.settings.rows.end(),
                     [](const safety::Row& row) { return row.guard == safety::Guard::secured; }),
      before.settings.rows.end());
  before.arrive();
  REQUIRE(before.open_gate());
  REQUIRE(before.tell(job::StepDone{job::Deed::release, "floor-bracket-screw", {}, {}}).accepted());
  const Again rows = again(before.lines);
  CHECK(rows.decided);
  CHECK(rows.not_believable.empty());
  REQUIRE(rows.today.size() == 1);
  CHECK(rows.today.front().n == before.state.last_n);
  CHECK(codes_of(rows.today.front()) == "not-secured");

  // A shop that believed a proof for eight hours, which today believes it for one.
  Work patient;
  patient.settings.safety.proof_seconds = 8 * 3600;
  patient.arrive();
  REQUIRE(patient.open_gate());
  patient.pass(2 * test::kHourMs);
  REQUIRE(patient.tell(job::StepDone{job::Deed::release, "timer-knob-pull", {}, {}}).accepted());
  CHECK(again(patient.lines).today.empty());
  job::Settings strict;
  strict.safety.proof_seconds = 3600;
  const Again policy = again(patient.lines, strict);
  CHECK(policy.not_believable.empty());
  REQUIRE(policy.today.size() == 1);
  CHECK(codes_of(policy.today.front()).find("power-not-proved") != std::string::npos);
}

TEST_CASE("again: a journal whose pack is another, or not here, is not decided again") {
  job::Library none;
  const journal::Loaded loaded = journal::read_lines(repaired().lines);
  const Again away = job::decide_again(loaded, none, {});
  CHECK_FALSE(away.decided);
  CHECK(away.not_believable.empty());
  const auto other = forged(repaired().lines, [](Entry& entry) {
    (void)test::change_body<job::StandsOn>(entry, [](job::StandsOn& fact) {
      if (!fact.pack.empty()) fact.pack_sha = std::string(64, 'a');
    });
    return true;
  });
  const Again unlike = again(other);
  CHECK_FALSE(unlike.decided);
  CHECK(unlike.why_not == "The pack it was decided with is not here.");
}

}  // namespace
}  // namespace kp
