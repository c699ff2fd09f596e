#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace kp {

/// ISO 4217 currency: three letters and the number of digits of its minor unit.
struct Currency {
  std::string code = "USD";
  int digits = 2;
  friend bool operator==(const Currency&, const Currency&) = default;
};

/// Finds a currency by its ISO 4217 code; the list holds the ones with 0, 2 and 3 minor digits
/// that the trade meets. Error code `unknown-currency` with the nearest known code.
Result<Currency> currency_of(std::string_view code);

/// How an amount between two minor units is rounded.
/// half_up: to the nearest, ties away from zero, the same for credits (EN 16931 practice).
/// half_even: ties to the even digit. up: away from zero. down: towards zero.
enum class Rounding { half_up, half_even, up, down };

/// An exact fraction num/den (den > 0): quantities, rates and unit prices, never binary floating.
struct Ratio {
  std::int64_t num = 0;
  std::int64_t den = 1;
};

/// Reads a decimal such as "8.25" or "-0.1234" exactly. At most 15 significant digits.
Result<Ratio> parse_decimal(std::string_view text);

/// value * ratio, rounded to a whole number. Intermediate results do not overflow (128 bit).
[[nodiscard]] std::int64_t scale_round(std::int64_t value, Ratio ratio, Rounding rounding);

/// a * b as an exact fraction in lowest terms.
[[nodiscard]] Ratio multiply(Ratio a, Ratio b);

/// Amounts are std::int64_t in minor units (`..._minor`). Prints "243.90", "-0.05", "1200" (JPY).
[[nodiscard]] std::string minor_text(std::int64_t minor, const Currency& currency);

/// Reads "243.90" into 24390 by the currency's digits. Errors: not a number, too many decimals.
Result<std::int64_t> parse_minor(std::string_view text, const Currency& currency);

}  // namespace kp
