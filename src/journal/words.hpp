#pragma once
// What writer and reader of the journal must agree on, and nobody else needs.

#include <cstddef>
#include <string_view>

namespace kp::journal {

inline constexpr std::size_t kLifeDigits = 16;
inline constexpr std::size_t kHashDigits = 64;
inline constexpr std::size_t kSaltDigits = 32;
inline constexpr std::string_view kFormatName = "format";
/// How the line of a part begins; no record's line does.
inline constexpr std::string_view kPartBegin = R"({"beside":)";
/// More than any place on Earth is away from UTC; RFC 3339 can write 23:59.
inline constexpr int kMostOffset = 23 * 60 + 59;

[[nodiscard]] constexpr bool is_hex(std::string_view text, std::size_t digits) {
  if (text.size() != digits) {
    return false;
  }
  for (const char c : text) {
    if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'))) {
      return false;
    }
  }
  return true;
}

}  // namespace kp::journal
