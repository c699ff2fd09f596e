#pragma once
// What must hold for any bytes at all. The fuzz targets feed it what they make up; the replay
// tests feed it the corpus, on every target.

#include <string>
#include <string_view>

#include "base/check.hpp"
#include "data/value.hpp"
#include "journal/judgement.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"

namespace kp::test {

inline void json_laws(std::string_view bytes) {
  const auto value = data::parse(bytes);
  if (!value) {
    KP_CHECK(value.error().code == "bad-json");
    KP_CHECK(!value.error().where.empty() && !value.error().what.empty());
    return;
  }
  const std::string text = data::print(*value);
  const auto again = data::parse(text);
  KP_CHECK(again.has_value());
  KP_CHECK(data::same(*again, *value));
  KP_CHECK(data::print(*again) == text);
  const auto pretty = data::parse(data::print_pretty(*value));
  KP_CHECK(pretty.has_value() && data::same(*pretty, *value));
}

inline void journal_laws(std::string_view bytes) {
  const journal::Loaded loaded = journal::read(bytes);
  const bool newer = loaded.damage && loaded.damage->code == "newer-format";
  KP_CHECK(loaded.damage.has_value() == (loaded.damage_line != 0));
  KP_CHECK(!loaded.damage || newer ||
           loaded.damage_line == static_cast<int>(loaded.entries.size()) + 1);
  if (newer) {
    return;
  }
  // What was read is, byte for byte, the beginning of the text.
  std::vector<std::string> lines;
  for (const journal::Entry& entry : loaded.entries) {
    lines.push_back(journal::write_line(entry));
  }
  const std::string good = journal::to_file(lines);
  KP_CHECK(good.size() == static_cast<std::size_t>(loaded.good_bytes));
  if (!loaded.byte_order_mark && loaded.crlf_lines == 0) {
    KP_CHECK(good == bytes.substr(0, good.size()));
  }
  // Whatever it is, it is judged, and only a whole one is called whole.
  const journal::Judgement judgement = journal::judge(loaded);
  KP_CHECK(!journal::verdict_of(judgement).sentence.empty());
  KP_CHECK(!std::holds_alternative<journal::Whole>(judgement) ||
           (!loaded.damage && !loaded.torn_tail && !lines.empty()));
  KP_CHECK(loaded.tip_hash ==
           (lines.empty() ? std::string(journal::kNoPrev) : journal::line_hash(lines.back())));
  const journal::Loaded stored = journal::read_lines(lines);
  KP_CHECK(!stored.damage && stored.entries.size() == lines.size());
}

}  // namespace kp::test
