#include "bill/effort.hpp"

#include "base/text.hpp"

namespace kp::bill {
namespace {

constexpr std::int64_t kLongestMs = 24LL * 3600 * 1000;
constexpr std::int64_t kMostCost = 1000000000;
constexpr std::int64_t kMostQuantity = 10000;
constexpr std::int64_t kMostDenominator = 1000;

void report(Findings& findings, std::string code, std::string pointer, std::string what,
            std::string remedy) {
  Finding finding;
  finding.code = std::move(code);
  finding.pointer = std::move(pointer);
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings.add(std::move(finding));
}

bool within(Ratio value, std::int64_t most) {
  return value.den > 0 && value.den <= kMostDenominator && value.num >= 0 &&
         value.num <= most * value.den;
}

bool countable(const Segment& segment, const std::string& pointer, Findings& findings) {
  if (segment.unanswered) {
    report(findings, "time-unanswered", pointer, "the clock could not tell how long this took",
           "Say how long it was before the invoice is final.");
    return false;
  }
  if (segment.milliseconds() < 0) {
    report(findings, "end-before-start", pointer, "this time ends before it starts",
           "Correct it by a new record with a reason.");
    return false;
  }
  if (segment.milliseconds() > kLongestMs) {
    report(findings, "too-long", pointer, "this time is longer than 24 hours",
           "Correct it by a new record with a reason.");
    return false;
  }
  return true;
}

void add_segments(const WorkRecord& work, Effort& effort, Findings& findings) {
  std::array<std::int64_t, kSegmentKinds> sums{};
  for (int i = 0; i < to_int(work.segments.size()); ++i) {
    const Segment& segment = work.segments[to_size(i)];
    if (countable(segment, cat("/segments/", i), findings)) {
      sums[static_cast<std::size_t>(segment.kind)] += segment.milliseconds();
    }
  }
  for (std::size_t kind = 0; kind < sums.size(); ++kind) {
    effort.seconds[kind] = sums[kind] / 1000;
  }
}

void add_corrections(const WorkRecord& work, Effort& effort, Findings& findings) {
  for (int i = 0; i < to_int(work.corrections.size()); ++i) {
    const TimeCorrection& correction = work.corrections[to_size(i)];
    const std::string pointer = cat("/corrections/", i);
    if (trim(correction.reason).empty()) {
      report(findings, "reason-missing", pointer, "a correction has no reason",
             "Write why the time is corrected.");
      continue;
    }
    const std::int64_t most = kLongestMs / 1000;
    const std::int64_t next = effort.of(correction.kind) + correction.seconds;
    if (correction.seconds > most || correction.seconds < -most || next < 0) {
      report(findings, "correction-too-large", pointer,
             "a correction is larger than the time it corrects",
             cat("Give from ", -effort.of(correction.kind), " to ", most, " seconds."));
      continue;
    }
    effort.of(correction.kind) = next;
  }
}

void add_parts(const WorkRecord& work, Effort& effort, Findings& findings) {
  for (int i = 0; i < to_int(work.parts.size()); ++i) {
    const PartUsed& part = work.parts[to_size(i)];
    const std::string pointer = cat("/parts/", i);
    if (!within(part.quantity, kMostQuantity) || part.quantity.num == 0) {
      report(findings, "out-of-range", pointer + "/quantity",
             cat("the quantity of ", part.name, " cannot be billed"),
             cat("Give more than 0 and at most ", kMostQuantity, "."));
    } else if (part.cost_minor < 0 || part.cost_minor > kMostCost) {
      report(findings, "out-of-range", pointer + "/cost",
             cat("the price of ", part.name, " cannot be billed"),
             cat("Give from 0 to ", kMostCost, " minor units."));
    } else {
      effort.parts.push_back(part);
    }
  }
}

}  // namespace

Effort effort_of(const WorkRecord& work, Findings& findings) {
  Effort effort;
  add_segments(work, effort, findings);
  add_corrections(work, effort, findings);
  add_parts(work, effort, findings);
  effort.repaired = work.outcome == Outcome::repaired;
  if (work.call_outs < 0 || work.call_outs > 100) {
    report(findings, "out-of-range", "/call_outs", cat("there are ", work.call_outs, " call-outs"),
           "Give from 0 to 100.");
    effort.call_outs = 0;
  } else {
    effort.call_outs = work.call_outs;
  }
  if (within(work.distance, kMostQuantity)) {
    effort.distance = work.distance;
  } else {
    report(findings, "out-of-range", "/distance", "the distance cannot be billed",
           cat("Give from 0 to ", kMostQuantity, "."));
  }
  return effort;
}

}  // namespace kp::bill
