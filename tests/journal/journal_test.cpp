#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "base/sha256.hpp"
#include "base/text.hpp"
#include "journal/mark.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"
#include "journal/sample.hpp"
#include "support/random.hpp"

using kp::data::Value;
using kp::journal::Entry;
using kp::journal::Loaded;

namespace {

using kp::test::lines_of;
using kp::test::sample;

std::string told(const Loaded& loaded) {
  return loaded.damage ? loaded.damage->code + " | " + loaded.damage->text() : "whole";
}

bool begins_like(const Loaded& loaded, const std::vector<std::string>& lines) {
  if (loaded.entries.size() > lines.size()) {
    return false;
  }
  for (std::size_t i = 0; i < loaded.entries.size(); ++i) {
    if (kp::journal::write_line(loaded.entries[i]) != lines[i]) {
      return false;
    }
  }
  return true;
}

}  // namespace

TEST_CASE("a line is written in one form, and its sum is the one of its bytes") {
  const std::vector<std::string> lines = lines_of(sample());
  CHECK(lines[0] ==
        "{\"n\":1,\"at\":\"2026-01-14T09:41:07.250Z\",\"off\":-300,\"mono\":61250,"
        "\"life\":\"9f3a5c7e11d20b64\",\"by\":\"R. Ames\",\"kind\":\"job-started\","
        "\"data\":{\"format\":1,\"pack\":\"demo\"},\"prev\":"
        "\"0000000000000000000000000000000000000000000000000000000000000000\"}");
  CHECK(lines[2].find("\"data\":{\"ohm\":13.7,\"note\":\"Ω \\\"ok\\\"\\n\"}") != std::string::npos);
  CHECK(kp::journal::line_hash(lines[0]) == kp::sha256_hex(lines[0]));
  CHECK(lines[1].substr(lines[1].size() - 66) == kp::sha256_hex(lines[0]) + "\"}");
}

TEST_CASE("what was written is read, from a file and from a store") {
  const std::vector<Entry> entries = sample();
  const std::vector<std::string> lines = lines_of(entries);
  const std::string text = kp::journal::to_file(lines);
  for (const Loaded& loaded : {kp::journal::read(text), kp::journal::read_lines(lines)}) {
    CHECK(told(loaded) == "whole");
    CHECK_FALSE(loaded.torn_tail);
    CHECK(loaded.entries.size() == entries.size());
    CHECK(begins_like(loaded, lines));
    CHECK(loaded.tip_hash == kp::journal::line_hash(lines.back()));
    CHECK(loaded.good_bytes == static_cast<std::int64_t>(text.size()));
    CHECK(loaded.entries[1].at == entries[1].at);
    CHECK(loaded.entries[1].mono_ms == entries[1].mono_ms);
    CHECK(loaded.entries[1].by == "R. Ames");
    CHECK(loaded.entries[2].payload.find("ohm")->number == 13.7);
  }
  const Loaded empty = kp::journal::read("");
  CHECK(told(empty) == "whole");
  CHECK(empty.entries.empty());
  CHECK(empty.tip_hash == kp::journal::kNoPrev);
}

TEST_CASE("cut at every byte, it loads to a prefix and says that the tail was torn") {
  const std::vector<std::string> lines = lines_of(sample());
  const std::string text = kp::journal::to_file(lines);
  std::size_t whole = 0;  // lines that are complete at this length
  for (std::size_t length = 0; length <= text.size(); ++length) {
    CAPTURE(length);
    const bool at_line_end = length == 0 || text[length - 1] == '\n';
    if (at_line_end && length > 0) {
      ++whole;
    }
    const Loaded loaded = kp::journal::read(std::string_view(text).substr(0, length));
    CHECK(told(loaded) == "whole");
    CHECK(loaded.entries.size() == whole);
    CHECK(loaded.torn_tail == !at_line_end);
    CHECK(begins_like(loaded, lines));
    CHECK((loaded.good_bytes == 0 || text[kp::to_size(loaded.good_bytes) - 1] == '\n'));
  }
}

TEST_CASE("a changed byte is found, and told with the first line that cannot be believed") {
  const std::vector<std::string> lines = lines_of(sample());
  const std::string text = kp::journal::to_file(lines);
  // Without the last line feed before it, the last line is a part of the one that is now torn.
  const std::size_t last_from = text.size() - lines.back().size() - 2;
  int line = 1;
  for (std::size_t at = 0; at < last_from; ++at) {
    for (const unsigned flip : {0x01U, 0x20U, 0x80U, 0xFFU}) {
      CAPTURE(at);
      CAPTURE(flip);
      std::string changed = text;
      changed[at] = static_cast<char>(static_cast<unsigned char>(changed[at]) ^ flip);
      const Loaded loaded = kp::journal::read(changed);
      CHECK(loaded.damage.has_value());
      CHECK(loaded.damage_line >= line - 1);
      CHECK(loaded.damage_line <= line);
      CHECK(loaded.damage->where == kp::cat("line ", loaded.damage_line));
      // A format of two digits looks newer; its entries are shown as far as they go.
      const bool newer = loaded.damage->code == "newer-format";
      CHECK((newer || loaded.damage_line == kp::to_int(loaded.entries.size()) + 1));
      CHECK((newer || begins_like(loaded, lines)));
    }
    line += text[at] == '\n' ? 1 : 0;
  }
  CHECK(line == kp::to_int(lines.size()) - 1);
}

TEST_CASE("a change in the last line is found when it breaks the form, or by a printed sum") {
  const std::vector<std::string> lines = lines_of(sample());
  const std::string text = kp::journal::to_file(lines);
  const std::size_t last_from = text.size() - lines.back().size() - 2;
  const kp::journal::Mark tip{0, kp::journal::line_hash(lines.back())};
  for (std::size_t at = last_from; at < text.size(); ++at) {
    for (const unsigned flip : {0x01U, 0x20U, 0x80U, 0xFFU}) {
      CAPTURE(at);
      CAPTURE(flip);
      std::string changed = text;
      changed[at] = static_cast<char>(static_cast<unsigned char>(changed[at]) ^ flip);
      const Loaded loaded = kp::journal::read(changed);
      CHECK(kp::journal::look_up(loaded, tip).has("mark-nowhere"));
      const bool kept_all = !loaded.damage && !loaded.torn_tail;
      CHECK((kept_all || begins_like(loaded, lines)));
    }
  }
  CHECK(kp::journal::look_up(kp::journal::read(text), tip).has("mark-stands"));
}

TEST_CASE("damage is told in words") {
  const std::vector<std::string> lines = lines_of(sample());
  const auto with = [&lines](std::size_t at, std::string line) {
    std::vector<std::string> changed = lines;
    changed[at] = std::move(line);
    return told(kp::journal::read_lines(changed));
  };
  const auto swap_in = [&lines](std::size_t at, const char* old_text, const char* new_text) {
    std::string line = lines[at];
    line.replace(line.find(old_text), std::string(old_text).size(), new_text);
    return line;
  };
  const std::string rest = ". Keep a copy of the file. Continue the work in a new job.";
  CHECK(with(1, "oops") ==
        "bad-line | line 2: this is no JSON: found 'oops' in line 1, column 1" + rest);
  CHECK(with(3, "") ==
        "bad-line | line 4: this is no JSON: found the end of the text in line 1, column 1" + rest);
  CHECK(with(1, "[]") == "bad-line | line 2: this is a list" + rest);
  CHECK(with(1, swap_in(1, "\"off\":-300,", "")) == "bad-line | line 2: \"off\" is missing" + rest);
  CHECK(with(1, swap_in(1, "-300", "-9000")) == "bad-line | line 2: \"off\" is -9000" + rest);
  CHECK(with(1, swap_in(1, "\"n\":2", "\"m\":1,\"n\":2")) ==
        "bad-line | line 2: \"m\" is not known here" + rest);
  CHECK(with(1, swap_in(1, "-14T", "-74T")) ==
        "bad-line | line 2: \"at\" is no time: \"2026-01-74T09:42:08.250Z\": "
        "the day is 74 and must be 1 to 31" + rest);
  CHECK(with(1, swap_in(1, "9f3a", "9F3A")) ==
        "bad-line | line 2: \"life\" is not 16 hexadecimal digits" + rest);
  CHECK(with(1, swap_in(1, "supply-cut", "")) == "bad-line | line 2: \"kind\" is empty" + rest);
  CHECK(with(1, swap_in(1, "\"n\":2", "\"n\":3")) ==
        "wrong-number | line 2: the line says that it is number 3" + rest);
  CHECK(with(1, swap_in(1, "{\"n\":2", "{ \"n\":2")) ==
        "bad-line | line 2: the line is not in the form in which it was written" + rest);
  CHECK(with(1, swap_in(1, ".250Z", ".2500Z")) ==
        "bad-line | line 2: the line is not in the form in which it was written" + rest);
  CHECK(with(1, swap_in(1, "breaker", "unplugged")) ==
        "wrong-chain | line 2: line 3 does not carry the sum of this line; "
        "one of the two was changed" + rest);
  CHECK(with(0, swap_in(0, "\"format\":1,", "")) ==
        "no-format | line 1: the first line does not say which format it has" + rest);
  CHECK(with(0, swap_in(0, "\"prev\":\"0", "\"prev\":\"1")) ==
        "wrong-chain | line 1: the first line says that lines stood before it" + rest);
  std::vector<std::string> missing = lines;
  missing.erase(missing.begin() + 1);
  CHECK(told(kp::journal::read_lines(missing)) ==
        "wrong-number | line 2: the line says that it is number 3" + rest);
}

TEST_CASE("a newer format is shown as far as it goes, and told") {
  std::vector<Entry> entries = sample();
  entries[0].payload.set("format", Value::of(kp::journal::kFormat + 1));
  entries[1].prev = kp::journal::line_hash(kp::journal::write_line(entries[0]));
  std::vector<std::string> lines = lines_of(entries);
  lines[1].insert(lines[1].size() - 1, ",\"zone\":\"a member of tomorrow\"");
  lines.resize(2);
  const Loaded loaded = kp::journal::read(kp::journal::to_file(lines));
  CHECK(told(loaded) ==
        "newer-format | line 1: the journal has format 3, and this program knows 2. "
        "Open it with the newer program.");
  CHECK(loaded.damage_line == 1);
  CHECK(loaded.entries.size() == 2);
  lines.push_back("something else");
  lines.push_back("{}");
  const Loaded more = kp::journal::read(kp::journal::to_file(lines));
  CHECK(more.damage->code == "newer-format");
  CHECK(more.entries.size() == 2);
}

TEST_CASE("a broken last line is a torn tail in a file and damage in a store") {
  std::vector<std::string> lines = lines_of(sample());
  lines.back().resize(40);
  const Loaded file = kp::journal::read(kp::journal::to_file(lines));
  CHECK(file.torn_tail);
  CHECK(told(file) == "whole");
  CHECK(file.entries.size() == 3);
  const Loaded store = kp::journal::read_lines(lines);
  CHECK_FALSE(store.torn_tail);
  CHECK(store.damage_line == 4);
}

TEST_CASE("verify tells what a reader passes over") {
  std::vector<Entry> entries = sample();
  entries[2].at.utc_ms -= 3600000;
  entries[2].life = "0123456789abcdef";
  entries[3].mono_ms = 100;
  const auto chained = [&entries]() {
    for (std::size_t i = 1; i < entries.size(); ++i) {
      entries[i].prev = kp::journal::line_hash(kp::journal::write_line(entries[i - 1]));
    }
    return kp::journal::read_lines(lines_of(entries));
  };
  const kp::Findings findings = kp::journal::verify(chained());
  std::string text;
  for (const kp::Finding& finding : findings.all()) {
    text += finding.code + " | " + finding.text() + "\n";
  }
  CHECK(text ==
        "wall-clock-back | line 3: the wall clock was set back by 00:58:59\n"
        "life-returned | line 4: the run 9f3a5c7e11d20b64 writes again after another one. "
        "Check which of two open windows the work was done in.\n");
  CHECK(findings.faults() == 0);

  entries = sample();
  entries[3].mono_ms = 100;
  const kp::Findings steady = kp::journal::verify(chained());
  CHECK(steady.faults() == 1);
  CHECK(steady.all()[0].code == "steady-clock-back");

  const std::string torn = kp::journal::to_file(lines_of(sample())) + "{\"n\":5";
  const kp::Findings tail = kp::journal::verify(kp::journal::read(torn));
  CHECK(tail.all()[0].text() == "line 5: the last line is unfinished and was cut off");
  CHECK(kp::journal::verify(kp::journal::read_lines(lines_of(sample()))).all().empty());
}

TEST_CASE("random journals survive the way to text and back") {
  kp::test::Random random(42);
  CAPTURE(random.seed());
  for (int round = 0; round < 200; ++round) {
    std::vector<std::string> lines;
    std::string prev(kp::journal::kNoPrev);
    for (int i = 0, count = random.between(1, 12); i < count; ++i) {
      Entry entry;
      entry.seq = static_cast<std::uint32_t>(i) + 1;
      entry.at.utc_ms = static_cast<std::int64_t>(random.next() % 4000000000000ULL);
      entry.at.offset_min = random.between(-720, 840);
      entry.mono_ms = random.between(0, 2000000000);
      entry.life = kp::sha256_hex(kp::integer_text(random.between(1, 9))).substr(0, 16);
      entry.by = random.chance(0.5) ? "Inés \"the hand\" Núñez" : "a\xFF broken name";
      entry.kind = "k";
      entry.payload.set("format", Value::of(1)).set("v", Value::of(random.unit() * 1e9));
      entry.prev = prev;
      lines.push_back(kp::journal::write_line(entry));
      prev = kp::journal::line_hash(lines.back());
    }
    const Loaded loaded = kp::journal::read_lines(lines);
    CHECK(told(loaded) == "whole");
    CHECK(loaded.entries.size() == lines.size());
    CHECK(begins_like(loaded, lines));
    CHECK(loaded.tip_hash == prev);
  }
}
