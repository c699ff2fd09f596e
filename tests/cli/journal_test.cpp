#include <doctest/doctest.h>

#include "cli/fake_files.hpp"
#include "job/work.hpp"

// journal verify and bill, on journals that a technician's work wrote.

namespace kp {
namespace {

using test::FakeFiles;
using test::Ran;
using test::run;
using test::Work;

std::string rates_text() {
  return test::file_bytes(std::string(KP_SOURCE_DIR) + "/assets/demo/rates.json");
}

/// A repaired machine, billed.
Work repaired() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(job::JobEnded{job::Outcome::repaired, ""}).accepted());
  REQUIRE(work.tell(job::InvoiceIssued{"2026-117", 12'345, "USD"}).accepted());
  return work;
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

TEST_CASE("journal verify: a whole journal is in order, with its count and last sum") {
  const Work work = repaired();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  const Ran ran = run({"journal", "verify", "job.jsonl"}, files);
  CHECK(ran.code == 0);
  CHECK(ran.output.out == cat("job.jsonl: ", to_int(work.lines.size()),
                              " records, sum of the last ", work.tip, "\n"));
  CHECK(ran.output.err.empty());
}

TEST_CASE("journal verify: damage inside is a finding with its line, and a torn tail is told") {
  const Work work = repaired();
  FakeFiles files;
  files.files["bad.jsonl"] = "{\"n\":1}\n{\"n\":2}\n";
  Ran ran = run({"journal", "verify", "bad.jsonl"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.out.find("line 1") != std::string::npos);

  // A word changed in line 4: line 5 no longer carries its sum.
  files.files["bad.jsonl"] = changed(work, 3, "Plates stay cold", "Plates stay warm");
  ran = run({"journal", "verify", "bad.jsonl"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.out.find("fault: line ") != std::string::npos);
  CHECK(ran.output.out.find("bad.jsonl: 3 records") != std::string::npos);

  // A line taken out.
  std::vector<std::string> lines = work.lines;
  lines.erase(lines.begin() + 5);
  files.files["bad.jsonl"] = journal::to_file(lines);
  ran = run({"journal", "verify", "bad.jsonl"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.out.find("line 6") != std::string::npos);

  // Cut while the last line was written: nothing that was confirmed is lost.
  const std::string whole = journal::to_file(work.lines);
  files.files["bad.jsonl"] = whole.substr(0, whole.size() - 20);
  ran = run({"journal", "verify", "bad.jsonl"}, files);
  CHECK(ran.code == 0);
  CHECK(ran.output.out.find("warning") != std::string::npos);

  CHECK(run({"journal", "verify", "none"}, files).code == 2);
  CHECK(run({"journal"}, files).code == 2);
  CHECK(run({"journal", "verify"}, files).code == 2);
}

TEST_CASE("journal verify: a record of an unknown kind or with unknown members is told") {
  Work work;
  work.arrive();
  journal::Entry strange = job::entry_of(work.now(), job::NoteAdded{"x"}, work.tip);
  strange.kind = "moon-landed";
  work.lines.push_back(journal::write_line(strange));
  journal::Entry more = job::entry_of(work.now(), job::NoteAdded{"x"}, journal::line_hash(work.lines.back()));
  more.seq = strange.seq + 1;
  more.payload.set("colour", data::Value::of("red"));
  work.lines.push_back(journal::write_line(more));
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  const Ran ran = run({"journal", "verify", "job.jsonl"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.out.find(cat("fault: line ", integer_text(strange.seq), ": No record of kind "
                                "\"moon-landed\" is known")) != std::string::npos);
  CHECK(ran.output.out.find(cat("note: line ", integer_text(more.seq), ", /colour")) !=
        std::string::npos);
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
  CHECK(pdf == 2);
  CHECK(html == 2);
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
  files.files["bad.jsonl"] = changed(work, 3, "Plates stay cold", "Plates stay warm");
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
