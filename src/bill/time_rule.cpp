#include "bill/time_rule.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::bill {
namespace {

std::int64_t by_increment(std::int64_t minutes, const TimeRule& rule) {
  const std::int64_t step = std::max(1, rule.increment_min);
  const std::int64_t whole = minutes / step;
  const std::int64_t rest = minutes % step;
  const bool more = rule.rounding == TimeRounding::up ? rest > 0 : 2 * rest >= step;
  return (whole + (more ? 1 : 0)) * step;
}

}  // namespace

std::int64_t billed_minutes(std::int64_t seconds, const TimeRule& rule) {
  const std::int64_t minutes = seconds / 60;
  if (minutes <= 0) {
    return 0;
  }
  return std::max<std::int64_t>(by_increment(minutes, rule), rule.minimum_min);
}

std::string rule_text(std::int64_t seconds, const TimeRule& rule) {
  const std::int64_t minutes = seconds / 60;
  const std::string worked = duration_words(minutes * 60);
  if (minutes > 0 && by_increment(minutes, rule) < rule.minimum_min) {
    return cat(worked, ", at least ", rule.minimum_min, " minutes");
  }
  if (rule.increment_min <= 1) {
    return worked;
  }
  return cat(worked, rule.rounding == TimeRounding::up ? ", by " : ", to the nearest ",
             rule.increment_min, " minutes");
}

}  // namespace kp::bill
