#include "bill/bar.hpp"

#include "base/text.hpp"
#include "base/time.hpp"
#include "bill/effort.hpp"

namespace kp::bill {
namespace {

bool billed(SegmentKind kind) {
  return kind != SegmentKind::waiting && kind != SegmentKind::unbilled;
}

std::string label_text(SegmentKind kind, std::int64_t seconds) {
  const std::string worked = cat(segment_word(kind), " ", duration_words(seconds / 60 * 60));
  return billed(kind) ? worked : worked + ", not billed";
}

bool shown(const Segment& segment) {
  return !segment.unanswered && segment.milliseconds() >= 1000;
}

}  // namespace

const char* segment_word(SegmentKind kind) {
  switch (kind) {
    case SegmentKind::travel:
      return "travel";
    case SegmentKind::diagnosis:
      return "diagnosis";
    case SegmentKind::labour:
      return "labour";
    case SegmentKind::waiting:
      return "waiting";
    case SegmentKind::unbilled:
      return "own time";
  }
  return "";
}

TimeBar time_bar(const WorkRecord& work) {
  TimeBar bar;
  for (const Segment& segment : work.segments) {
    if (shown(segment)) {
      const std::int64_t seconds = segment.milliseconds() / 1000;
      bar.cells.push_back(BarCell{segment.kind, seconds, 0});
      bar.total_seconds += seconds;
    }
  }
  Findings unused;
  const Effort effort = effort_of(work, unused);
  for (BarCell& cell : bar.cells) {
    cell.fraction = static_cast<double>(cell.seconds) / static_cast<double>(bar.total_seconds);
    bool named = false;
    for (const BarLabel& label : bar.labels) {
      named = named || label.kind == cell.kind;
    }
    if (!named) {
      const std::int64_t seconds = effort.of(cell.kind);
      bar.labels.push_back(BarLabel{cell.kind, label_text(cell.kind, seconds), seconds});
    }
  }
  return bar;
}

}  // namespace kp::bill
