// Quote, time, signature and invoice: what is agreed, what is closed, what adds up.

#include <doctest/doctest.h>

#include "job/audit.hpp"
#include "job/bind_bill.hpp"
#include "job/paper.hpp"
#include "job/unit_found.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

using job::JobEnded;
using job::Outcome;
using test::says;
using test::Work;

/// A visit that ends waiting for parts: the shortest way to a bill.
Work ended() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(JobEnded{Outcome::waiting_for_parts, "Fuse ordered."}).accepted());
  return work;
}

void another_visit(Work& work) {
  work.pass(30 * test::kHourMs);
  REQUIRE(work.tell(job::VisitBegun{}).accepted());
  REQUIRE(work.tell(job::as_it_was_left(work.state)).accepted());
  REQUIRE(work.open_gate());
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(JobEnded{Outcome::waiting_for_parts, "Still ordered."}).accepted());
}

const job::Signed kSigned{"N. Osei", {0.1, 0.2, 0.3, 0.4}};

TEST_CASE("an invoice carries its own paper, and the paper says the same") {
  Work work = ended();
  CHECK(says(work.ask(job::InvoiceIssued{"1-1", 9'000, "USD", {}}), "no-paper"));
  job::InvoiceIssued wrong = test::issued("1-1", 9'000);
  wrong.total_minor = 9'001;
  CHECK(says(work.ask(wrong), "bad-paper"));
  wrong = test::issued("1-1", 9'000);
  wrong.number = "1-2";
  CHECK(says(work.ask(wrong), "bad-paper"));
  wrong = test::issued("1-1", 9'000);
  wrong.currency = "EUR";
  CHECK(says(work.ask(wrong), "bad-paper"));
  bill::StoredInvoice sum = test::paper_of("1-1", 9'000);
  sum.invoice.totals.tax_minor += 1;
  CHECK(says(work.ask(job::InvoiceIssued{"1-1", 9'000, "USD", bill::write_paper(sum)}),
             "bad-paper"));
  REQUIRE(work.tell(test::issued("1-1", 9'000)).accepted());
  Findings findings;
  CHECK(bill::read_invoice(work.state.invoice.body.paper, findings)->invoice.number == "1-1");
}

TEST_CASE("a quote carries its own paper, and what was agreed last holds") {
  Work work;
  work.arrive();
  CHECK(says(work.ask(job::QuoteGiven{1, 2, "USD", true, {}}), "no-paper"));
  job::QuoteGiven wrong = test::quoted(1'000, 2'000);
  wrong.high_minor = 2'001;
  CHECK(says(work.ask(wrong), "bad-paper"));
  REQUIRE(work.state.agreed.has_value());
  const Moment agreed = work.state.agreed->stamp.at;
  REQUIRE(work.tell(test::quoted(1'000, 2'000, false)).accepted());
  CHECK(work.state.quote.high_minor == 2'000);
  CHECK(work.state.agreed->body.high_minor == 14'000);  // a refused quote takes nothing back
  const bill::WorkRecord bound = job::bind_work(work.state, work.context());
  REQUIRE(bound.quote.has_value());
  CHECK(bound.quote->at.get() == agreed);
  CHECK(bound.quote->at.get().utc_ms > 1'793'000'000'000);
}

TEST_CASE("the agreed top is watched over all visits, and a new agreement begins anew") {
  Work work = ended();  // agreed: at most 140.00
  CHECK(says(work.ask(test::issued("1-1", 14'001)), "above-agreed"));
  REQUIRE(work.tell(test::issued("1-1", 10'000)).accepted());
  another_visit(work);
  CHECK(job::billed_under_agreement(work.state) == 10'000);
  CHECK(job::is_within_agreement(work.state, 4'000));
  CHECK_FALSE(job::is_within_agreement(work.state, 4'001));
  CHECK(says(work.ask(test::issued("1-2", 4'001)), "above-agreed"));
  // The bill knows what was billed before.
  const bill::WorkRecord bound = job::bind_work(work.state, work.context());
  CHECK(bound.quote->billed_minor == 10'000);
  bill::Invoice over = test::paper_of("1-2", 4'001).invoice;
  over.quote = bound.quote;
  CHECK(bill::above_quote(over));
  REQUIRE(work.tell(test::quoted(6'000, 6'000)).accepted());
  CHECK(job::billed_under_agreement(work.state) == 0);
  CHECK(says(work.ask(test::issued("1-2", 6'001)), "above-agreed"));
  CHECK(work.tell(test::issued("1-2", 6'000)).accepted());
  CHECK(says(work.ask(test::quoted(1, 2)), "issued"));
}

TEST_CASE("each visit's invoice has a number of its own") {
  Work work = ended();
  const std::string first = job::invoice_number(work.state);
  REQUIRE(work.tell(test::issued(first, 5'000)).accepted());
  another_visit(work);
  CHECK(says(work.ask(test::issued(first, 5'000)), "number-taken"));
  const std::string second = job::invoice_number(work.state);
  CHECK(first == "20261025-0001-1");
  CHECK(second == "20261025-0001-2");
  CHECK(work.tell(test::issued(second, 5'000)).accepted());
  CHECK(work.state.invoices.size() == 2);
}

TEST_CASE("signed is closed: time, gaps and a second signature are refused") {
  Work work = ended();
  const job::TimeCorrected less{job::Phase::labour, -60'000, "slip"};
  CHECK(work.ask(less).accepted());
  REQUIRE(work.tell(kSigned).accepted());
  CHECK(says(work.ask(less), "signed"));
  CHECK(says(work.ask(kSigned), "signed"));
  CHECK(work.tell(test::issued("1-1", 9'000)).accepted());
  CHECK(says(work.ask(less), "issued"));
  // Another visit is open again.
  another_visit(work);
  CHECK(work.ask(less).accepted());
  CHECK(work.ask(kSigned).accepted());
}

TEST_CASE("a gap over the shop's limit is asked for before anything is signed or billed") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  const std::int64_t before = job::total_ms(work.state.clock);
  work.wall.utc_ms += 11 * test::kHourMs + 30 * test::kMinuteMs;
  work.life = "00000000000000b2";
  work.mono_ms = 50;
  REQUIRE(work.tell(job::Resumed{41'400}).accepted());
  CHECK(job::total_ms(work.state.clock) == before);
  REQUIRE(work.state.clock.open_questions.size() == 1);
  const std::uint32_t gap = work.state.clock.open_questions.front().before;
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(JobEnded{Outcome::waiting_for_parts, "Fuse."}).accepted());
  CHECK(says(work.ask(kSigned), "open-gap"));
  CHECK(says(work.ask(test::issued("1-1", 9'000)), "open-gap"));
  CHECK(says(work.ask(job::GapSettled{gap, 12 * test::kHourMs, "answered"}), "longer-than-gap"));
  CHECK(says(work.ask(job::GapSettled{gap, -1, "answered"}), "out-of-range"));
  const std::int64_t counted = job::total_ms(work.state.clock);
  REQUIRE(work.tell(job::GapSettled{gap, 20 * test::kMinuteMs, "answered"}).accepted());
  CHECK(job::total_ms(work.state.clock) == counted + 20 * test::kMinuteMs);
  CHECK(work.ask(kSigned).accepted());
}

TEST_CASE("audit: an invoice whose sums were changed makes the journal altered, with its record") {
  Work work = ended();
  bill::StoredInvoice paper = test::paper_of("1-1", 9'000);
  paper.invoice.lines[0].net_minor = 8'000;  // the total stays
  const std::uint32_t record = work.state.last_n + 1;
  work.write(job::InvoiceIssued{"1-1", 9'000, "USD", bill::write_paper(paper)});
  const job::Audit audit = job::audit(journal::read_lines(work.lines));
  CHECK(audit.further.altered == record);
  CHECK_FALSE(audit.further.newer.has_value());
  const std::string rest = " is 90.00, its parts make 80.00. Settle the invoice again from its lines.";
  const std::string place = cat("line ", integer_text(record), ", /paper: ");
  REQUIRE(audit.findings.all().size() == 2);
  CHECK(audit.findings.all()[0].text() == cat(place, "the base of a tax", rest));
  CHECK(audit.findings.all()[1].text() == cat(place, "the sum of the lines", rest));
  CHECK(job::audit(journal::read_lines(ended().lines)).findings.all().empty());
}

TEST_CASE("audit: what this program does not know is newer, what is no record of its kind altered") {
  Work work;
  work.arrive();
  const auto with = [&work](const char* kind, const char* name, data::Value value) {
    journal::Entry entry = work.entry(job::NoteAdded{"x"});
    entry.parts.clear();
    entry.kind = kind;
    entry.payload = data::Value::object();
    entry.payload.set(name, std::move(value));
    std::vector<std::string> lines = work.lines;
    lines.push_back(journal::write_line(entry));
    return job::audit(journal::read_lines(lines)).further;
  };
  const std::uint32_t last = work.state.last_n + 1;
  CHECK(with("moon-landed", "x", data::Value::of(1)).newer == last);
  CHECK(with("note-added", "colour", data::Value::of("red")).newer == last);
  CHECK(with("stage-entered", "stage", data::Value::of("paint")).newer == last);
  CHECK(with("note-added", "text", data::Value::of(1)).altered == last);
  CHECK_FALSE(with("note-added", "text", data::Value::of(1)).newer.has_value());
  data::Value paper = test::issued("1-1", 9'000).paper;
  paper.set("format", data::Value::of(bill::kStoredFormat + 1));
  CHECK(with("invoice-issued", "paper", paper).newer == last);
  // Format 1 kept no papers: that is said, and nothing is wrong with it.
  CHECK_FALSE(with("invoice-issued", "number", data::Value::of("1")).altered.has_value());
}

}  // namespace
}  // namespace kp
