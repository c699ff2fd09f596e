#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kp {

/// A container's size as int; our containers stay far below 2^31 (packs, journals, screens).
[[nodiscard]] constexpr int to_int(std::size_t size) { return static_cast<int>(size); }
[[nodiscard]] constexpr std::size_t to_size(std::int64_t index) {
  return static_cast<std::size_t>(index);
}

/// Reads a decimal number of JSON's grammar, whole text. The same on every target.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);
/// Reads a whole number, whole text: digits, with "-" in front where it is negative.
[[nodiscard]] std::optional<std::int64_t> parse_integer(std::string_view text);
/// The fewest digits that read back as the same double, written as RFC 8785 section 3.2.2.3 says
/// ("0.002", "1e+30"; zero has no sign). What is not finite gives "nan", "inf", "-inf".
[[nodiscard]] std::string number_text(double value);
/// Fixed decimals, "13.70" for (13.7, 2). Rounds half away from zero on the decimal value.
[[nodiscard]] std::string fixed_text(double value, int decimals);
[[nodiscard]] std::string integer_text(std::int64_t value);

/// Joins its arguments: text, characters' strings and whole numbers.
[[nodiscard]] inline std::string to_text(std::string_view text) { return std::string(text); }
[[nodiscard]] inline std::string to_text(const char* text) { return text; }
[[nodiscard]] inline std::string to_text(int value) { return integer_text(value); }
[[nodiscard]] inline std::string to_text(std::int64_t value) { return integer_text(value); }
template <class... Parts>
[[nodiscard]] std::string cat(const Parts&... parts) {
  std::string out;
  ((out += to_text(parts)), ...);
  return out;
}

[[nodiscard]] std::vector<std::string> split(std::string_view text, char separator);
[[nodiscard]] std::string join(const std::vector<std::string>& parts, std::string_view separator);
[[nodiscard]] std::string_view trim(std::string_view text);
[[nodiscard]] std::string lower(std::string_view text);
/// The bytes of the well-formed UTF-8 sequence (RFC 3629) that starts at `at`, 0 where none does.
[[nodiscard]] int utf8_length(std::string_view text, std::size_t at);
/// Count of UTF-8 code points; a broken byte counts as one.
[[nodiscard]] int code_points(std::string_view utf8);

/// The text without the controls that turn the direction of reading round (U+202A to U+202E, U+2066
/// to U+2069): what reads otherwise than it is stored deceives. Marks of single letters stay.
[[nodiscard]] std::string without_direction(std::string_view utf8);
[[nodiscard]] constexpr bool turns_direction(char32_t point) {
  return (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
}

/// Edits (insert, delete, replace, swap of neighbours) that turn a into b; case-sensitive.
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);
/// The candidate nearest to `word`, if it is near enough to be a likely slip (distance at most a
/// third of the word's length, at least one); ties go to the first.
[[nodiscard]] std::optional<std::string> nearest(std::string_view word,
                                                 const std::vector<std::string>& candidates);

}  // namespace kp
