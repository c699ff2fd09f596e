// What is issued stays as it was issued; what left is written when it left; what a person types.

#include <doctest/doctest.h>

#include <memory>

#include "app/papers.hpp"
#include "app/session.hpp"
#include "app/sheet_time.hpp"
#include "app/shipped.hpp"
#include "base/text.hpp"
#include "bill/documents.hpp"
#include "job/work.hpp"
#include "journal/mark.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

namespace kp {
namespace {

using app::Verb;
using job::Outcome;
using test::Work;

constexpr const char* kJob = "20261025-0001";

/// A visit that ends waiting for parts, with 47 minutes of the technician's.
Work ended(std::int64_t agreed_top = 40'000) {
  Work work;
  work.arrive();
  REQUIRE(work.tell(test::quoted(1'000, agreed_top)).accepted());
  REQUIRE(work.open_gate());
  work.pass(47 * test::kMinuteMs);
  REQUIRE(work.wind_up(Outcome::waiting_for_parts));
  REQUIRE(work.tell(job::JobEnded{Outcome::waiting_for_parts, "Fuse ordered."}).accepted());
  return work;
}

/// The desk over a job's state, with the shop's card changed at will.
struct Office {
  explicit Office(const Work& work) : work_(&work), content(test::shipped_content()) {}

  [[nodiscard]] app::Desk desk() const {
    app::Desk out;
    out.state = &work_->state;
    out.content = &content;
    out.settings = &work_->settings;
    out.local = &local;
    out.now = work_->now();
    return out;
  }
  [[nodiscard]] std::string printed(app::Paper paper, bool html) const {
    const auto document = app::document_of(desk(), paper, work_->lines, html);
    REQUIRE(document.has_value());
    return document.value().bytes;
  }

  const Work* work_;
  app::Content content;
  app::Local local;
};

job::InvoiceIssued issue(const Office& office) {
  Findings findings;
  const bill::StoredInvoice paper = app::invoice_as_it_stands(office.desk(), findings);
  CHECK(findings.faults() == 0);
  return {paper.invoice.number, paper.invoice.totals.gross_minor, "USD", bill::write_paper(paper)};
}

/// A window on a job that was worked before.
struct Window {
  explicit Window(const Work& work) {
    for (std::size_t i = 0; i < work.lines.size(); ++i) {
      (void)field.append(kJob, static_cast<std::uint32_t>(i) + 1, work.lines[i]);
    }
    clock.now.wall = work.wall;
    session = std::make_unique<app::Session>(
        test::shipped_content(), app::Outside{&field, &practice, &clock, &identity, &papers});
    session->start();
    settle();
    act(Verb::open_job, kJob);
  }
  void settle() const {
    while (session->poll()) {
    }
  }
  void act(app::Action action) const {
    action.revision = session->snapshot().revision;
    session->act(action);
    settle();
  }
  void act(Verb verb, std::string id = {}, std::string text = {}) const {
    app::Action action;
    action.verb = verb;
    action.id = std::move(id);
    action.text = std::move(text);
    act(action);
  }
  [[nodiscard]] const app::Snapshot& seen() const { return session->snapshot(); }
  [[nodiscard]] std::string refused() const { return join(seen().card.refusal, " "); }
  void sign() const {
    app::Action action;
    action.verb = Verb::sign;
    action.strokes = {0.1, 0.5, 0.4, 0.2, 0.8, 0.6, -1, -1};
    act(action);
  }
  [[nodiscard]] const app::Button* sheet_button(const std::string& label) const {
    if (seen().sheet) {
      for (const app::Button& button : seen().sheet->buttons) {
        if (button.label == label) {
          return &button;
        }
      }
    }
    return nullptr;
  }

  memory::MemoryStore field{std::make_shared<memory::MemoryMedium>()};
  memory::MemoryStore practice;
  test::FakeClock clock;
  test::CountedIdentity identity;
  test::KeptPapers papers;
  std::unique_ptr<app::Session> session;
};

TEST_CASE("an issued invoice prints the same bytes whatever the shop's card says later") {
  Work work = ended();
  Office office(work);
  const std::string draft = office.printed(app::Paper::invoice, true);
  REQUIRE(work.tell(issue(office)).accepted());
  const std::string page = office.printed(app::Paper::invoice, true);
  const std::string pdf = office.printed(app::Paper::invoice, false);
  const std::string quote = office.printed(app::Paper::quote, false);
  const std::int64_t total = work.state.invoice.body.total_minor;
  office.content.rates.labour_per_hour_minor += 2'000;
  office.content.rates.call_out_minor += 1'000;
  office.content.rates.taxes.clear();
  office.content.rates.shop.name = "Another Name";
  office.content.rates.terms.text = "Pay at once.";
  office.content.rates.page = bill::PageSize::a4;
  work.pass(test::kHourMs);
  CHECK(office.printed(app::Paper::invoice, true) == page);
  CHECK(office.printed(app::Paper::invoice, false) == pdf);
  CHECK(office.printed(app::Paper::quote, false) == quote);
  CHECK(app::issued_invoice(office.desk())->invoice.totals.gross_minor == total);
  // The change matters: a draft by the new card is another sum.
  Findings findings;
  CHECK(app::invoice_as_it_stands(office.desk(), findings).invoice.totals.gross_minor > total);
  CHECK(draft.find("Draft") == std::string::npos);
  CHECK(page.find("1970") == std::string::npos);
  CHECK(page.find(date_text(work.state.agreed->stamp.at)) != std::string::npos);
}

TEST_CASE("the mark on the invoice is number and sum of the record that issued it") {
  Work work = ended();
  Office office(work);
  REQUIRE(work.tell(issue(office)).accepted());
  const std::uint32_t record = work.state.invoice.stamp.n;
  const std::string mark = journal::mark_text(record, work.lines[record - 1]);
  CHECK(office.printed(app::Paper::invoice, true).find(mark) != std::string::npos);
  const std::string service = office.printed(app::Paper::record, true);
  CHECK(service.find(journal::mark_text(record, work.lines.back())) != std::string::npos);
  // Papers that are handed over change neither.
  REQUIRE(work.tell(job::HandedOver{"invoice.pdf", "00", true}).accepted());
  CHECK(office.printed(app::Paper::invoice, true).find(mark) != std::string::npos);
  const journal::Loaded loaded = journal::read(journal::to_file(work.lines));
  CHECK(journal::look_up(loaded, journal::parse_mark(mark).value()).has("mark-stands"));
}

TEST_CASE("an invoice of format 1 prints its number and sum, with the lines not recorded") {
  Work work = ended();
  work.write(job::InvoiceIssued{"20261025-0001", 13'794, "USD", {}});
  Office office(work);
  const std::string page = office.printed(app::Paper::invoice, true);
  CHECK(page.find("137.94 USD") != std::string::npos);
  CHECK(page.find("Lines: not recorded") != std::string::npos);
  office.content.rates.labour_per_hour_minor *= 2;
  CHECK(office.printed(app::Paper::invoice, true) == page);
  const Window window(work);
  CHECK(window.seen().bill->total == "137.94 USD");
}

TEST_CASE("the session issues the invoice with its lines, and shows it as issued") {
  const Work work = ended();
  Window window(work);
  window.sign();
  CHECK(window.seen().card.id == "hand-over");
  window.act(Verb::hand_over, "all");
  const job::InvoiceIssued& issued = window.session->state().invoice.body;
  CHECK(issued.number == "20261025-0001-1");
  CHECK(issued.paper.kind == data::Kind::object);
  CHECK(window.papers.all.size() == 3);  // invoice, record, tag
  CHECK(window.session->state().handed_over.size() == 3);
  CHECK(window.session->state().handed_over.front().body.completed);
  CHECK(window.seen().bill->total ==
        minor_text(issued.total_minor, Currency{"USD", 2}) + " USD");
}

TEST_CASE("handed over is written when it is so, and offered where nobody can know") {
  Window window(ended());
  window.papers.ask = true;
  window.sign();
  window.act(Verb::hand_over, "all");
  CHECK(window.papers.all.size() == 3);
  CHECK(window.session->state().handed_over.empty());
  window.papers.handed = {{2, port::Handing::let_out, ""},
                          {3, port::Handing::failed, ""},
                          {1, port::Handing::completed, ""},
                          {9, port::Handing::completed, ""}};
  window.settle();
  const auto& handed = window.session->state().handed_over;
  REQUIRE(handed.size() == 2);
  CHECK_FALSE(handed[0].body.completed);
  CHECK(handed[0].body.document == window.papers.all[1].name);
  CHECK(handed[1].body.completed);
  CHECK(handed[1].body.document == window.papers.all[0].name);
  const std::string facts = join(window.seen().card.facts, "\n");
  CHECK(facts.find(window.papers.all[1].name + ": offered ") != std::string::npos);
  CHECK(facts.find(window.papers.all[0].name + ": handed over ") != std::string::npos);
  // A file that could not be written is no fact, and the reason is told.
  window.act(Verb::hand_over, "record.pdf");
  window.papers.handed = {{4, port::Handing::failed, "The folder is full."}};
  window.settle();
  CHECK(window.session->state().handed_over.size() == 2);
  CHECK(window.refused() == "The folder is full.");
}

TEST_CASE("a sum above the agreed one is asked for before it is signed or billed") {
  Window window(ended(10'000));
  REQUIRE(window.seen().card.id == "agree-more");
  CHECK(window.seen().card.sentence.rfind("Ask the customer to agree to ", 0) == 0);
  CHECK(window.seen().card.how == "Agreed was at most 100.00 USD.");
  window.act(Verb::hand_over, "invoice.pdf");
  CHECK(window.refused() == "Ask the customer to agree to the higher sum first.");
  CHECK(window.session->state().invoice.body.number.empty());
  window.act(window.seen().card.ways_out.front().action);  // not agreed
  CHECK(window.seen().card.id == "agree-more");
  CHECK_FALSE(window.seen().card.facts.empty());
  window.act(window.seen().card.primary->action);
  CHECK(window.seen().card.id == "sign");
  window.sign();
  window.act(Verb::hand_over, "invoice.pdf");
  CHECK(window.session->state().invoice.body.total_minor ==
        window.session->state().agreed->body.high_minor);
}

TEST_CASE("minutes are typed: one press takes a night off") {
  CHECK(app::minutes_of("90") == 90);
  CHECK(app::minutes_of(" -90 ") == -90);
  CHECK(app::minutes_of("+15") == 15);
  CHECK(app::minutes_of("-11:30") == -690);
  CHECK(app::minutes_of("24:00") == 1'440);
  for (const char* text : {"", "-", "1.5", "1:60", "24:01", "1441", "x", "--5", "1:-5", "9999999999999999999"}) {
    CAPTURE(text);
    CHECK_FALSE(app::minutes_of(text).has_value());
  }
  Window window(ended());
  window.act(Verb::show_sheet, "time");
  REQUIRE(window.sheet_button("Labour") != nullptr);
  CHECK_FALSE(window.sheet_button("Labour")->enabled);
  window.act(Verb::set_word, "minutes", "abc");
  CHECK_FALSE(window.sheet_button("Labour")->enabled);
  window.act(Verb::set_word, "minutes", "-25");
  CHECK_FALSE(window.sheet_button("Labour -25 min")->enabled);  // without a reason
  window.act(Verb::set_word, "reason", "Lunch");
  REQUIRE(window.sheet_button("Labour -25 min") != nullptr);
  REQUIRE(window.sheet_button("Labour -25 min")->enabled);
  window.act(window.sheet_button("Labour -25 min")->action);
  const auto& corrections = window.session->state().clock.corrections;
  REQUIRE(corrections.size() == 1);
  CHECK(corrections.front().delta_ms == -25 * test::kMinuteMs);
  CHECK(corrections.front().reason == "Lunch");
  // Signed is closed, and the screen no longer offers it.
  window.sign();
  CHECK(window.seen().card.ways_out.front().label == "Another visit");
}

TEST_CASE("a gap is settled by typing, and a refusal stands in the sheet") {
  Work work;
  work.arrive();
  work.wall.utc_ms += 11 * test::kHourMs;
  Window window(work);  // another life: the program was closed
  REQUIRE(window.session->state().clock.open_questions.size() == 1);
  window.act(Verb::show_sheet, "gap");
  CHECK(window.seen().sheet->paragraphs.front().rfind("The program was closed or dark for 11:0", 0) == 0);
  window.act(Verb::set_word, "minutes", "23:00");
  REQUIRE(window.sheet_button("Count 23 h 00") != nullptr);
  window.act(window.sheet_button("Count 23 h 00")->action);
  CHECK(window.seen().sheet->paragraphs.front().rfind("Count at most the gap: 11:0", 0) == 0);
  window.act(Verb::set_word, "minutes", "20");
  window.act(window.sheet_button("Count 20 min")->action);
  CHECK(window.session->state().clock.open_questions.empty());
  CHECK_FALSE(window.seen().sheet.has_value());
}

TEST_CASE("typed words: turned direction is taken out, what is too long is refused in words") {
  Work work;
  work.arrive();
  Window window(work);
  window.act(Verb::add_note, "", "abc\xE2\x80\xAE" "fed\xE2\x81\xA6\xE2\x81\xA9 \xE2\x80\x8F");
  REQUIRE(window.session->state().notes.size() == 1);
  CHECK(window.session->state().notes.front().body.text == "abcfed \xE2\x80\x8F");
  // 400 letters of three bytes each are taken whole, one more is refused and nothing is written.
  std::string letters;
  for (int i = 0; i < 400; ++i) {
    letters += "\xE6\x97\xA5";
  }
  window.act(Verb::add_note, "", letters);
  REQUIRE(window.session->state().notes.size() == 2);
  CHECK(window.session->state().notes.back().body.text == letters);
  window.act(Verb::add_note, "", letters + "x");
  CHECK(window.session->state().notes.size() == 2);
  CHECK(window.refused() == "Write at most 400 letters. This has 401.");
  window.act(Verb::show_sheet, "end");
  window.act(Verb::set_word, "note", std::string(10'000, 'n'));
  CHECK(window.seen().sheet->paragraphs.front() == "Write at most 400 letters. This has 10000.");
  CHECK(window.seen().sheet->texts.front().value.empty());
}

}  // namespace
}  // namespace kp
