// What is written down beside the work: refusals, cautions, photographs, serial number, tester,
// orders, refused quotes and papers.

#include <doctest/doctest.h>

#include <algorithm>

#include "job/audit.hpp"
#include "job/bind_bill.hpp"
#include "job/state_text.hpp"
#include "job/work.hpp"
#include "journal/mark.hpp"

namespace kp {
namespace {

using test::Work;

std::string code_of(const job::Decision& decision) {
  return decision.accepted() ? std::string("accepted") : decision.reasons.front().code;
}

std::string printed(const Work& work) {
  const bill::ServiceRecord record = job::bind_record(
      work.state, work.context(), bill::RateCard{}, "", work.wall);
  return join(record.remarks, "\n");
}

const std::string kSum(64, 'c');

TEST_CASE("a refusal of the gate names the act, the subject and the rows that spoke") {
  Work work;
  work.arrive();
  const job::StepDone step{job::Deed::release, work.pack().joints.front().id, {}, {}};
  const job::Decision decision = work.ask(step);
  REQUIRE_FALSE(decision.accepted());
  const auto refused = job::refusal_of(work.state, step, decision, work.context());
  REQUIRE(refused.has_value());
  CHECK(safety::hands_in(refused->act));
  CHECK(refused->what == step.what);
  // Each row that it names is a row of the gate, and speaks of that act.
  CHECK_FALSE(refused->rows.empty());
  for (const std::uint32_t number : refused->rows) {
    const auto row = std::find_if(work.settings.rows.begin(), work.settings.rows.end(),
                                  [&](const safety::Row& one) { return one.number == static_cast<int>(number); });
    REQUIRE(row != work.settings.rows.end());
    CHECK(safety::in_acts(row->acts, refused->act));
  }
  const std::size_t steps = work.state.steps.size();
  REQUIRE(work.tell(*refused).accepted());
  CHECK(work.state.steps.size() == steps);
  CHECK(work.state.refused.size() == 1);
  const std::string paper = printed(work);
  CHECK(paper.find(cat("Refused, ")) != std::string::npos);
  CHECK(paper.find(step.what) != std::string::npos);
  CHECK(paper.find(integer_text(refused->rows.front())) != std::string::npos);
  // What is refused for another reason than the gate's, or needs no hands, is no such record.
  CHECK_FALSE(job::refusal_of(work.state, job::NoteAdded{}, work.ask(job::NoteAdded{}), work.context()));
  const job::StepDone strange{job::Deed::release, "no-such-joint", {}, {}};
  CHECK_FALSE(job::refusal_of(work.state, strange, work.ask(strange), work.context()));
}

TEST_CASE("serial number, tester and photograph: what is no number, no day, no sum is refused") {
  Work work;
  CHECK(code_of(work.ask(job::SerialNoted{"S 1"})) == "not-open");
  (void)work.tell(job::JobOpened{2, "j", job::Mode::field, "shop"});
  CHECK(code_of(work.ask(job::SerialNoted{"S 1"})) == "no-machine");
  work = Work{};
  work.arrive();
  CHECK(code_of(work.ask(job::SerialNoted{"  "})) == "no-serial");
  REQUIRE(work.tell(job::SerialNoted{" S 4711 "}).accepted());
  CHECK(work.state.machine.serial == "S 4711");
  CHECK(code_of(work.ask(job::TesterNamed{"Nimbus", "", ""})) == "no-tester");
  CHECK(code_of(work.ask(job::TesterNamed{"Nimbus", "T8", "last May"})) == "bad-date");
  CHECK(code_of(work.ask(job::TesterNamed{"Nimbus", "T8", "2026-02-30"})) == "bad-date");
  REQUIRE(work.tell(job::TesterNamed{"Nimbus", "T8", "2026-05-01"}).accepted());
  CHECK(code_of(work.ask(job::PhotoTaken{"abc", 10, ""})) == "no-photo");
  CHECK(code_of(work.ask(job::PhotoTaken{kSum, 0, ""})) == "no-photo");
  CHECK(code_of(work.ask(job::PhotoTaken{kSum, 10, "sofa"})) == "unknown-part");
  REQUIRE(work.tell(job::PhotoTaken{kSum, 10, "heater"}).accepted());
  REQUIRE(work.tell(job::PhotoTaken{kSum, 10, ""}).accepted());
  const std::string paper = printed(work);
  CHECK(paper.find("Tester: Nimbus T8, calibrated 2026-05-01.") != std::string::npos);
  CHECK(paper.find(": heater, sum cccccccc.") != std::string::npos);
  CHECK(paper.find(": the machine, sum cccccccc.") != std::string::npos);
  const bill::ServiceRecord record = job::bind_record(work.state, work.context(), {}, "", work.wall);
  CHECK(record.work.machine.serial == "S 4711");
}

TEST_CASE("parts ordered: the pack gives name and number, sums and counts are in range") {
  Work work;
  work.arrive();
  CHECK(code_of(work.ask(job::PartsOrdered{"sofa", "", "", 1, 0})) == "unknown-part");
  CHECK(code_of(work.ask(job::PartsOrdered{"heater", "", "", 0, 0})) == "out-of-range");
  CHECK(code_of(work.ask(job::PartsOrdered{"heater", "", "", 1, -1})) == "out-of-range");
  REQUIRE(work.tell(job::PartsOrdered{"heater", "", "", 2, 4'200}).accepted());
  const job::PartsOrdered& kept = work.state.ordered.front().body;
  const pack::Part& part = work.pack().parts[to_size(work.pack().part("heater"))];
  CHECK(kept.name == part.name);
  CHECK(kept.stock == part.stock);
  CHECK(printed(work).find(cat("2 x ", part.name)) != std::string::npos);
}

TEST_CASE("a quote is refused once, and an agreed one cannot be") {
  Work work;
  (void)work.tell(job::JobOpened{2, "j", job::Mode::field, "shop"});
  CHECK(code_of(work.ask(job::QuoteRefused{})) == "no-quote");
  work = Work{};
  work.arrive();
  CHECK(code_of(work.ask(job::QuoteRefused{})) == "quote-answered");
  REQUIRE(work.tell(test::quoted(1'000, 50'000, false)).accepted());
  const std::uint32_t quote = work.state.last_n;
  REQUIRE(work.tell(job::QuoteRefused{}).accepted());
  CHECK(work.state.quotes_refused.front().body.quote == quote);
  CHECK(code_of(work.ask(job::QuoteRefused{})) == "quote-answered");
  // The one that was agreed before stands.
  CHECK(work.state.agreed->body.high_minor == 14'000);
  CHECK(printed(work).find(cat("quote of record ", integer_text(quote))) != std::string::npos);
}

TEST_CASE("a paper that was made carries the mark of a record before it, or the journal is altered") {
  Work work;
  work.arrive();
  const std::string mark = journal::mark_text(3, work.lines[2]);
  CHECK(code_of(work.ask(job::PaperIssued{"record", "1", "x", kSum})) == "bad-mark");
  CHECK(code_of(work.ask(job::PaperIssued{"record", "1", mark, "00"})) == "no-paper");
  REQUIRE(work.tell(job::PaperIssued{"record", "1", mark, kSum}).accepted());
  CHECK(printed(work).find(cat("record 1, mark ", mark.substr(0, 10))) != std::string::npos);
  CHECK_FALSE(job::audit(journal::read_lines(work.lines)).further.altered.has_value());
  const std::uint32_t next = work.state.last_n + 1;
  work.write(job::PaperIssued{"record", "1", journal::mark_text(4, work.lines[2]), kSum});
  const job::Audit audit = job::audit(journal::read_lines(work.lines));
  CHECK(audit.further.altered == next);
  CHECK(audit.findings.has("mark-differs"));
}

TEST_CASE("cautions that were shown are told once each on the record") {
  Work work;
  work.arrive();
  const job::CautionShown live{safety::SignalWord::danger, safety::Act::hands_in, "heater", {"live"}};
  REQUIRE(work.tell(live).accepted());
  REQUIRE(work.tell(live).accepted());
  CHECK(work.state.cautions.size() == 2);
  const std::string paper = printed(work);
  CHECK(paper.find("Cautions shown: DANGER live ") != std::string::npos);
  CHECK(paper.find("live", paper.find("live") + 4) == std::string::npos);
}

}  // namespace
}  // namespace kp
