#include "base/money.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>
#include <vector>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp {
namespace {

__extension__ typedef __int128 Wide;

struct Known {
  std::string_view code;
  int digits;
};

// ISO 4217 minor units, from memory of the list: the currencies of places where a card of this
// trade may be written.
constexpr std::array<Known, 44> kKnown = {{
    {"USD", 2}, {"EUR", 2}, {"GBP", 2}, {"CAD", 2}, {"MXN", 2}, {"AUD", 2}, {"NZD", 2},
    {"CHF", 2}, {"SEK", 2}, {"NOK", 2}, {"DKK", 2}, {"PLN", 2}, {"CZK", 2}, {"HUF", 2},
    {"RON", 2}, {"BGN", 2}, {"TRY", 2}, {"ILS", 2}, {"ZAR", 2}, {"BRL", 2}, {"ARS", 2},
    {"COP", 2}, {"PEN", 2}, {"UYU", 2}, {"INR", 2}, {"CNY", 2}, {"HKD", 2}, {"SGD", 2},
    {"THB", 2}, {"MYR", 2}, {"PHP", 2}, {"AED", 2}, {"SAR", 2}, {"QAR", 2}, {"JPY", 0},
    {"KRW", 0}, {"CLP", 0}, {"ISK", 0}, {"VND", 0}, {"KWD", 3}, {"BHD", 3}, {"JOD", 3},
    {"TND", 3}, {"OMR", 3},
}};

constexpr int kMostDigits = 15;
constexpr int kMostDecimals = 18;

/// A decimal taken apart: sign, the digits without the point, how many stood behind it.
struct Parts {
  bool negative = false;
  std::string digits;
  int decimals = 0;
};

Result<Parts> take_apart(std::string_view text) {
  const std::string_view body = trim(text);
  Parts parts;
  std::size_t at = 0;
  if (at < body.size() && body[at] == '-') {
    parts.negative = true;
    ++at;
  }
  bool behind = false;
  bool good = at < body.size() && body[at] != '.' && body.back() != '.';
  for (; good && at < body.size(); ++at) {
    const char c = body[at];
    if (c == '.' && !behind) {
      behind = true;
    } else if (c >= '0' && c <= '9') {
      parts.digits += c;
      parts.decimals += behind ? 1 : 0;
    } else {
      good = false;
    }
  }
  if (!good) {
    return fail("not-a-number", cat("\"", text, "\" is not a decimal number"), {},
                "Write digits, with a point before the decimals.");
  }
  while (parts.decimals > 0 && parts.digits.back() == '0') {
    parts.digits.pop_back();
    --parts.decimals;
  }
  parts.digits.erase(0, std::min(parts.digits.find_first_not_of('0'), parts.digits.size()));
  return parts;
}

std::int64_t power_of_ten(int exponent) {
  std::int64_t power = 1;
  for (int i = 0; i < exponent; ++i) {
    power *= 10;
  }
  return power;
}

std::int64_t narrow(Wide value) {
  KP_CHECK(value <= std::numeric_limits<std::int64_t>::max());
  KP_CHECK(value >= std::numeric_limits<std::int64_t>::min());
  return static_cast<std::int64_t>(value);
}

Wide greatest_common(Wide a, Wide b) {
  a = a < 0 ? -a : a;
  while (b != 0) {
    const Wide rest = a % b;
    a = b;
    b = rest;
  }
  return a;
}

Ratio in_lowest_terms(Wide num, Wide den) {
  KP_CHECK(den > 0);
  const Wide common = greatest_common(num, den);
  return Ratio{narrow(num / common), narrow(den / common)};
}

bool steps_away(Wide size, Wide rest, Wide den, Rounding rounding) {
  switch (rounding) {
    case Rounding::half_up:
      return 2 * rest >= den;
    case Rounding::half_even:
      return 2 * rest > den || (2 * rest == den && size % 2 != 0);
    case Rounding::up:
      return rest > 0;
    case Rounding::down:
      return false;
  }
  return false;
}

}  // namespace

Result<Currency> currency_of(std::string_view code) {
  std::vector<std::string> codes;
  for (const Known& known : kKnown) {
    if (known.code == code) {
      return Currency{std::string(code), known.digits};
    }
    codes.emplace_back(known.code);
  }
  const auto hint = nearest(code, codes);
  return fail("unknown-currency", cat("\"", code, "\" is not a currency this program knows"), {},
              hint ? cat("Did you mean \"", *hint, "\"?")
                   : std::string("Write the three letters of ISO 4217, for example \"USD\"."));
}

Result<Ratio> parse_decimal(std::string_view text) {
  const auto parts = take_apart(text);
  if (!parts) {
    return fail(parts.error());
  }
  if (to_int(parts->digits.size()) > kMostDigits || parts->decimals > kMostDecimals) {
    return fail("too-many-digits",
                cat("\"", text, "\" has more digits than can be kept exactly"), {},
                "Write at most 15 digits.");
  }
  const std::int64_t size = parse_integer(parts->digits).value_or(0);
  return in_lowest_terms(parts->negative ? -size : size, power_of_ten(parts->decimals));
}

std::int64_t scale_round(std::int64_t value, Ratio ratio, Rounding rounding) {
  KP_CHECK(ratio.den > 0);
  const Wide product = static_cast<Wide>(value) * ratio.num;
  const Wide den = ratio.den;
  // The size is rounded and the sign put back, so that a credit mirrors its invoice.
  const Wide whole = product < 0 ? -product : product;
  Wide size = whole / den;
  if (steps_away(size, whole % den, den, rounding)) {
    ++size;
  }
  return narrow(product < 0 ? -size : size);
}

Ratio multiply(Ratio a, Ratio b) {
  return in_lowest_terms(static_cast<Wide>(a.num) * b.num, static_cast<Wide>(a.den) * b.den);
}

std::string minor_text(std::int64_t minor, const Currency& currency) {
  std::string digits = integer_text(minor);
  const bool negative = digits.front() == '-';
  digits.erase(0, negative ? 1 : 0);
  const std::size_t decimals = to_size(currency.digits);
  if (digits.size() <= decimals) {
    digits.insert(0, decimals + 1 - digits.size(), '0');
  }
  if (decimals > 0) {
    digits.insert(digits.size() - decimals, ".");
  }
  return cat(negative ? "-" : "", digits);
}

Result<std::int64_t> parse_minor(std::string_view text, const Currency& currency) {
  const auto parts = take_apart(text);
  if (!parts) {
    return fail(parts.error());
  }
  if (parts->decimals > currency.digits) {
    return fail("too-many-decimals",
                cat("\"", text, "\" has more decimals than ", currency.code, " has"), {},
                cat("Write at most ", currency.digits, " decimals."));
  }
  const auto size = parse_integer(
      cat(parts->digits.empty() ? "0" : "", parts->digits,
          std::string(to_size(currency.digits - parts->decimals), '0')));
  if (!size || to_int(parts->digits.size()) > kMostDigits) {
    return fail("too-large", cat("\"", text, "\" is more than can be kept"), {},
                "Write at most 15 digits.");
  }
  return parts->negative ? -*size : *size;
}

}  // namespace kp
