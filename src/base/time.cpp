#include "base/time.hpp"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <optional>

#include "base/text.hpp"

namespace kp {
namespace {

constexpr std::int64_t kMsPerSecond = 1000;
constexpr std::int64_t kMsPerMinute = 60 * kMsPerSecond;
constexpr std::int64_t kMsPerDay = 24 * 60 * kMsPerMinute;
// 0000-01-01T00:00:00Z and 9999-12-31T23:59:59.999Z: the years that RFC 3339 can write.
constexpr std::int64_t kFirstMs = -62167219200000;
constexpr std::int64_t kLastMs = 253402300799999;

struct Parts {
  int year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0, ms = 0;
};

std::optional<std::int64_t> days_since_1970(int year, int month, int day) {
  const std::chrono::year_month_day date{std::chrono::year(year),
                                         std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) {
    return std::nullopt;
  }
  const std::int64_t days = std::chrono::sys_days(date).time_since_epoch().count();
  return days;
}

/// The calendar and the clock at that place; what no four digits can hold is held at the ends.
Parts local_parts(std::int64_t utc_ms, int offset_min) {
  const std::int64_t bounded = std::clamp(utc_ms, kFirstMs, kLastMs);
  const std::int64_t local = std::clamp(bounded + offset_min * kMsPerMinute, kFirstMs, kLastMs);
  const std::int64_t day = (local - kFirstMs) / kMsPerDay + kFirstMs / kMsPerDay;
  const int rest = static_cast<int>((local - kFirstMs) % kMsPerDay);
  const std::chrono::year_month_day date{
      std::chrono::sys_days(std::chrono::days(static_cast<int>(day)))};
  Parts parts;
  parts.year = static_cast<int>(date.year());
  parts.month = static_cast<int>(static_cast<unsigned>(date.month()));
  parts.day = static_cast<int>(static_cast<unsigned>(date.day()));
  parts.hour = rest / 3600000;
  parts.minute = rest / 60000 % 60;
  parts.second = rest / 1000 % 60;
  parts.ms = rest % 1000;
  return parts;
}

std::string padded(std::int64_t value, int width) {
  std::string text = integer_text(value);
  if (to_int(text.size()) < width) {
    text.insert(0, to_size(width) - text.size(), '0');
  }
  return text;
}

std::string date_of(const Parts& parts) {
  return cat(padded(parts.year, 4), "-", padded(parts.month, 2), "-", padded(parts.day, 2));
}

std::string seconds_of(const Parts& parts) {
  return cat(padded(parts.hour, 2), ":", padded(parts.minute, 2), ":", padded(parts.second, 2));
}

/// Takes the text from the front, one field after another; remembers the first thing wrong.
class Scanner {
 public:
  explicit Scanner(std::string_view text) : rest_(text) {}

  int number(std::size_t digits, int least, int most, const char* name) {
    int value = 0;
    for (std::size_t i = 0; i < digits; ++i) {
      if (i >= rest_.size() || rest_[i] < '0' || rest_[i] > '9') {
        blame(cat("expected ", to_int(digits), " digits of the ", name));
        return least;
      }
      value = value * 10 + (rest_[i] - '0');
    }
    rest_.remove_prefix(digits);
    if (value < least || value > most) {
      blame(cat("the ", name, " is ", value, " and must be ", least, " to ", most));
      return least;
    }
    return value;
  }

  bool take(std::string_view any_of) {
    if (rest_.empty() || any_of.find(rest_.front()) == std::string_view::npos) {
      return false;
    }
    rest_.remove_prefix(1);
    return true;
  }

  void want(std::string_view any_of) {
    if (!take(any_of)) {
      blame(cat("expected \"", any_of.substr(0, 1), "\""));
    }
  }

  int milliseconds() {
    if (!take(".")) {
      return 0;
    }
    int value = 0;
    int count = 0;
    while (!rest_.empty() && rest_.front() >= '0' && rest_.front() <= '9') {
      value = count < 3 ? value * 10 + (rest_.front() - '0') : value;
      ++count;
      rest_.remove_prefix(1);
    }
    if (count == 0) {
      blame("expected digits after the point");
    }
    for (; count < 3; ++count) {
      value *= 10;
    }
    return value;
  }

  int offset_minutes() {
    if (take("Zz")) {
      return 0;
    }
    const bool west = !rest_.empty() && rest_.front() == '-';
    if (!take("+-")) {
      blame("expected \"Z\" or an offset such as \"+01:00\"");
      return 0;
    }
    const int hours = number(2, 0, 23, "offset's hour");
    want(":");
    const int minutes = number(2, 0, 59, "offset's minute");
    return (west ? -1 : 1) * (hours * 60 + minutes);
  }

  void blame(std::string what) {
    if (wrong_.empty()) {
      wrong_ = std::move(what);
    }
  }

  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  [[nodiscard]] const std::string& wrong() const { return wrong_; }

 private:
  std::string_view rest_;
  std::string wrong_;
};

}  // namespace

Result<Moment> parse_rfc3339(std::string_view text) {
  Scanner scan(text);
  Parts parts;
  parts.year = scan.number(4, 0, 9999, "year");
  scan.want("-");
  parts.month = scan.number(2, 1, 12, "month");
  scan.want("-");
  parts.day = scan.number(2, 1, 31, "day");
  scan.want("Tt");
  parts.hour = scan.number(2, 0, 23, "hour");
  scan.want(":");
  parts.minute = scan.number(2, 0, 59, "minute");
  scan.want(":");
  parts.second = scan.number(2, 0, 60, "second");
  parts.ms = scan.milliseconds();
  const int offset = scan.offset_minutes();
  if (!scan.at_end()) {
    scan.blame("there is more text after the time");
  }
  const auto days = days_since_1970(parts.year, parts.month, parts.day);
  if (!days) {
    scan.blame("this month has no such day");
  }
  const std::int64_t minutes =
      days.value_or(0) * 24 * 60 + parts.hour * 60 + parts.minute - offset;
  if (parts.second == 60) {
    // Leap seconds end a day of UTC, so there is only one minute that can have one.
    if (((minutes % 1440) + 1440) % 1440 != 1439) {
      scan.blame("only the last minute of a day of UTC can have a second 60");
    }
    parts.ms = 0;
  }
  if (!scan.wrong().empty()) {
    return fail("bad-time", cat("\"", text, "\": ", scan.wrong()), {},
                "Write the time as in \"2026-03-29T01:30:00+01:00\".");
  }
  return Moment{minutes * kMsPerMinute + parts.second * kMsPerSecond + parts.ms, offset};
}

std::string rfc3339(Moment moment) {
  const Parts parts = local_parts(moment.utc_ms, moment.offset_min);
  std::string out = cat(date_of(parts), "T", seconds_of(parts));
  if (parts.ms != 0) {
    out += cat(".", padded(parts.ms, 3));
  }
  if (moment.offset_min == 0) {
    return out + "Z";
  }
  const int size = std::abs(moment.offset_min);
  return out + cat(moment.offset_min < 0 ? "-" : "+", padded(size / 60, 2), ":",
                   padded(size % 60, 2));
}

std::string rfc3339_utc_ms(std::int64_t utc_ms) {
  const Parts parts = local_parts(utc_ms, 0);
  return cat(date_of(parts), "T", seconds_of(parts), ".", padded(parts.ms, 3), "Z");
}

std::string clock_text(Moment moment) {
  const Parts parts = local_parts(moment.utc_ms, moment.offset_min);
  return cat(padded(parts.hour, 2), ":", padded(parts.minute, 2));
}

std::string date_text(Moment moment) {
  return date_of(local_parts(moment.utc_ms, moment.offset_min));
}

std::string duration_text(std::int64_t ms) {
  const std::int64_t seconds = ms / kMsPerSecond;
  const std::int64_t size = std::abs(seconds);
  return cat(seconds < 0 ? "-" : "", padded(size / 3600, 2), ":", padded(size / 60 % 60, 2), ":",
             padded(size % 60, 2));
}

std::string duration_words(std::int64_t seconds) {
  const std::int64_t size = std::abs(seconds);
  const std::string sign = seconds < 0 ? "-" : "";
  if (size < 60) {
    return cat(sign, size, " s");
  }
  const std::int64_t minutes = size / 60 + (size % 60 >= 30 ? 1 : 0);
  if (minutes < 60) {
    return cat(sign, minutes, " min");
  }
  return cat(sign, minutes / 60, " h ", padded(minutes % 60, 2));
}

}  // namespace kp
