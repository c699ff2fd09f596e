#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "base/findings.hpp"
#include "bill/record.hpp"

namespace kp::bill {

/// Work boiled down to what a card puts a price on.
struct Effort {
  std::array<std::int64_t, kSegmentKinds> seconds{};  ///< by SegmentKind
  int call_outs = 1;
  Ratio distance;
  std::vector<PartUsed> parts;
  bool repaired = true;

  [[nodiscard]] std::int64_t of(SegmentKind kind) const {
    return seconds[static_cast<std::size_t>(kind)];
  }
  [[nodiscard]] std::int64_t& of(SegmentKind kind) {
    return seconds[static_cast<std::size_t>(kind)];
  }
};

/// Sums a record, its corrections included. What cannot be billed is left out and reported:
/// `time-unanswered`, `end-before-start`, `too-long` (a stretch over 24 h), `reason-missing`,
/// `correction-too-large`, `out-of-range` (quantity, cost, distance, visits). The pointer of a
/// finding names the field: "/segments/3".
[[nodiscard]] Effort effort_of(const WorkRecord& work, Findings& findings);

}  // namespace kp::bill
