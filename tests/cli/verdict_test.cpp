#include <doctest/doctest.h>

#include <set>
#include <string>
#include <vector>

#include "cli/journals.hpp"
#include "job/forge.hpp"

// The five answers to a journal, end to end: each made of the journal of a whole job.

namespace kp {
namespace {

using test::has;
using test::kWholeLine;
using test::last_line;
using test::Ran;
using test::repaired;
using test::verified;
using test::Work;

/// The same file as a mail program may leave it.
std::string carried(const std::vector<std::string>& lines) {
  std::string out = "\xEF\xBB\xBF";
  for (const std::string& line : lines) {
    out += line + "\r\n";
  }
  return out;
}

TEST_CASE("journal verify: five journals of one whole job, five answers, five exit codes") {
  const Work work = repaired();
  const std::string records = integer_text(to_int(work.lines.size()));
  // The nut undone before anything was read: the readings are gone, the chain is right.
  const auto unread = test::forged(work.lines, [](journal::Entry& entry) {
    return entry.kind != safety::ReadingTaken::kKind;
  });
  // A record of a kind that a later program writes, in the middle.
  std::uint32_t strange = 0;
  const auto newer = test::forged(work.lines, [&](journal::Entry& entry) {
    if (entry.kind == job::CustomerNoted::kKind) {
      entry.kind = "thermal-picture";
      strange = entry.seq;
    }
    return true;
  });
  std::vector<std::string> altered = work.lines;
  const std::size_t at = altered[6].find("\"by\":\"p1\"");
  REQUIRE(at != std::string::npos);
  altered[6].replace(at, 9, "\"by\":\"p2\"");
  const std::string whole = journal::to_file(work.lines);
  const std::string cut_text = whole.substr(0, whole.find(work.lines.back().substr(0, 60)) + 60);
  struct Row {
    const char* what;
    std::string text;
    int code;
    std::string answer;
  };
  const Row rows[] = {
      {"whole", whole, 0, "The journal is whole: form, chain and arithmetic hold."},
      {"cut", cut_text, 4, cat("The journal is cut after record ", to_int(work.lines.size()) - 1, ". Look for a longer copy.")},
      {"altered", journal::to_file(altered), 5,
       "The journal was altered. Do not believe it from record 7 on. Keep a copy of the file. Look for an unchanged one."},
      {"forged", journal::to_file(unread), 6, "its own rules refuse it. Keep a copy of the file. Ask who wrote it."},
      {"newer", journal::to_file(newer), 7,
       cat("Record ", integer_text(strange), " is newer than this program. Only form, chain and arithmetic were checked. "
           "Open it with the newer program.")},
  };
  const std::string mark = cat(records, "-", work.tip.substr(0, 8));
  std::set<int> codes;
  for (const Row& row : rows) {
    CAPTURE(row.what);
    // The mark that the papers print stands in the whole one alone.
    const Ran ran = verified(row.text, mark);
    CAPTURE(ran.output.out);
    CHECK(has(ran.output.out, row.code == 0 ? cat("stands at record ", records, ", invoice-issued")
                                            : cat("the mark ", mark, " stands nowhere in this journal")));
    CHECK(ran.code == row.code);
    CHECK(has(ran.output.out, row.answer));
    CHECK(ran.output.err.empty());
    codes.insert(ran.code);
    // Answers and codes do not hang on line ends or a byte-order mark.
    if (row.code == 0 || row.code == 4) continue;   // the whole one: see journal_test
    std::vector<std::string> lines = split(row.text, '\n');
    lines.pop_back();
    const Ran mailed = verified(carried(lines));
    CHECK(mailed.code == row.code);
    CHECK(has(mailed.output.out, row.answer));
    CHECK(has(mailed.output.out, "lines end with CR LF, which were read as LF"));
    CHECK(has(mailed.output.out, "the file begins with a byte-order mark, which was passed over"));
  }
  CHECK(codes.size() == 5);
}

TEST_CASE("journal verify: a forgery says from which record on, and why") {
  const Work work = repaired();
  std::uint32_t at = 0;
  const auto forged = test::forged(work.lines, [&](journal::Entry& entry) {
    (void)test::change_body<safety::ReadingTaken>(entry, [&](safety::ReadingTaken& reading) {
      if (at == 0 && reading.role == safety::Role::pair) {
        at = entry.seq;
        reading.shown = {false, 118};
      }
    });
    return true;
  });
  REQUIRE(at > 0);
  const Ran ran = verified(journal::to_file(forged));
  CHECK(ran.code == 6);
  // This forger wrote the chain alone: what is personal is gone with the parts beside it.
  CHECK(ran.output.out ==
        cat("job.jsonl: note: 5 personal parts are erased\njob.jsonl: fault: line ", integer_text(at), ": \"reading\" would have been refused by the rules that "
            "the journal names. What it says does not follow from what it holds.\n"
            "job.jsonl: The journal is not believable from record ", integer_text(at),
            " on: its own rules refuse it. Keep a copy of the file. Ask who wrote it.\n",
            last_line(forged.size(), journal::line_hash(forged.back()))));
}

TEST_CASE("journal verify: what only today's policy asks for is told, and is no forgery") {
  // A shop that believed its proofs for eight hours; this program's own limit is four.
  Work work;
  work.settings.safety.proof_seconds = 8 * 3600;
  work.arrive();
  REQUIRE(work.open_gate());
  work.pass(5 * test::kHourMs);
  REQUIRE(work.tell(job::StepDone{job::Deed::release, "timer-knob-pull", {}, {}}).accepted());
  const Ran ran = verified(journal::to_file(work.lines));
  CHECK(ran.code == 0);
  CHECK(has(ran.output.out, cat("job.jsonl: note: line ", to_int(work.lines.size()),
                                ": today also asks for more before \"step-done\". Prove the supply dead before hands go in.")));
  CHECK(has(ran.output.out, kWholeLine));
}

TEST_CASE("journal verify: rows of a newer program are newer, not a forgery: 7") {
  const Work work = repaired();
  const auto lines = test::forged(work.lines, [](journal::Entry& entry) {
    (void)test::change_body<job::StandsOn>(entry, [](job::StandsOn& fact) {
      fact.rows.push_back("9001 moon-is-full hands-in");
    });
    return true;
  });
  const Ran ran = verified(journal::to_file(lines));
  CHECK(ran.code == 7);
  CHECK(has(ran.output.out, "line 2, /rows: it was decided by rules that this program does not know. Open this journal "
                            "with the version of the program that wrote it."));
  CHECK(has(ran.output.out, "job.jsonl: note: only form, chain and arithmetic were checked: It was decided by rules this "
                            "program does not know."));
  CHECK(has(ran.output.out, "Record 2 is newer than this program."));
}

}  // namespace
}  // namespace kp
