#pragma once
// One entry of a store, read by itself.

#include <string>

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "journal/format.hpp"

namespace kp::test {

/// A stored entry without its place in the chain.
inline journal::Entry entry_of(const std::string& stored) {
  journal::Entry out;
  for (const std::string& text : split(stored, '\n')) {
    const auto line = data::parse(text);
    REQUIRE(line.has_value());
    if (out.kind.empty()) {
      out.kind = line.value().find("kind")->text;
      out.by = line.value().find("by")->text;
      out.payload = *line.value().find("data");
      continue;
    }
    journal::Part part;
    part.whose = line.value().find("whose")->text;
    part.words = *line.value().find("words");
    part.erased = false;
    out.parts.push_back(part);
  }
  return out;
}

}  // namespace kp::test
