#pragma once

#include <string>
#include <vector>

#include "journal/writer.hpp"

namespace kp::test {

/// A small journal whose lines differ in everything that a line can hold.
inline std::vector<journal::Entry> sample() {
  std::vector<journal::Entry> entries;
  const auto add = [&entries](const char* kind, data::Value payload) {
    journal::Entry entry;
    entry.seq = static_cast<std::uint32_t>(entries.size()) + 1;
    entry.at = Moment{1768383667250 + 61000 * static_cast<std::int64_t>(entries.size()), -300};
    entry.mono_ms = 61250 + 61000 * static_cast<std::int64_t>(entries.size());
    entry.life = "9f3a5c7e11d20b64";
    entry.by = "R. Ames";
    entry.kind = kind;
    entry.payload = std::move(payload);
    if (!entries.empty()) {
      entry.prev = journal::line_hash(journal::write_line(entries.back()));
    }
    entries.push_back(std::move(entry));
  };
  using data::Value;
  add("job-started", Value::object().set("format", Value::of(1)).set("pack", Value::of("demo")));
  add("supply-cut", Value::object().set("how", Value::of("breaker, locked")));
  add("reading", Value::object().set("ohm", Value::of(13.7)).set("note", Value::of("Ω \"ok\"\n")));
  add("note", data::Value::object());
  return entries;
}

inline std::vector<std::string> lines_of(const std::vector<journal::Entry>& entries) {
  std::vector<std::string> lines;
  for (const journal::Entry& entry : entries) {
    lines.push_back(journal::write_line(entry));
  }
  return lines;
}

}  // namespace kp::test
