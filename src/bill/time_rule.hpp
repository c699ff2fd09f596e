#pragma once

#include <cstdint>
#include <string>

namespace kp::bill {

/// up: a started increment is a whole one. nearest: to the nearer one, a half goes up.
enum class TimeRounding { up, nearest };

/// How worked time becomes billed time.
struct TimeRule {
  int increment_min = 1;
  TimeRounding rounding = TimeRounding::up;
  int minimum_min = 0;  ///< billed at least, once there is any time at all
};

/// Billed minutes for worked seconds. Seconds below a whole minute are dropped first, so that a
/// person can follow the sum from the minutes on the sheet; the rule is applied once to the sum.
[[nodiscard]] std::int64_t billed_minutes(std::int64_t seconds, const TimeRule& rule);

/// How the billed time came about: "67 min, by 6 minutes", "12 min, at least 30 minutes".
[[nodiscard]] std::string rule_text(std::int64_t seconds, const TimeRule& rule);

}  // namespace kp::bill
