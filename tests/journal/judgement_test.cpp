#include "journal/judgement.hpp"

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "journal/mark.hpp"
#include "journal/reader.hpp"
#include "journal/sample.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"

// What a file is worth: whole, cut, altered, not believable, newer, no journal. Which exit codes they
// have is this project's own choice.

namespace {

using kp::journal::Further;
using kp::journal::Loaded;
using kp::test::lines_of;
using kp::test::sample;

std::string sample_text() { return kp::journal::to_file(lines_of(sample())); }

/// "4 | The journal is cut after record 3. Look for a longer copy."
std::string judged(const Loaded& loaded, const Further& further = {}) {
  const kp::journal::Verdict verdict = kp::journal::verdict_of(kp::journal::judge(loaded, further));
  return kp::cat(verdict.exit_code, " | ", verdict.sentence, verdict.remedy.empty() ? "" : " ",
                 verdict.remedy);
}
std::string judged(std::string_view text) { return judged(kp::journal::read(text)); }

std::string found(std::string_view text) {
  std::string out;
  const kp::Findings findings = kp::journal::verify(kp::journal::read(text));
  for (const kp::Finding& finding : findings.all()) {
    out += finding.code + " | " + finding.text() + "\n";
  }
  return out;
}

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

/// The entries with the chain made anew.
std::vector<std::string> chained(std::vector<kp::journal::Entry> entries) {
  for (std::size_t i = 1; i < entries.size(); ++i) {
    entries[i].prev = kp::journal::line_hash(kp::journal::write_line(entries[i - 1]));
  }
  return lines_of(entries);
}

const char* const kWhole = "0 | The journal is whole: form, chain and arithmetic hold.";
const char* const kAltered = " on. Keep a copy of the file. Look for an unchanged one.";

}  // namespace

TEST_CASE("what is no journal is told apart, and told whole") {
  CHECK(judged("") == "3 | The file is empty. Look for another copy of the journal.");
  CHECK(found("") == "empty-file | the file is empty. Look for another copy of the journal.\n");
  CHECK(judged("\r\n\n  ") == judged(""));
  CHECK(judged("\xEF\xBB\xBF") == judged(""));
  const std::string other =
      "3 | This is no journal of a job. Give the file that was exported from the job.";
  for (const char* text : {"milk\neggs\n", "milk", "{\"milk\":2}\n", "[1,2]\n", "{", "{\"n\"",
                           "{\n  \"format\": 1,\n  \"currency\": \"USD\"\n}\n"}) {
    CAPTURE(text);
    CHECK(judged(text) == other);
    CHECK(found(text) ==
          "not-a-journal | this is no journal of a job. Give the file that was exported from the "
          "job.\n");
  }
  CHECK(judged(std::string_view("\xFF\xFE{\0\"\0n\0", 8)) ==
        "3 | The file is text in UTF-16. Save it as UTF-8, or export the job again.");
  CHECK(found(std::string_view("\xFE\xFF\0{", 4)) ==
        "utf-16 | the file is text in UTF-16. Save it as UTF-8, or export the job again.\n");
}

TEST_CASE("CR LF and a byte-order mark are read through and noted") {
  const std::string text = sample_text();
  CHECK(judged(text) == kWhole);
  CHECK(found(text).empty());
  const std::string carried = replaced(text, "\n", "\r\n");
  CHECK(judged(carried) == kWhole);
  CHECK(found(carried) ==
        "cr-lf | line 1: 4 lines end with CR LF, which were read as LF\n");
  const std::string marked = "\xEF\xBB\xBF" + carried;
  CHECK(judged(marked) == kWhole);
  CHECK(found(marked) ==
        "cr-lf | line 1: 4 lines end with CR LF, which were read as LF\n"
        "byte-order-mark | line 1: the file begins with a byte-order mark, which was passed over\n");
  const Loaded loaded = kp::journal::read(marked);
  CHECK(loaded.tip_hash == kp::journal::read(text).tip_hash);
  CHECK(loaded.good_bytes == static_cast<std::int64_t>(text.size()));
}

TEST_CASE("cut at every byte: cut, but at the end of a line, where only a mark can tell") {
  const std::vector<std::string> lines = lines_of(sample());
  for (const bool carried : {false, true}) {
    const std::string text = carried ? replaced(sample_text(), "\n", "\r\n") : sample_text();
    int whole = 0;
    for (std::size_t length = 0; length <= text.size(); ++length) {
      CAPTURE(length);
      const std::string_view part = std::string_view(text).substr(0, length);
      const bool at_end = length > 0 && part.back() == '\n';
      whole += at_end ? 1 : 0;
      if (length == 0) {
        CHECK(judged(part) == judged(""));
      } else if (length < 5) {
        CHECK(judged(part).substr(0, 1) == "3");  // too little to tell what it was
      } else if (at_end) {
        // The chain does not know its own end.
        CHECK(judged(part) == kWhole);
        const kp::journal::Mark last{4, kp::journal::line_hash(lines[3])};
        CHECK(kp::journal::look_up(kp::journal::read(part), last).has("mark-nowhere") ==
              (whole < 4));
      } else {
        CHECK(judged(part) ==
              kp::cat("4 | The journal is cut ",
                      whole == 0 ? std::string("in its first record")
                                 : kp::cat("after record ", whole),
                      ". Look for a longer copy."));
      }
    }
  }
}

TEST_CASE("a byte flipped anywhere: never whole, but in the last line, which no later one holds") {
  const std::string text = sample_text();
  const std::vector<std::string> lines = lines_of(sample());
  const std::size_t last_from = text.size() - lines.back().size() - 1;
  const kp::journal::Mark last{4, kp::journal::line_hash(lines.back())};
  for (std::size_t at = 0; at < text.size(); ++at) {
    for (const unsigned flip : {0x01U, 0x20U, 0x80U, 0xFFU}) {
      CAPTURE(at);
      CAPTURE(flip);
      std::string changed = text;
      changed[at] = static_cast<char>(static_cast<unsigned char>(changed[at]) ^ flip);
      const Loaded loaded = kp::journal::read(changed);
      const std::string code = judged(loaded).substr(0, 1);
      if (at < last_from) {
        CHECK(code == "5");
      } else if (at + 1 == text.size()) {
        CHECK(code == "4");  // the last line has no end
      } else {
        CHECK((code == "5" || code == "0"));
        CHECK(kp::journal::look_up(loaded, last).has("mark-nowhere"));
      }
    }
  }
}

TEST_CASE("what was altered is told with its first record") {
  const std::vector<std::string> lines = lines_of(sample());
  const auto from = [](int record) { return kp::cat("5 | The journal was altered. Do not believe it "
                                                    "from record ", record, kAltered); };
  CHECK(judged(replaced(sample_text(), "breaker", "unplugged")) == from(2));
  CHECK(judged(kp::journal::to_file({lines[0], lines[2], lines[3]})) == from(2));
  CHECK(judged(kp::journal::to_file({lines[1], lines[2]})) == from(1));
  CHECK(judged(kp::journal::to_file({lines[0], lines[1], "{\"n\":3,"})) == from(3));
  CHECK(found(kp::journal::to_file({lines[0], lines[1], "{\"n\":3,"})) ==
        "broken-tail | line 3: the last line is no JSON. Keep a copy of the file. Look for an "
        "unchanged one.\n");
  // What rooms above found counts as well, and the earlier one is told.
  const Loaded whole = kp::journal::read(sample_text());
  CHECK(judged(whole, {3, {}, {}}) == from(3));
  CHECK(judged(kp::journal::read(replaced(sample_text(), "breaker", "un")), {1, {}, {}}) == from(1));
}

TEST_CASE("a forgery with a new chain reads as whole here: it is caught by deciding again") {
  std::vector<kp::journal::Entry> entries = sample();
  entries[1].payload.set("how", kp::data::Value::of("word of another"));
  CHECK(judged(kp::journal::to_file(chained(entries))) == kWhole);
  // Or by any mark that was handed over on paper before.
  const std::vector<std::string> old = lines_of(sample());
  const kp::journal::Mark printed{3, kp::journal::line_hash(old[2]).substr(0, 8)};
  CHECK(kp::journal::look_up(kp::journal::read_lines(chained(entries)), printed).has("mark-nowhere"));
}

TEST_CASE("newer kinds and a newer format are told, and the chain of them is checked all the same") {
  const Loaded whole = kp::journal::read(sample_text());
  CHECK(judged(whole, {{}, {}, 3}) ==
        "7 | Record 3 is newer than this program. Only form, chain and arithmetic were checked. Open "
        "it with the newer program.");
  std::vector<kp::journal::Entry> entries = sample();
  entries[0].payload.set("format", kp::data::Value::of(kp::journal::kFormat + 1));
  std::vector<std::string> lines = chained(entries);
  CHECK(judged(kp::journal::to_file(lines)).substr(0, 38) == "7 | Record 1 is newer than this progra");
  lines[1] = replaced(lines[1], "breaker", "unplugged");
  CHECK(judged(kp::journal::to_file(lines)) ==
        kp::cat("5 | The journal was altered. Do not believe it from record 2", kAltered));
}

TEST_CASE("the gravest is told: altered, not believable, cut, newer") {
  const std::string torn = sample_text() + "{\"n\":5";
  const Loaded cut = kp::journal::read(torn);
  CHECK(judged(cut, {{}, {}, 2}).substr(0, 1) == "4");
  CHECK(judged(cut, {{}, 3, 2}) ==
        "6 | The journal is not believable from record 3 on: its own rules refuse it. Keep a copy of "
        "the file. Ask who wrote it.");
  CHECK(judged(cut, {4, 3, 2}).substr(0, 1) == "5");
}

TEST_CASE("a mark is found by its first eight digits, with and without its number") {
  const std::vector<std::string> lines = lines_of(sample());
  const Loaded loaded = kp::journal::read(sample_text());
  const std::string sum = kp::journal::line_hash(lines[2]);
  CHECK(kp::journal::mark_text(3, lines[2]) == "3-" + sum);
  const auto looked = [&loaded](const std::string& text) {
    const auto mark = kp::journal::parse_mark(text);
    if (!mark.has_value()) {
      return mark.error().code + " | " + mark.error().text();
    }
    const kp::Findings findings = kp::journal::look_up(loaded, mark.value());
    return findings.all().front().code + " | " + findings.all().front().text();
  };
  const std::string eight = sum.substr(0, 8);
  CHECK(looked("3-" + sum) == "mark-stands | line 3: the mark 3-" + sum +
                                  " stands at record 3, reading");
  CHECK(looked(eight) == "mark-stands | line 3: the mark " + eight + " stands at record 3, reading");
  for (const std::string& text : {"3 " + eight, " 3:" + eight + " ", "3, " + eight, "3 - " + eight}) {
    CHECK(looked(text) == "mark-stands | line 3: the mark 3-" + eight +
                              " stands at record 3, reading");
  }
  std::string upper = eight;
  for (char& c : upper) {
    c = c >= 'a' && c <= 'f' ? static_cast<char>(c - 'a' + 'A') : c;
  }
  CHECK(looked(upper) == looked(eight));
  CHECK(looked("2-" + eight) == "mark-elsewhere | line 3: the mark 2-" + eight +
                                    " stands at record 3. Read the number on the paper again.");
  CHECK(looked("00000000") ==
        "mark-nowhere | the mark 00000000 stands nowhere in this journal. Look for a later or an "
        "unchanged copy of the journal.");
  const std::string few = " is no mark. Give at least 8 digits of the sum, for example 41-4c1f09ab.";
  CHECK(looked("3-1234567") == "bad-mark | \"3-1234567\"" + few);
  CHECK(looked("") == "bad-mark | \"\"" + few);
  CHECK(looked("hello world") == "bad-mark | \"hello world\"" + few);
  CHECK(looked("x-12345678") == "bad-mark | \"x-12345678\" is no mark. Give the number of the record "
                                "in front of the sum, or the sum alone.");
  CHECK(looked("0-12345678") == "bad-mark | \"0-12345678\" is no mark. Give the number of the record "
                                "in front of the sum, or the sum alone.");
}
