#include <doctest/doctest.h>

#include "base/time.hpp"
#include "job/clock.hpp"
#include "support/random.hpp"

namespace {

using kp::job::ClockFlag;
using kp::job::ClockRule;
using kp::job::ClockState;
using kp::job::Phase;
using kp::job::Stamp;

constexpr std::int64_t kMinute = 60'000;
constexpr std::int64_t kHour = 60 * kMinute;
constexpr std::int64_t kStart = 1'767'225'600'000;  // 2026-01-01T00:00:00Z

Stamp stamp(std::uint32_t n, std::int64_t wall_ms, std::int64_t mono_ms, const char* life = "a") {
  return Stamp{n, kp::Moment{kStart + wall_ms, 60}, mono_ms, life, "Ada"};
}

struct Row {
  const char* what;
  Stamp to;
  bool hidden;
  ClockFlag flag;
  std::int64_t counted;
};

}  // namespace

TEST_CASE("the rule of the job clock: each kind of interval, each counted as the rule says") {
  // The rule is this project's own; that a monotonic clock stops in sleep on most systems is said
  // by the W3C's High Resolution Time issue 115.
  const Stamp from = stamp(1, 0, 5'000);
  const Row rows[] = {
      {"normal", stamp(2, 10 * kMinute, 5'000 + 10 * kMinute + 1'500), false, ClockFlag::none,
       10 * kMinute},
      {"device slept", stamp(2, 20 * kMinute, 5'000 + 3 * kMinute), true, ClockFlag::slept,
       20 * kMinute},
      {"clock set forward", stamp(2, kHour + 5 * kMinute, 5'000 + 5 * kMinute), false,
       ClockFlag::set_forward, 5 * kMinute},
      {"clock set back", stamp(2, -25 * kMinute, 5'000 + 5 * kMinute), false, ClockFlag::set_back,
       5 * kMinute},
      {"program was closed", stamp(2, 4 * kMinute + 10'000, 100, "b"), false,
       ClockFlag::app_closed, 4 * kMinute + 10'000},
      {"closed for half an hour", stamp(2, 30 * kMinute, 100, "b"), false, ClockFlag::app_closed,
       30 * kMinute},
      {"closed for longer: asked for", stamp(2, 30 * kMinute + 1, 100, "b"), false,
       ClockFlag::unknown_gap, 0},
      {"dark for longer, clocks agree", stamp(2, 31 * kMinute, 5'000 + 31 * kMinute), true,
       ClockFlag::unknown_gap, 0},
      {"dark for longer, clock set back", stamp(2, -kHour, 5'000 + 31 * kMinute), true,
       ClockFlag::unknown_gap, 0},
      {"seen for longer: it was work", stamp(2, 3 * kHour, 5'000 + 3 * kHour), false,
       ClockFlag::none, 3 * kHour},
      {"closed, wall behind", stamp(2, -kMinute, 100, "b"), false, ClockFlag::unknown_gap, 0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    const auto choice = kp::job::judge(from, row.to, row.hidden, ClockRule{});
    CHECK(choice.flag == row.flag);
    CHECK(choice.counted_ms == row.counted);
  }
}

TEST_CASE("the texts of the choices name the time that was in doubt") {
  const auto slept = kp::job::judge(stamp(1, 0, 0), stamp(2, 20 * kMinute, 7 * kMinute + 57'000),
                                    true, ClockRule{});
  CHECK(kp::job::choice_text(slept) == "Screen off 00:12:03 of it");
  const auto forward =
      kp::job::judge(stamp(1, 0, 0), stamp(2, kHour + 1'000, 1'000), false, ClockRule{});
  CHECK(kp::job::choice_text(forward) == "Clock changed +01:00:00");
  const auto back =
      kp::job::judge(stamp(1, 0, 0), stamp(2, -30 * kMinute + 1'000, 1'000), false, ClockRule{});
  CHECK(kp::job::choice_text(back) == "Clock changed -00:30:00");
  const auto closed =
      kp::job::judge(stamp(1, 0, 0), stamp(2, 250'000, 0, "b"), false, ClockRule{});
  CHECK(kp::job::choice_text(closed) == "App was closed 00:04:10");
  auto away = kp::job::judge(stamp(1, 0, 0), stamp(2, 11 * kHour, 0, "b"), false, ClockRule{});
  away.counted_ms = 20 * kMinute;
  CHECK(kp::job::choice_text(away) == "Away 11:00:00, 00:20:00 counted");
}

TEST_CASE("daylight saving and a changed offset do not change what is counted") {
  // Instants as RFC 3339 writes them; both nights hold exactly one hour.
  struct Night {
    const char* from;
    const char* to;
  };
  const Night nights[] = {
      {"2026-03-29T01:30:00+01:00", "2026-03-29T03:30:00+02:00"},
      {"2026-11-01T01:30:00-04:00", "2026-11-01T01:30:00-05:00"},
      {"2026-12-31T23:30:00+01:00", "2027-01-01T00:30:00+01:00"},
      {"2028-02-28T23:30:00+00:00", "2028-02-29T00:30:00+00:00"},
      {"2026-05-05T10:00:00+02:00", "2026-05-05T04:00:00-05:00"},
  };
  for (const Night& night : nights) {
    CAPTURE(night.from);
    const auto from = kp::parse_rfc3339(night.from);
    const auto to = kp::parse_rfc3339(night.to);
    REQUIRE(from.has_value());
    REQUIRE(to.has_value());
    ClockState clock;
    kp::job::advance(clock, Stamp{1, from.value(), 0, "a", "Ada"}, ClockRule{});
    kp::job::advance(clock, Stamp{2, to.value(), kHour, "a", "Ada"}, ClockRule{});
    CHECK(kp::job::total_ms(clock) == kHour);
  }
}

TEST_CASE("phases split the time and a correction is kept apart from what was counted") {
  ClockState clock;
  const ClockRule rule;
  kp::job::advance(clock, stamp(1, 0, 0), rule);
  kp::job::change_phase(clock, Phase::travel);
  kp::job::advance(clock, stamp(2, 18 * kMinute, 18 * kMinute), rule);
  kp::job::change_phase(clock, Phase::labour);
  kp::job::advance(clock, stamp(3, 84 * kMinute, 84 * kMinute), rule);
  kp::job::change_phase(clock, Phase::waiting);
  kp::job::advance(clock, stamp(4, 90 * kMinute, 90 * kMinute), rule);
  CHECK(clock.segments.size() == 3);
  CHECK(kp::job::total_ms(clock, Phase::travel) == 18 * kMinute);
  CHECK(kp::job::total_ms(clock, Phase::labour) == 66 * kMinute);
  CHECK(kp::job::total_ms(clock, Phase::waiting) == 6 * kMinute);
  clock.corrections.push_back({5, Phase::labour, -10 * kMinute, "coffee with the customer"});
  CHECK(kp::job::total_ms(clock, Phase::labour) == 56 * kMinute);
  CHECK(clock.segments[1].counted_ms == 66 * kMinute);
}

TEST_CASE("an unknown gap counts nothing until it is answered, and only once") {
  ClockState clock;
  const ClockRule rule;
  kp::job::advance(clock, stamp(1, 0, 0), rule);
  kp::job::advance(clock, stamp(2, 20 * kHour, 0, "b"), rule);
  CHECK(kp::job::total_ms(clock) == 0);
  CHECK(clock.open_questions.size() == 1);
  CHECK(kp::job::settle_gap(clock, 2, 30 * kMinute));
  CHECK(kp::job::total_ms(clock) == 30 * kMinute);
  CHECK(clock.open_questions.empty());
  CHECK_FALSE(kp::job::settle_gap(clock, 2, 60 * kMinute));
}

TEST_CASE("a night with the program closed counts nothing before somebody says so, unless it waited") {
  // Half an hour is this project's first choice of the shop's limit.
  for (const Phase phase : {Phase::labour, Phase::diagnosis, Phase::travel}) {
    ClockState clock;
    kp::job::advance(clock, stamp(1, 0, 0), ClockRule{});
    kp::job::change_phase(clock, phase);
    kp::job::advance(clock, stamp(2, 11 * kHour + 30 * kMinute, 0, "b"), ClockRule{});
    CHECK(kp::job::total_ms(clock) == 0);
    CHECK(clock.open_questions.size() == 1);
  }
  for (const Phase phase : {Phase::waiting, Phase::unbilled}) {
    ClockState clock;
    kp::job::advance(clock, stamp(1, 0, 0), ClockRule{});
    kp::job::change_phase(clock, phase);
    CHECK(kp::job::total_ms_at(clock, stamp(2, 11 * kHour, 0, "b"), ClockRule{}) == 11 * kHour);
    kp::job::advance(clock, stamp(2, 11 * kHour, 0, "b"), ClockRule{});
    CHECK(kp::job::total_ms(clock, phase) == 11 * kHour);
    CHECK(clock.open_questions.empty());
  }
}

TEST_CASE("the clock counts whatever is true of both clocks: never negative, never more than wall "
          "or monotonic time") {
  kp::test::Random random(20260101);
  CAPTURE(random.seed());
  for (int run = 0; run < 2'000; ++run) {
    ClockState clock;
    const ClockRule rule;
    std::int64_t wall = 0;
    std::int64_t mono = 0;
    std::int64_t most = 0;
    kp::job::advance(clock, stamp(1, 0, 0), rule);
    for (std::uint32_t n = 2; n < 12; ++n) {
      const std::int64_t step = random.between(0, 3'600'000);
      const std::int64_t jump = random.chance(0.3) ? random.between(-7'200'000, 7'200'000) : 0;
      mono += step;
      wall += step + jump;
      clock.hidden = random.chance(0.3);
      most += std::max<std::int64_t>({step, step + jump, 0});
      kp::job::advance(clock, stamp(n, wall, mono), rule);
      CHECK(kp::job::total_ms(clock) >= 0);
      CHECK(kp::job::total_ms(clock) <= most);
    }
  }
}
