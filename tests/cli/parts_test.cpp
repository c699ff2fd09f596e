#include <doctest/doctest.h>

#include "cli/journals.hpp"

// journal erase and compare, on journals that a technician's work wrote.

namespace kp {
namespace {

using test::FakeFiles;
using test::has;
using test::kWholeLine;
using test::last_line;
using test::Ran;
using test::repaired;
using test::run;
using test::verified;
using test::Work;

/// A job with everything personal that it has before the work, and the note of a gate's code.
Work begun() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::NoteAdded{"Gate code 41."}).accepted());
  return work;
}

TEST_CASE("journal erase: the customer's data is gone and the journal verifies with 0") {
  const Work work = begun();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  CHECK(verified(files.files["job.jsonl"]).code == 0);
  const Ran erased = run({"journal", "erase", "job.jsonl"}, files);
  CHECK(erased.code == 0);
  CHECK(erased.output.out == "job.jsonl: 3 personal parts erased (customer). The records stay as "
                             "they were.\njob.jsonl: Erase other copies too: devices, exports and "
                             "papers.\n");
  const std::string text = files.files["job.jsonl"];
  for (const char* word : {"Osei", "Quay", "555 0100", "Plates stay cold"}) {
    CAPTURE(word);
    CHECK_FALSE(has(text, word));
  }
  CHECK(has(text, "\"Ada\""));
  CHECK(has(text, "Gate code"));
  const Ran ran = verified(text);
  CHECK(ran.code == 0);
  CHECK(ran.output.out == cat("job.jsonl: note: 3 personal parts are erased\n", kWholeLine,
                              last_line(work.lines.size(), work.tip)));
  // A paper's mark is found as before.
  CHECK(verified(text, work.tip.substr(0, 8)).code == 0);
  // Once more there is nothing left; notes and names of those who worked go when it is asked for.
  CHECK(has(run({"journal", "erase", "job.jsonl"}, files).output.out, ": 0 personal parts erased"));
  CHECK(run({"journal", "erase", "job.jsonl", "--people", "--notes", "--out", "bare"}, files).code == 0);
  CHECK_FALSE(has(files.files["bare"], "\"Ada\""));
  CHECK_FALSE(has(files.files["bare"], "Gate code"));
  CHECK_FALSE(has(files.files["bare"], "{\"beside\""));
  CHECK(files.files["job.jsonl"] == text);
  CHECK(verified(files.files["bare"]).code == 0);
}

TEST_CASE("journal erase: an ended job is worth what it was, and its papers say erased") {
  const Work work = repaired();
  FakeFiles files;
  files.files["job.jsonl"] = journal::to_file(work.lines);
  const int before = verified(files.files["job.jsonl"]).code;
  REQUIRE(run({"journal", "erase", "job.jsonl"}, files).code == 0);
  CHECK(verified(files.files["job.jsonl"]).code == before);
  files.files["rates.json"] =
      test::file_bytes(std::string(KP_SOURCE_DIR) + "/assets/demo/rates.json");
  REQUIRE(run({"bill", "job.jsonl", "--rates", "rates.json", "--out", "papers"}, files).code == 0);
  int said = 0;
  for (const auto& [name, bytes] : files.files) {
    if (name.rfind("papers/", 0) == 0 && has(name, ".html")) {
      CAPTURE(name);
      CHECK_FALSE(has(bytes, "Osei"));
      said += has(bytes, "erased") ? 1 : 0;
    }
  }
  CHECK(said == 3);   // invoice, record and quote
}

TEST_CASE("journal erase: what is no journal is 3, and nothing is written") {
  FakeFiles files;
  files.files["list.txt"] = "milk\neggs\n";
  CHECK(run({"journal", "erase", "list.txt"}, files).code == 3);
  CHECK(files.files["list.txt"] == "milk\neggs\n");
  CHECK(run({"journal", "erase", "none"}, files).code == 3);
  CHECK(run({"journal", "erase"}, files).code == 2);
}

TEST_CASE("journal compare: says at which record two devices parted") {
  Work first;
  first.arrive();
  Work second = first;
  REQUIRE(first.tell(job::NoteAdded{"Left in the van."}).accepted());
  REQUIRE(second.tell(job::NoteAdded{"Left in the hall."}).accepted());
  REQUIRE(second.tell(job::NoteAdded{"And one more."}).accepted());
  const std::string common = integer_text(to_int(first.lines.size()) - 1);
  const std::string parts = integer_text(to_int(first.lines.size()));
  FakeFiles files;
  files.files["a"] = journal::to_file(first.lines);
  files.files["b"] = journal::to_file(second.lines);
  Ran ran = run({"journal", "compare", "a", "b"}, files);
  CHECK(ran.code == 1);
  CHECK(has(ran.output.out,
            cat("A fork: they part at record ", parts, ". Keep both; nothing merges them.\n")));
  CHECK(has(ran.output.out, cat("a: record ", parts, ", note-added, ")));
  CHECK(has(ran.output.out, "; 1 record of its own\n"));
  CHECK(has(ran.output.out, "; 2 records of its own\n"));
  ran = run({"journal", "compare", "a", "a"}, files);
  CHECK(ran.code == 0);
  CHECK(ran.output.out == cat("Both hold the same ", parts, " records.\n"));
  std::vector<std::string> shorter = first.lines;
  shorter.pop_back();
  files.files["c"] = journal::to_file(shorter);
  ran = run({"journal", "compare", "c", "a"}, files);
  CHECK(ran.code == 0);
  CHECK(has(ran.output.out, cat("a goes on where c ends, after record ", common, ".\n")));
  // Erased on one side they are the same all the same.
  REQUIRE(run({"journal", "erase", "a", "--out", "e"}, files).code == 0);
  CHECK(has(run({"journal", "compare", "a", "e"}, files).output.out, "Both hold the same"));
  files.files["x"] = "eggs";
  CHECK(run({"journal", "compare", "a", "x"}, files).code == 3);
}

}  // namespace
}  // namespace kp
