#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "bill/record.hpp"

namespace kp::bill {

/// One cell of the time bar. `fraction` is its share of the whole; the shares add up to 1.
struct BarCell {
  SegmentKind kind = SegmentKind::labour;
  std::int64_t seconds = 0;
  double fraction = 0;
};

/// What stands below the bar, one for each kind that occurs, in the bar's order.
struct BarLabel {
  SegmentKind kind = SegmentKind::labour;
  std::string text;  ///< "labour 1 h 06", "waiting, not billed"
  std::int64_t seconds = 0;
};

/// The recorded time as one bar. Stretches without length are left out; neighbours of one kind
/// stay apart, since a break lay between them. Corrections count in the labels, not in the cells.
struct TimeBar {
  std::vector<BarCell> cells;
  std::vector<BarLabel> labels;
  std::int64_t total_seconds = 0;
};

[[nodiscard]] TimeBar time_bar(const WorkRecord& work);

/// The word for people: "travel", "diagnosis", "labour", "waiting", "own time".
[[nodiscard]] const char* segment_word(SegmentKind kind);

}  // namespace kp::bill
