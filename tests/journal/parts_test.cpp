// What is personal lies beside the chain: it is held to the record's sum, and can be gone.

#include <doctest/doctest.h>

#include "base/sha256.hpp"
#include "base/text.hpp"
#include "journal/compare.hpp"
#include "journal/judgement.hpp"
#include "journal/reader.hpp"
#include "journal/sample.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"

namespace {

using kp::data::Value;
using kp::journal::Entry;
using kp::journal::Loaded;
using kp::journal::Part;

Part part(std::uint32_t record, const char* whose, const char* word) {
  Part out;
  out.whose = whose;
  out.salt = std::string(31, '0') + kp::integer_text(record);
  out.words = Value::object().set("/name", Value::of(word));
  out.erased = false;
  out.sum = kp::journal::line_hash(kp::journal::write_part(record, out));
  return out;
}

/// The sample with parts at records 2 and 3, as a store keeps it.
std::vector<std::string> stored() {
  std::vector<std::string> out;
  for (Entry entry : kp::test::sample()) {
    if (entry.seq == 2) {
      entry.parts = {part(2, "customer", "N. Osei"), part(2, "people", "Ada")};
    } else if (entry.seq == 3) {
      entry.parts = {part(3, "customer", "4 Quay Lane\n\"back\"")};
    }
    entry.prev = out.empty() ? std::string(kp::journal::kNoPrev) : kp::journal::line_hash(out.back());
    out.push_back(kp::journal::write_entry(entry));
  }
  return out;
}

int exit_code(const Loaded& loaded) {
  return kp::journal::verdict_of(kp::journal::judge(loaded)).exit_code;
}

std::string codes(const Loaded& loaded) {
  std::string out;
  const kp::Findings findings = kp::journal::verify(loaded);
  for (const kp::Finding& finding : findings.all()) {
    out += kp::cat(out.empty() ? "" : " ", finding.code, ":", finding.line);
  }
  return out;
}

}  // namespace

TEST_CASE("a part is one line of its own, and the record holds SHA-256 of it") {
  const std::vector<std::string> entries = stored();
  const std::string line = entries[1].substr(0, entries[1].find('\n'));
  const std::string beside =
      R"({"beside":2,"whose":"customer","salt":"00000000000000000000000000000002",)"
      R"("words":{"/name":"N. Osei"}})";
  CHECK(entries[1].find("\n" + beside + "\n") != std::string::npos);
  CHECK(line.find(kp::cat(R"("beside":{"customer":")", kp::sha256_hex(beside), "\"")) !=
        std::string::npos);
  CHECK(line.find("Osei") == std::string::npos);
  // A file holds the lines, then the parts; the chain is that of the lines alone.
  const std::string file = kp::journal::to_file(entries);
  CHECK(file.find(beside) > file.find("{\"n\":4"));
  for (const Loaded& loaded : {kp::journal::read(file), kp::journal::read_lines(entries)}) {
    CHECK_FALSE(loaded.damage.has_value());
    CHECK(codes(loaded).empty());
    CHECK(exit_code(loaded) == 0);
    CHECK(loaded.entries.size() == 4);
    CHECK(loaded.tip_hash == kp::sha256_hex(entries[3]));
    CHECK(loaded.entries[1].parts.size() == 2);
    CHECK(loaded.entries[1].parts[0].words.find("/name")->text == "N. Osei");
    CHECK(loaded.entries[2].parts[0].words.find("/name")->text == "4 Quay Lane\n\"back\"");
    CHECK(kp::journal::erased_parts(loaded) == 0);
  }
}

TEST_CASE("parts that are gone leave a whole journal that says how many") {
  const std::string file = kp::journal::to_file(stored());
  int erased = 0;
  const std::string bare = kp::journal::file_without_parts(file, {"customer"}, erased);
  CHECK(erased == 2);
  CHECK(bare.find("Osei") == std::string::npos);
  CHECK(bare.find("Quay") == std::string::npos);
  CHECK(bare.find("Ada") != std::string::npos);
  const Loaded loaded = kp::journal::read(bare);
  CHECK(exit_code(loaded) == 0);
  CHECK(codes(loaded) == "parts-erased:0");
  CHECK(kp::journal::erased_parts(loaded) == 2);
  CHECK(kp::journal::verify(loaded).all().front().what == "2 personal parts are erased");
  CHECK(loaded.tip_hash == kp::journal::read(file).tip_hash);
  // The same of a store's entries, each by itself.
  const std::vector<std::string> entries = stored();
  CHECK(kp::journal::without_parts(entries[0], {}) == entries[0]);
  CHECK(kp::journal::without_parts(entries[1], {"people"}).find("Osei") != std::string::npos);
  CHECK(kp::journal::without_parts(entries[1], {"people"}).back() == '}');
  CHECK(kp::journal::without_parts(entries[1], {}) == entries[1].substr(0, entries[1].find('\n')));
  // Carried by mail it is read the same.
  std::string carried;
  for (const char c : file) {
    carried += c == '\n' ? "\r\n" : std::string(1, c);
  }
  CHECK(kp::journal::erased_parts(kp::journal::read(carried)) == 0);
  CHECK(kp::journal::file_without_parts(carried, {}, erased).find("Osei") == std::string::npos);
}

TEST_CASE("a part that is not what the record says is altered, at that record") {
  const std::string file = kp::journal::to_file(stored());
  const std::size_t from = file.find("{\"beside\"");
  int altered = 0;
  for (std::size_t at = from; at < file.size(); ++at) {
    CAPTURE(at);
    std::string flipped = file;
    flipped[at] = static_cast<char>(static_cast<unsigned char>(flipped[at]) ^ 1U);
    const Loaded loaded = kp::journal::read(flipped);
    altered += exit_code(loaded) == 5 ? 1 : 0;
    // What its own bytes gave away is not believed.
    for (const Entry& entry : loaded.entries) {
      for (const Part& one : entry.parts) {
        CHECK((one.erased || one.sum == kp::journal::line_hash(kp::journal::write_part(entry.seq, one))));
      }
    }
    // The last line feed alone is a cut, as everywhere.
    CHECK(exit_code(loaded) == (at + 1 == file.size() ? 4 : 5));
  }
  CHECK(altered > 300);
  std::string other = file;
  other.replace(other.find("Quay Lane"), 9, "Bay Lane ");
  CHECK(codes(kp::journal::read(other)) == "part-altered:3");
  CHECK(kp::journal::verdict_of(kp::journal::judge(kp::journal::read(other))).sentence ==
        "The journal was altered. Do not believe it from record 3 on.");
}

TEST_CASE("parts of other records, doubled ones and records behind parts are told") {
  const std::vector<std::string> entries = stored();
  const std::string file = kp::journal::to_file(entries);
  const auto with = [&file](const Part& one, std::uint32_t record) {
    return codes(kp::journal::read(file + kp::journal::write_part(record, one) + "\n"));
  };
  CHECK(with(part(9, "customer", "x"), 9) == "part-of-none:9");
  CHECK(with(part(4, "customer", "x"), 4) == "part-of-none:4");
  CHECK(with(part(2, "notes", "x"), 2) == "part-of-none:2");
  CHECK(with(part(2, "customer", "N. Osei"), 2) == "part-of-none:2");
  CHECK(codes(kp::journal::read(file + "{\"beside\":true}\n")) == "bad-part:0");
  CHECK(exit_code(kp::journal::read(file + "{\"beside\":true}\n")) == 5);
  const std::string behind = kp::cat(kp::journal::to_file({entries[0], entries[1]}), entries[2], "\n");
  CHECK(exit_code(kp::journal::read(behind)) == 5);
}

TEST_CASE("cut at every byte the file is cut, or whole with parts gone; damage keeps good parts") {
  const std::vector<std::string> entries = stored();
  const std::string file = kp::journal::to_file(entries);
  for (std::size_t length = file.find("{\"beside\""); length <= file.size(); ++length) {
    CAPTURE(length);
    const Loaded loaded = kp::journal::read(std::string_view(file).substr(0, length));
    CHECK(loaded.entries.size() == 4);
    CHECK(exit_code(loaded) == (file[length - 1] == '\n' ? 0 : 4));
  }
  // Record 3 is changed: what lies beside record 2 is still believed, what lies beside 3 is not.
  std::string damaged = file;
  damaged.replace(damaged.find("13.7"), 4, "13.8");
  const Loaded loaded = kp::journal::read(damaged);
  REQUIRE(loaded.entries.size() == 2);
  CHECK_FALSE(loaded.entries[1].parts[0].erased);
  CHECK(loaded.part_faults.empty());
}

TEST_CASE("two journals: the same, one longer, a fork, strangers; erased parts do not count") {
  using kp::journal::Comparison;
  using kp::journal::Kinship;
  const std::vector<std::string> entries = stored();
  const auto goes_on = [&entries](std::size_t from, const char* word) {
    std::vector<std::string> out(entries.begin(), entries.begin() + static_cast<std::ptrdiff_t>(from));
    Entry entry = kp::test::sample().back();
    entry.seq = static_cast<std::uint32_t>(from) + 1;
    entry.payload = Value::object().set("text", Value::of(word));
    entry.prev = kp::journal::line_hash(out.back());
    out.push_back(kp::journal::write_line(entry));
    return out;
  };
  const auto compared = [](const std::vector<std::string>& a, const std::vector<std::string>& b) {
    return kp::journal::compare(kp::journal::read_lines(a), kp::journal::read_lines(b));
  };
  const std::vector<std::string> first = goes_on(3, "left");
  const std::vector<std::string> second = goes_on(3, "right");
  const Comparison fork = compared(first, second);
  CHECK(fork.kinship == Kinship::fork);
  CHECK(fork.common == 3);
  CHECK(kp::journal::words_of(fork, "a", "b") ==
        "A fork: they part at record 4. Keep both; nothing merges them.");
  CHECK(compared(entries, goes_on(4, "more")).kinship == Kinship::second_longer);
  CHECK(compared(goes_on(4, "more"), entries).kinship == Kinship::first_longer);
  std::vector<std::string> bare;
  for (const std::string& entry : entries) {
    bare.push_back(kp::journal::without_parts(entry, {}));
  }
  CHECK(compared(entries, bare).kinship == Kinship::same);
  CHECK(compared(bare, entries).common == 4);
  // A fork in the last record of both is one too.
  CHECK(compared(goes_on(2, "x"), {entries.begin(), entries.begin() + 3}).kinship == Kinship::fork);
  std::vector<Entry> other = kp::test::sample();
  other[0].by = "Somebody";
  CHECK(compared(entries, kp::test::lines_of({other[0]})).kinship == Kinship::strangers);
  CHECK(compared(entries, {}).kinship == Kinship::strangers);
}
