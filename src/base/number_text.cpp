// Doubles as text, in one place and the same on every target.

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp {
namespace {

constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// JSON's number grammar (RFC 8259 section 6), whole text.
bool is_json_number(std::string_view text) {
  std::size_t at = 0;
  const auto peek = [&text, &at]() { return at < text.size() ? text[at] : '\0'; };
  const auto digits = [&]() {
    const std::size_t from = at;
    while (is_digit(peek())) {
      ++at;
    }
    return at > from;
  };
  if (peek() == '-') {
    ++at;
  }
  if (peek() == '0') {
    ++at;
  } else if (!digits()) {
    return false;
  }
  if (peek() == '.') {
    ++at;
    if (!digits()) {
      return false;
    }
  }
  if (peek() == 'e' || peek() == 'E') {
    ++at;
    if (peek() == '+' || peek() == '-') {
      ++at;
    }
    if (!digits()) {
      return false;
    }
  }
  return at == text.size();
}

/// 0.d1d2d3... times ten to the power `exponent`; no zero at either end of the digits but for
/// the number zero, which has none at all.
struct Decimal {
  bool negative = false;
  std::string digits;
  int exponent = 0;
};

/// The fewest digits that read back as the same double, the nearest of them to it.
Decimal shortest(double value) {
  Decimal out;
  out.negative = std::signbit(value);
  const double size = std::fabs(value);
  std::array<char, 40> buffer{};
  // A normal double keeps any fifteen digits, so what needs fewer shows as zeros at their end, and
  // what needs more takes 16 or 17. Below the normal ones fewer digits may do, and differ.
  const int fewest = size < std::numeric_limits<double>::min() ? 0 : 14;
  for (int precision = fewest; precision <= 16; ++precision) {
    std::snprintf(buffer.data(), buffer.size(), "%.*e", precision, size);
    if (std::strtod(buffer.data(), nullptr) == size) {
      break;
    }
  }
  const std::string_view text(buffer.data());
  const std::size_t e = text.find('e');
  for (const char c : text.substr(0, e)) {
    if (is_digit(c)) {
      out.digits += c;
    }
  }
  out.exponent = std::atoi(buffer.data() + e + 1) + 1;
  while (!out.digits.empty() && out.digits.back() == '0') {
    out.digits.pop_back();
  }
  return out;
}

std::string zeros(int count) { return std::string(to_size(count > 0 ? count : 0), '0'); }

std::string spoken_special(double value) {
  if (std::isnan(value)) {
    return "nan";
  }
  return value < 0 ? "-inf" : "inf";
}

/// Adds one in the last place of a run of digits; a carry out of the first makes it longer.
void count_up(std::string& digits) {
  for (std::size_t i = digits.size(); i > 0; --i) {
    if (digits[i - 1] != '9') {
      ++digits[i - 1];
      return;
    }
    digits[i - 1] = '0';
  }
  digits.insert(digits.begin(), '1');
}

}  // namespace

std::optional<double> parse_number(std::string_view text) {
  if (!is_json_number(text)) {
    return std::nullopt;
  }
  const double value = std::strtod(std::string(text).c_str(), nullptr);
  if (!std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::string number_text(double value) {
  if (!std::isfinite(value)) {
    return spoken_special(value);
  }
  const Decimal decimal = shortest(value);
  const int count = to_int(decimal.digits.size());
  const int point = decimal.exponent;
  if (count == 0) {
    return "0";
  }
  std::string out = decimal.negative ? "-" : "";
  if (point > 21 || point <= -6) {
    out += decimal.digits[0];
    if (count > 1) {
      out += cat(".", std::string_view(decimal.digits).substr(1));
    }
    return out + cat(point > 0 ? "e+" : "e-", std::abs(point - 1));
  }
  if (point <= 0) {
    return out + cat("0.", zeros(-point), decimal.digits);
  }
  if (count <= point) {
    return out + decimal.digits + zeros(point - count);
  }
  const std::string_view digits = decimal.digits;
  return out + cat(digits.substr(0, to_size(point)), ".", digits.substr(to_size(point)));
}

std::string fixed_text(double value, int decimals) {
  KP_CHECK(decimals >= 0);
  if (!std::isfinite(value)) {
    return spoken_special(value);
  }
  const Decimal decimal = shortest(value);
  // The wanted digits as one whole number, the first `keep` of them from the decimal.
  const int keep = decimal.exponent + decimals;
  const int count = to_int(decimal.digits.size());
  std::string digits;
  if (keep >= 0 && count > 0) {
    digits = decimal.digits.substr(0, to_size(keep)) + zeros(keep - count);
    if (keep < count && decimal.digits[to_size(keep)] >= '5') {
      count_up(digits);
    }
  }
  const bool zero = digits.find_first_not_of('0') == std::string::npos;
  digits.insert(0, zeros(decimals + 1 - to_int(digits.size())));
  std::string out = decimal.negative && !zero ? "-" : "";
  const std::size_t whole = digits.size() - to_size(decimals);
  out += digits.substr(0, whole);
  if (decimals > 0) {
    out += cat(".", digits.substr(whole));
  }
  return out;
}

}  // namespace kp
