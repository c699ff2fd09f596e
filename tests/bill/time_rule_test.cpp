#include "bill/time_rule.hpp"

#include <doctest/doctest.h>

using namespace kp::bill;

namespace {

std::int64_t minutes(std::int64_t worked, int step, TimeRounding rounding) {
  return billed_minutes(worked * 60, TimeRule{step, rounding, 0});
}

}  // namespace

TEST_CASE("quarter hours to the nearest: 29 CFR 785.48(b)") {
  // The law on rounding worked time accepts nearest quarter hours; figures from its guidance, as
  // read. It governs wages; what a customer is billed is the shop's card.
  const int cases[][2] = {{7, 0}, {8, 15}, {22, 15}, {23, 30}, {52, 45}, {53, 60}, {67, 60}, {68, 75}};
  for (const auto& c : cases) {
    CAPTURE(c[0]);
    CHECK(minutes(c[0], 15, TimeRounding::nearest) == c[1]);
  }
}

TEST_CASE("six minutes, a started one is a whole one: computed by hand") {
  const int cases[][2] = {{0, 0}, {1, 6}, {6, 6}, {7, 12}, {61, 66}, {66, 66}, {67, 72}};
  for (const auto& c : cases) {
    CAPTURE(c[0]);
    CHECK(minutes(c[0], 6, TimeRounding::up) == c[1]);
  }
}

TEST_CASE("six minutes to the nearest: computed by hand") {
  const int cases[][2] = {{2, 0}, {3, 6}, {7, 6}, {8, 6}, {22, 24}, {61, 60}, {67, 66}};
  for (const auto& c : cases) {
    CAPTURE(c[0]);
    CHECK(minutes(c[0], 6, TimeRounding::nearest) == c[1]);
  }
}

TEST_CASE("five minutes to the nearest: computed by hand") {
  const int cases[][2] = {{7, 5}, {8, 10}, {23, 25}, {53, 55}, {68, 70}};
  for (const auto& c : cases) {
    CAPTURE(c[0]);
    CHECK(minutes(c[0], 5, TimeRounding::nearest) == c[1]);
  }
}

TEST_CASE("seconds below a minute are not billed, and no time costs nothing") {
  const TimeRule rule{6, TimeRounding::up, 30};
  CHECK(billed_minutes(0, rule) == 0);
  CHECK(billed_minutes(59, rule) == 0);
  CHECK(billed_minutes(60, rule) == 30);
  CHECK(billed_minutes(30 * 60 + 59, rule) == 30);
  CHECK(billed_minutes(31 * 60, rule) == 36);
  CHECK(billed_minutes(-600, rule) == 0);
}

TEST_CASE("the rule says itself") {
  CHECK(rule_text(67 * 60, TimeRule{6, TimeRounding::up, 0}) == "1 h 07, by 6 minutes");
  CHECK(rule_text(12 * 60, TimeRule{6, TimeRounding::up, 30}) == "12 min, at least 30 minutes");
  CHECK(rule_text(12 * 60, TimeRule{15, TimeRounding::nearest, 0}) ==
        "12 min, to the nearest 15 minutes");
  CHECK(rule_text(12 * 60 + 40, TimeRule{1, TimeRounding::up, 0}) == "12 min");
}
