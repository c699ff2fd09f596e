#include <doctest/doctest.h>

#include "cli/journals.hpp"

// journal verify and bill, on journals that a technician's work wrote.

namespace kp {
namespace {

using test::FakeFiles;
using test::kWholeLine;
using test::last_line;
using test::repaired;
using test::verified;
using test::has;
using test::Ran;
using test::run;
using test::Work;

std::string rates_text() {
  return test::file_bytes(std::string(KP_SOURCE_DIR) + "/assets/demo/rates.json");
}

/// The line with one word of it replaced; its sum no longer fits the next line.
std::string changed(const Work& work, std::size_t line, const std::string& from,
                    const std::string& to) {
  std::vector<std::string> lines = work.lines;
  const std::size_t at = lines[line].find(from);
  REQUIRE(at != std::string::npos);
  lines[line].replace(at, from.size(), to);
  return journal::to_file(lines);
}

TEST_CASE("journal verify: whole is 0, and line ends are only noted") {
  const Work work = repaired();
  const std::string text = journal::to_file(work.lines);
  Ran ran = verified(text);
  CHECK(ran.code == 0);
  CHECK(ran.output.out == kWholeLine + last_line(work.lines.size(), work.tip));
  CHECK(ran.output.err.empty());
  std::string carried = "\xEF\xBB\xBF";
  int lines = 0;
  for (const char c : text) {
    lines += c == '\n' ? 1 : 0;
    carried += c == '\n' ? "\r\n" : std::string(1, c);
  }
  ran = verified(carried);
  CHECK(ran.code == 0);
  CHECK(ran.output.out ==
        cat("job.jsonl: note: line 1: ", lines,
            " lines end with CR LF, which were read as LF\n"
            "job.jsonl: note: line 1: the file begins with a byte-order mark, which was passed over\n",
            kWholeLine, last_line(work.lines.size(), work.tip)));
}

TEST_CASE("journal verify: no journal is 3, and says which kind of none") {
  const std::string none = last_line(0, std::string(journal::kNoPrev));
  Ran ran = verified("");
  CHECK(ran.code == 3);
  CHECK(ran.output.out ==
        "job.jsonl: fault: the file is empty. Look for another copy of the journal.\n"
        "job.jsonl: The file is empty. Look for another copy of the journal.\n" + none);
  ran = verified("milk\neggs\n");
  CHECK(ran.code == 3);
  CHECK(ran.output.out ==
        "job.jsonl: fault: this is no journal of a job. Give the file that was exported from the "
        "job.\n"
        "job.jsonl: This is no journal of a job. Give the file that was exported from the job.\n" +
            none);
  ran = verified(rates_text());
  CHECK(ran.code == 3);
  FakeFiles files;
  ran = run({"journal", "verify", "none"}, files);
  CHECK(ran.code == 3);
  CHECK(ran.output.err == "none: The file cannot be read. Check the path.\n");
  CHECK(run({"journal"}, files).code == 2);
  CHECK(run({"journal", "verify"}, files).code == 2);
}

TEST_CASE("journal verify: cut is 4, and nothing that was confirmed is lost by it") {
  const Work work = repaired();
  const std::string whole = journal::to_file(work.lines);
  const std::size_t last = work.lines.size();
  const std::string before = journal::line_hash(work.lines[last - 2]);
  // Inside the last record: the parts beside the chain stand behind it and are gone with its end.
  const std::string cut = whole.substr(0, whole.find("{\"beside\"") - 20);
  const int gone = journal::erased_parts(journal::read(cut));
  Ran ran = verified(cut);
  CHECK(ran.code == 4);
  CHECK(ran.output.out ==
        cat("job.jsonl: note: ", gone, " personal parts are erased\n"
            "job.jsonl: warning: line ", to_int(last),
            ": the last line is unfinished and was cut off\n"
            "job.jsonl: The journal is cut after record ", to_int(last) - 1,
            ". Look for a longer copy.\n", last_line(last - 1, before)));
  // Inside a part.
  ran = verified(whole.substr(0, whole.size() - 20));
  CHECK(ran.code == 4);
  CHECK(has(ran.output.out, cat("The journal is cut after record ", to_int(last), ".")));
  // At the end of a line only a paper's mark can tell.
  std::vector<std::string> shorter = work.lines;
  shorter.pop_back();
  CHECK(verified(journal::to_file(shorter)).code == 0);
  CHECK(verified(journal::to_file(shorter), work.tip).code == 1);
}

TEST_CASE("journal verify: altered is 5, for form, chain and arithmetic") {
  const Work work = repaired();
  const std::string altered = "job.jsonl: The journal was altered. Do not believe it from record ";
  // A word changed in line 5: line 6 no longer carries its sum.
  Ran ran = verified(changed(work, 4, "wet-and-cold", "wet-and-warm"));
  CHECK(ran.code == 5);
  CHECK(ran.output.out ==
        cat("job.jsonl: fault: line 5: line 6 does not carry the sum of this line; one of the two was "
            "changed. Keep a copy of the file. Continue the work in a new job.\n", altered,
            "5 on. Keep a copy of the file. Look for an unchanged one.\n",
            last_line(4, journal::line_hash(work.lines[3]))));
  // A line taken out.
  std::vector<std::string> lines = work.lines;
  lines.erase(lines.begin() + 5);
  ran = verified(journal::to_file(lines));
  CHECK(ran.code == 5);
  CHECK(has(ran.output.out, altered + "6 on."));
  CHECK(verified("{\"n\":1}\n{\"n\":2}\n").code == 3);  // too little to call it a journal
  // The total of the invoice in the last record, with every sum of the chain right.
  Work doctored = work;
  doctored.lines.pop_back();
  doctored.state.last_n -= 1;
  doctored.tip = journal::line_hash(doctored.lines.back());
  job::InvoiceIssued invoice = test::issued("2026-117", 12'345);
  invoice.total_minor = 12'300;
  doctored.write(invoice);
  ran = verified(journal::to_file(doctored.lines));
  const std::string last = integer_text(to_int(doctored.lines.size()));
  CHECK(ran.code == 5);
  CHECK(ran.output.out ==
        cat("job.jsonl: fault: line ", last, ", /paper: the record says another sum than its paper. "
            "Look for an unchanged copy.\n", altered, last,
            " on. Keep a copy of the file. Look for an unchanged one.\n",
            last_line(doctored.lines.size(), doctored.tip)));
}

TEST_CASE("journal verify: a forgery with a new chain is whole at this level; a printed mark tells") {
  const Work work = repaired();
  std::vector<std::string> forged;
  std::string prev(journal::kNoPrev);
  const journal::Loaded loaded = journal::read_lines(work.lines);
  for (journal::Entry entry : loaded.entries) {
    if (entry.kind == "customer-noted") {
      entry.payload.set("name", data::Value::of("Somebody Else"));
    }
    entry.prev = prev;
    forged.push_back(journal::write_entry(entry));
    prev = journal::line_hash(forged.back());
  }
  // Form, chain and arithmetic hold: it is for deciding again to refuse what the rules refuse.
  CHECK(verified(journal::to_file(forged)).code == 0);
  const std::string mark = cat(to_int(forged.size()), "-", work.tip.substr(0, 8));
  const Ran ran = verified(journal::to_file(forged), mark);
  CHECK(ran.code == 1);
  CHECK(ran.output.out ==
        cat("job.jsonl: fault: the mark ", mark, " stands nowhere in this journal. Look for a later "
            "or an unchanged copy of the journal.\n", kWholeLine, last_line(forged.size(), prev)));
}

TEST_CASE("journal verify --tip: says at which record a mark stands") {
  const Work work = repaired();
  const std::string text = journal::to_file(work.lines);
  const std::string sum = journal::line_hash(work.lines[4]);
  const std::string rest = kWholeLine + last_line(work.lines.size(), work.tip);
  for (const std::string& tip : {"5-" + sum, "5 " + sum, "5-" + sum.substr(0, 8)}) {
    const Ran ran = verified(text, tip);
    CHECK(ran.code == 0);
    CHECK(ran.output.out == cat("job.jsonl: note: line 5: the mark 5-", tip.substr(2),
                                " stands at record 5, complaint-noted\n", rest));
  }
  CHECK(verified(text, sum.substr(0, 8)).code == 0);
  Ran ran = verified(text, "6-" + sum.substr(0, 8));
  CHECK(ran.code == 1);
  CHECK(ran.output.out == cat("job.jsonl: fault: line 5: the mark 6-", sum.substr(0, 8),
                              " stands at record 5. Read the number on the paper again.\n", rest));
  ran = verified(text, "1234");
  CHECK(ran.code == 2);
  CHECK(ran.output.err == "\"1234\" is no mark. Give at least 8 digits of the sum, for example "
                          "41-4c1f09ab.\n");
}

TEST_CASE("journal verify: records of unknown kinds or with unknown members are newer: 7") {
  Work work;
  work.arrive();
  journal::Entry strange = work.entry(job::NoteAdded{"x"});
  strange.parts.clear();
  strange.kind = "moon-landed";
  work.lines.push_back(journal::write_line(strange));
  journal::Entry more = work.entry(job::NoteAdded{"x"});
  more.parts.clear();
  more.prev = journal::line_hash(work.lines.back());
  more.seq = strange.seq + 1;
  more.payload.set("colour", data::Value::of("red"));
  work.lines.push_back(journal::write_line(more));
  const Ran ran = verified(journal::to_file(work.lines));
  CHECK(ran.code == 7);
  CHECK(ran.output.out ==
        cat("job.jsonl: note: only form, chain and arithmetic were checked: Record ",
            integer_text(strange.seq), " is of a kind this program does not know.\n"
            "job.jsonl: warning: line ", integer_text(strange.seq), ": No record of kind "
            "\"moon-landed\" is known. Open this journal with a newer version of the program.\n"
            "job.jsonl: warning: line ", integer_text(more.seq), ", /colour: \"note-added\" knows no "
            "\"colour\". Open this journal with the version of the program that wrote it.\n"
            "job.jsonl: Record ", integer_text(strange.seq), " is newer than this program. Only form, "
            "chain and arithmetic were checked. Open it with the newer program.\n",
            last_line(work.lines.size(), journal::line_hash(work.lines.back()))));
}

TEST_CASE("journal verify: cut and flipped along the whole file, the answer is never a wrong one") {
  // Every fifth byte, and all of them around the ends of lines: tests/journal does it with every one.
  Work work;
  job::JobOpened opened;
  opened.job = "1";
  REQUIRE(work.tell(opened).accepted());
  REQUIRE(work.tell(job::NoteAdded{"gr\xC3\xBC\xC3\x9F Gott"}).accepted());
  REQUIRE(work.tell(test::quoted(1'000, 2'000)).accepted());
  const std::string text = journal::to_file(work.lines);
  const auto taken = [&text](std::size_t at) {
    const std::size_t near = text.find('\n', at < 4 ? 0 : at - 4);
    return at % 5 == 0 || at < 60 || (near != std::string::npos && near <= at + 4);
  };
  for (std::size_t length = 0; length < text.size(); ++length) {
    if (!taken(length)) continue;
    CAPTURE(length);
    const int code = verified(text.substr(0, length)).code;
    const bool at_end = length > 0 && text[length - 1] == '\n';
    CHECK(code == (length < 5 ? 3 : at_end ? 0 : 4));
  }
  const std::size_t last_from = text.find(work.lines.back().substr(0, 9));
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (!taken(at)) continue;
    CAPTURE(at);
    std::string flipped = text;
    flipped[at] = static_cast<char>(static_cast<unsigned char>(flipped[at]) ^ 1U);
    const int code = verified(flipped, work.tip).code;
    // In the last line nothing but the mark may tell; a changed kind or word of it looks newer, and a
    // clock that ran back is not believable. Behind it stand the parts beside the chain.
    CHECK((at < last_from ? code == 5 : code != 0));
  }
}

TEST_CASE("journal verify --help: the exit codes stand in it") {
  FakeFiles files;
  const Ran ran = run({"journal", "verify", "--help"}, files);
  CHECK(ran.code == 0);
  for (const char* part : {"--tip", "0 when the journal is whole", "2 when it was called wrongly",
                           "3 when the file cannot be read", "4 when it is cut",
                           "5 when it was altered", "6 when it is not believable",
                           "7 when records are newer"}) {
    CAPTURE(part);
    CHECK(has(ran.output.out, part));
  }
}

TEST_CASE("bill: an issued invoice is printed as issued, whatever card is given later") {
  const Work work = repaired();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  files.files["rates.json"] = rates_text();
  REQUIRE(run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files).code == 0);
  std::string card = rates_text();
  const std::size_t at = card.find("\"95.00\"");
  REQUIRE(at != std::string::npos);
  files.files["rates.json"] = card.replace(at, 7, "\"125.00\"");
  REQUIRE(run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "later"}, files).code == 0);
  int compared = 0;
  for (const auto& [name, bytes] : files.files) {
    if (name.rfind("papers/invoice", 0) == 0) {
      ++compared;
      CHECK(bytes == files.files["later" + name.substr(6)]);
    }
  }
  CHECK(compared == 2);
}

TEST_CASE("bill: invoice and record, as page and as PDF, into the folder") {
  const Work work = repaired();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  files.files["rates.json"] = rates_text();
  const Ran ran =
      run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files);
  CHECK(ran.code == 0);
  CHECK(ran.output.err == "");
  int pdf = 0;
  int html = 0;
  std::string invoice;
  for (const auto& [name, bytes] : files.files) {
    if (name.rfind("papers/", 0) != 0) {
      continue;
    }
    CHECK(ran.output.out.find(name + "\n") != std::string::npos);
    pdf += bytes.rfind("%PDF-", 0) == 0 ? 1 : 0;
    html += bytes.find("<html") != std::string::npos ? 1 : 0;
    invoice += bytes.find("2026-117") != std::string::npos ? name : "";
  }
  CHECK(pdf == 3);  // invoice, record, and the quote that was agreed
  CHECK(html == 3);
  CHECK(invoice.find("papers/") == 0);
}

TEST_CASE("bill: the tag of a machine that waits, the notice of one that must not run") {
  for (const job::Outcome outcome :
       {job::Outcome::waiting_for_parts, job::Outcome::not_to_be_used}) {
    Work work;
    work.arrive();
    REQUIRE(work.open_gate());
    REQUIRE(work.tell(job::TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
    REQUIRE(work.wind_up(outcome));
    REQUIRE(work.tell(job::JobEnded{outcome, "Burnt wiring."}).accepted());
    FakeFiles files;
    files.files["job.jsonl"] = journal::to_file(work.lines);
    files.files["rates.json"] = rates_text();
    const Ran ran =
        run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files);
    CHECK(ran.code == 0);
    const bool tag = ran.output.out.find("tag") != std::string::npos;
    const bool notice = ran.output.out.find("notice") != std::string::npos;
    CHECK(tag == (outcome == job::Outcome::waiting_for_parts));
    CHECK(notice == (outcome == job::Outcome::not_to_be_used));
  }
}

TEST_CASE("bill: what stands in the way is told by code and with its place") {
  const Work work = repaired();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  files.files["rates.json"] = "{\"format\": 1}";
  Ran ran = run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.err.find("rates.json: line 1") != std::string::npos);

  files.files["rates.json"] = rates_text();
  files.files["bad.jsonl"] = changed(work, 4, "wet-and-cold", "wet-and-warm");
  ran = run({"bill", "bad.jsonl", "--rates", "rates.json", "--out", "papers"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.err.find("bad.jsonl: line ") != std::string::npos);

  CHECK(run({"bill", "none", "--rates", "rates.json", "--out", "p"}, files).code == 2);
  CHECK(run({"bill", "job.jsonl", "--rates", "none", "--out", "p"}, files).code == 2);
  CHECK(run({"bill", "job.jsonl", "--rates", "rates.json"}, files).code == 2);
  files.full = true;
  ran = run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files);
  CHECK(ran.code == 2);
  CHECK(ran.output.err.find("disk is full") != std::string::npos);
  for (const auto& [name, bytes] : files.files) {
    CHECK(name.rfind("papers/", 0) != 0);
  }
}

}  // namespace
}  // namespace kp
