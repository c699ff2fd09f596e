#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace kp {

/// A point in time, in milliseconds of UTC since 1970-01-01T00:00:00Z, with the offset of the
/// local clock at that moment. Durations come from utc_ms alone; the offset is for display.
struct Moment {
  std::int64_t utc_ms = 0;
  int offset_min = 0;
  friend bool operator==(const Moment&, const Moment&) = default;
};

/// Reads RFC 3339, e.g. "2026-03-29T01:30:00+01:00". Fractions of a second are kept to the
/// millisecond. A leap second (":60") is read as the first moment of the next minute.
/// Errors: code `bad-time` with what is wrong.
Result<Moment> parse_rfc3339(std::string_view text);

/// Prints RFC 3339 with the moment's own offset; milliseconds only where they are not zero.
[[nodiscard]] std::string rfc3339(Moment moment);

/// The same in UTC, always with milliseconds: "2026-03-29T00:30:00.000Z". For records that are
/// compared as bytes.
[[nodiscard]] std::string rfc3339_utc_ms(std::int64_t utc_ms);

/// "10:42" in the moment's own local time.
[[nodiscard]] std::string clock_text(Moment moment);

/// "2026-11-01" in the moment's own local time (ISO 8601).
[[nodiscard]] std::string date_text(Moment moment);

/// "00:31:08" from a duration in milliseconds; hours may pass 99; negative gets a minus sign.
[[nodiscard]] std::string duration_text(std::int64_t ms);

/// "27 min", "1 h 06", "45 s": for sentences. From a minute on, to the nearest minute.
[[nodiscard]] std::string duration_words(std::int64_t seconds);

}  // namespace kp
