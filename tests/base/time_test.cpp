#include "base/time.hpp"

#include <doctest/doctest.h>

#include <string>

#include "support/random.hpp"

using kp::Moment;

namespace {

std::int64_t utc(const char* text) {
  const auto moment = kp::parse_rfc3339(text);
  return moment ? moment->utc_ms : -1;
}

std::string why(const char* text) {
  const auto moment = kp::parse_rfc3339(text);
  return moment ? std::string("read as ") + kp::rfc3339(*moment) : moment.error().what;
}

}  // namespace

// RFC 3339 section 5.8 gives these as the same instant (from memory of the section; checked with
// coreutils' date).
TEST_CASE("one instant may be written with two offsets") {
  CHECK(utc("1996-12-19T16:39:57-08:00") == utc("1996-12-20T00:39:57Z"));
  CHECK(utc("1996-12-20T00:39:57Z") == 851042397000);
  CHECK(utc("1985-04-12T23:20:50.52Z") == 482196050520);
  CHECK(utc("1937-01-01T12:00:27.87+00:20") == -1041337172130);
}

// Computed: central Europe goes from +01:00 to +02:00 at 02:00 on that day.
TEST_CASE("an hour across the spring change is an hour") {
  CHECK(utc("2026-03-29T03:30:00+02:00") - utc("2026-03-29T01:30:00+01:00") == 60 * 60 * 1000);
}

// Computed: eastern North America goes from -04:00 back to -05:00 at 02:00 on that day.
TEST_CASE("an hour across the autumn change is an hour") {
  CHECK(utc("2026-11-01T01:30:00-05:00") - utc("2026-11-01T01:30:00-04:00") == 60 * 60 * 1000);
}

// RFC 3339 section 5.8: two ways to write the leap second at the end of 1990.
TEST_CASE("a leap second is read as the first moment of the next minute") {
  CHECK(utc("1990-12-31T23:59:60Z") == utc("1991-01-01T00:00:00Z"));
  CHECK(utc("1990-12-31T15:59:60-08:00") == utc("1991-01-01T00:00:00Z"));
  CHECK(why("1990-12-31T22:59:60Z") ==
        "\"1990-12-31T22:59:60Z\": only the last minute of a day of UTC can have a second 60");
}

TEST_CASE("what is no time is refused with the reason") {
  CHECK(why("") == "\"\": expected 4 digits of the year");
  CHECK(why("2026-1-1T00:00:00Z") == "\"2026-1-1T00:00:00Z\": expected 2 digits of the month");
  CHECK(why("2026-13-01T00:00:00Z") ==
        "\"2026-13-01T00:00:00Z\": the month is 13 and must be 1 to 12");
  CHECK(why("2026-02-29T00:00:00Z") == "\"2026-02-29T00:00:00Z\": this month has no such day");
  CHECK(why("2024-02-29T00:00:00Z") == "read as 2024-02-29T00:00:00Z");
  CHECK(why("1900-02-29T00:00:00Z") == "\"1900-02-29T00:00:00Z\": this month has no such day");
  CHECK(why("2000-02-29T00:00:00Z") == "read as 2000-02-29T00:00:00Z");
  CHECK(why("2026-01-01 00:00:00Z") == "\"2026-01-01 00:00:00Z\": expected \"T\"");
  CHECK(why("2026-01-01T24:00:00Z") ==
        "\"2026-01-01T24:00:00Z\": the hour is 24 and must be 0 to 23");
  CHECK(why("2026-01-01T00:00:61Z") ==
        "\"2026-01-01T00:00:61Z\": the second is 61 and must be 0 to 60");
  CHECK(why("2026-01-01T00:00:00") ==
        "\"2026-01-01T00:00:00\": expected \"Z\" or an offset such as \"+01:00\"");
  CHECK(why("2026-01-01T00:00:00.Z") ==
        "\"2026-01-01T00:00:00.Z\": expected digits after the point");
  CHECK(why("2026-01-01T00:00:00+24:00") ==
        "\"2026-01-01T00:00:00+24:00\": the offset's hour is 24 and must be 0 to 23");
  CHECK(why("2026-01-01T00:00:00Zulu") ==
        "\"2026-01-01T00:00:00Zulu\": there is more text after the time");
  const auto failed = kp::parse_rfc3339("now");
  CHECK(failed.error().code == "bad-time");
  CHECK(failed.error().remedy == "Write the time as in \"2026-03-29T01:30:00+01:00\".");
}

TEST_CASE("times are printed with their own offset") {
  CHECK(kp::rfc3339(*kp::parse_rfc3339("2026-03-29t01:30:00+01:00")) ==
        "2026-03-29T01:30:00+01:00");
  CHECK(kp::rfc3339(*kp::parse_rfc3339("2026-03-29T01:30:00.1-09:30")) ==
        "2026-03-29T01:30:00.100-09:30");
  CHECK(kp::rfc3339(*kp::parse_rfc3339("2026-03-29T01:30:00.123999Z")) ==
        "2026-03-29T01:30:00.123Z");
  CHECK(kp::rfc3339_utc_ms(utc("2026-03-29T01:30:00+01:00")) == "2026-03-29T00:30:00.000Z");
  const Moment late{utc("2026-01-01T03:42:10Z"), -300};
  CHECK(kp::clock_text(late) == "22:42");
  CHECK(kp::date_text(late) == "2025-12-31");
}

TEST_CASE("printing and reading give the moment back, over all years that can be written") {
  kp::test::Random random(7);
  CAPTURE(random.seed());
  const std::int64_t first = utc("0001-01-01T00:00:00Z");
  const std::int64_t last = utc("9998-12-31T23:59:59.999Z");
  for (int i = 0; i < 20000; ++i) {
    const auto span = static_cast<std::uint64_t>(last - first);
    Moment moment;
    moment.utc_ms = first + static_cast<std::int64_t>(random.next() % span);
    moment.offset_min = random.between(-23 * 60 - 59, 23 * 60 + 59);
    const std::string text = kp::rfc3339(moment);
    CAPTURE(text);
    const auto back = kp::parse_rfc3339(text);
    CHECK((back.has_value() && *back == moment));
    CHECK(utc(kp::rfc3339_utc_ms(moment.utc_ms).c_str()) == moment.utc_ms);
  }
}

TEST_CASE("a moment that no date can hold is held at the end and does not crash") {
  CHECK(kp::rfc3339(Moment{INT64_MAX, 0}) == "9999-12-31T23:59:59.999Z");
  CHECK(kp::rfc3339(Moment{INT64_MIN, 0}) == "0000-01-01T00:00:00Z");
}

TEST_CASE("durations for the clock and for sentences") {
  CHECK(kp::duration_text(0) == "00:00:00");
  CHECK(kp::duration_text(1868000) == "00:31:08");
  CHECK(kp::duration_text(1868999) == "00:31:08");
  CHECK(kp::duration_text(-61000) == "-00:01:01");
  CHECK(kp::duration_text(360000000) == "100:00:00");
  CHECK(kp::duration_words(45) == "45 s");
  CHECK(kp::duration_words(60) == "1 min");
  CHECK(kp::duration_words(1620) == "27 min");
  CHECK(kp::duration_words(3569) == "59 min");
  CHECK(kp::duration_words(3570) == "1 h 00");
  CHECK(kp::duration_words(3960) == "1 h 06");
  CHECK(kp::duration_words(-45) == "-45 s");
}
