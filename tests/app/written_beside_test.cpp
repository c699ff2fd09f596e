// What the session records with what a person confirms: the tester that a reading names, the cautions
// that stood on the card of an act with hands in, the papers that were made.

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "app/papers.hpp"
#include "app/proved.hpp"
#include "app/tester.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"
#include "job/again.hpp"
#include "job/audit.hpp"
#include "job/bind_bill.hpp"
#include "journal/mark.hpp"
#include "journal/reader.hpp"

namespace {

using namespace kp;
using app::Verb;
using memory::MemoryMedium;
using memory::MemoryStore;
using test::has;
using test::Robot;
using test::Window;

/// The whole job, as the card asks for it, to the papers.
void work_to_the_end(Window& window) {
  window.act(Verb::new_job);
  Robot robot(*window.session);
  test::ready(robot);
  // A test that takes its time is waited for: the longest takes ten minutes.
  int idle = 0;
  for (int step = 0; step < 600 && idle < 40 && window.seen().card.id != "hand-over"; ++step) {
    window.clock.pass(20'000);
    idle = robot.step() ? 0 : idle + 1;
    window.settle();
  }
  CHECK(window.seen().card.id == "hand-over");
}

struct Job {
  std::shared_ptr<MemoryMedium> medium = std::make_shared<MemoryMedium>();
  MemoryStore field{medium};
  Window window{field};
};

std::vector<journal::Entry> entries_of(const Window& window) {
  return journal::read_lines(window.session->lines()).entries;
}
long count_of(const Window& window, const char* kind) {
  const auto entries = entries_of(window);
  return std::count_if(entries.begin(), entries.end(),
                       [&](const journal::Entry& one) { return one.kind == kind; });
}

/// Works on until a reading is on record.
void read_once(Window& window) {
  Robot robot(*window.session);
  test::ready(robot);
  const auto readings = count_of(window, safety::ReadingTaken::kKind);
  for (int step = 0; step < 200 && count_of(window, safety::ReadingTaken::kKind) == readings; ++step) {
    window.clock.pass(5'000);
    REQUIRE(robot.step());
    window.settle();
  }
}

bill::ServiceRecord record_of(const Window& window) {
  const job::Settings settings;
  return job::bind_record(window.session->state(),
                          job::Context{&window.session->content().library, &settings},
                          bill::RateCard{}, "tip", window.clock.now.wall);
}
bool remarks(const bill::ServiceRecord& record, const std::string& words) {
  return std::any_of(record.remarks.begin(), record.remarks.end(),
                     [&](const std::string& one) { return has(one, words); });
}

}  // namespace

TEST_CASE("the tester is named in its parts before its first reading, once a job") {
  Job job;
  Window& window = job.window;
  test::work_until_green(window);
  REQUIRE(test::all_green(window));
  REQUIRE(window.session->state().testers.size() == 1);
  const job::TesterNamed& tester = window.session->state().testers.front().body;
  CHECK(tester.make == "A1");
  CHECK(tester.number == "A1");
  CHECK(tester.calibrated == "2026-03-02");
  CHECK(count_of(window, safety::ReadingTaken::kKind) > 3);
  // It stands right before the first reading that it was read with.
  const auto entries = entries_of(window);
  const auto named = std::find_if(entries.begin(), entries.end(), [](const journal::Entry& one) {
    return one.kind == job::TesterNamed::kKind;
  });
  REQUIRE(named != entries.end());
  CHECK((named + 1)->kind == safety::ReadingTaken::kKind);
  CHECK((named + 1)->payload.find("tester")->text == app::tester_text(tester));
  CHECK(remarks(record_of(window), "Tester: A1 A1, calibrated 2026-03-02."));

  // Another job on this device, in another run: it is known and named there as well.
  window.act(Verb::leave_job);
  Window next(job.field, 3);
  next.act(Verb::new_job);
  read_once(next);
  REQUIRE(next.session->state().testers.size() == 1);
  CHECK(next.session->state().testers.front().body.calibrated == "2026-03-02");
  // Changed beside a reading it is another tester, whose parts nobody typed.
  next.act(Verb::set_word, "tester", false, "Low-impedance detector 7");
  read_once(next);
  read_once(next);
  REQUIRE(next.session->state().testers.size() == 2);
  CHECK(next.session->state().testers.back().body.number == "Low-impedance detector 7");
  CHECK(next.session->state().testers.back().body.make.empty());
}

TEST_CASE("a tester's card takes a day of calibration or none, and says what is wrong with another") {
  Job job;
  Window& window = job.window;
  window.act(Verb::new_job);
  Robot robot(*window.session);
  test::ready(robot);
  for (int step = 0; step < 120 && window.seen().card.id != "tester"; ++step) {
    window.clock.pass(5'000);
    REQUIRE(robot.step());
    window.settle();
  }
  REQUIRE(window.seen().card.id == "tester");
  CHECK(window.seen().card.primary->detail == "make and number first");
  window.act(Verb::set_word, "tester-make", false, "Corvo");
  window.act(Verb::set_word, "tester-number", false, "TP-2");
  CHECK(window.seen().card.primary->enabled);
  window.act(Verb::set_word, "tester-date", false, "last spring");
  CHECK_FALSE(window.seen().card.primary->enabled);
  CHECK(window.seen().card.primary->detail == "Enter the day of calibration as year, month and day.");
  window.act(Verb::set_word, "tester-date", false, "2026-03-02");
  CHECK(window.seen().card.primary->enabled);
  CHECK(window.seen().card.primary->action.text == "Corvo TP-2, calibrated 2026-03-02");
}

TEST_CASE("a caution on the card of an act with hands in is recorded with it, once a kind of act") {
  Job job;
  Window& window = job.window;
  work_to_the_end(window);
  const auto& cautions = window.session->state().cautions;
  REQUIRE_FALSE(cautions.empty());
  std::set<std::string> told;
  for (const auto& one : cautions) {
    CHECK(one.body.word >= safety::SignalWord::warning);
    CHECK(safety::hands_in(one.body.act));
    CHECK_FALSE(one.body.what.empty());
    CHECK_FALSE(one.body.contacts.empty());
    for (const std::string& contact : one.body.contacts) {
      const std::string key = cat(safety::words(one.body.word), " ", safety::words(one.body.act), " ",
                                  contact);
      CAPTURE(key);
      CHECK(told.insert(key).second);
    }
  }
  CHECK(remarks(record_of(window), "Cautions shown: "));
  // Behind each stands the act that it was shown for, or another caution of the same card.
  const auto entries = entries_of(window);
  for (std::size_t i = 0; i + 1 < entries.size(); ++i) {
    if (entries[i].kind == job::CautionShown::kKind) {
      const std::string& next = entries[i + 1].kind;
      CAPTURE(next);
      CHECK((next == job::CautionShown::kKind || next == job::StepDone::kKind ||
             next == job::PartSwapped::kKind || next == job::TestRecorded::kKind ||
             next == job::ProveRecorded::kKind));
    }
  }
  // All of it would be recorded again by the rules that it names.
  const job::Again again =
      job::decide_again(journal::read_lines(window.session->lines()),
                        window.session->content().library, job::Settings{});
  CHECK(again.decided);
  CHECK(again.not_believable.empty());
}

TEST_CASE("a paper that left is recorded with its sum and its mark, the same paper once") {
  Job job;
  Window& window = job.window;
  work_to_the_end(window);
  CHECK(window.session->state().papers.empty());
  window.act(Verb::hand_over, "all");
  REQUIRE(window.papers.all.size() == 2);   // invoice and record
  const auto papers = window.session->state().papers;
  REQUIRE(papers.size() == 2);
  CHECK(papers[0].body.paper == "invoice");
  CHECK(papers[0].body.number == window.session->state().invoice.body.number);
  CHECK(papers[1].body.paper == "record");
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(papers[i].body.sha256 == sha256_hex(window.papers.all[i].bytes));
  }
  const journal::Loaded loaded = journal::read_lines(window.session->lines());
  const auto mark = journal::parse_mark(papers[0].body.mark);
  REQUIRE(mark.has_value());
  CHECK(mark->record == window.session->state().invoice.stamp.n);
  CHECK(job::audit(loaded).findings.all().empty());   // each mark stands at its record
  CHECK(window.session->state().handed_over.size() == 2);
  CHECK(remarks(record_of(window), "Paper, "));
  CHECK(remarks(record_of(window), "invoice " + papers[0].body.number));

  // The invoice is printed from its own record alone: once more it is the same paper.
  window.act(Verb::hand_over, "invoice.pdf");
  CHECK(window.papers.all.back().bytes == window.papers.all.front().bytes);
  CHECK(window.session->state().papers.size() == 2);
  CHECK(window.session->state().handed_over.size() == 3);
  window.act(Verb::hand_over, "invoice.html");
  CHECK(window.session->state().papers.size() == 3);
}

TEST_CASE("a paper that could not be written is no paper that was issued") {
  Job job;
  Window& window = job.window;
  work_to_the_end(window);
  window.papers.ask = true;
  window.act(Verb::hand_over, "record.pdf");
  window.papers.handed = {{1, port::Handing::failed, "The folder is full."}};
  window.settle();
  CHECK(window.session->state().papers.empty());
  CHECK(window.session->state().handed_over.empty());
}
