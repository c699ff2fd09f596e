#include "bill/figures.hpp"

#include "base/text.hpp"

namespace kp::bill {
namespace {

std::int64_t power_of_ten(int exponent) {
  std::int64_t power = 1;
  for (int i = 0; i < exponent; ++i) {
    power *= 10;
  }
  return power;
}

/// The value times ten to `decimals`, rounded, with its point put back.
std::string fixed(Ratio value, int decimals) {
  const std::int64_t power = power_of_ten(decimals);
  const std::int64_t scaled = scale_round(power, value, Rounding::half_up);
  const std::int64_t size = scaled < 0 ? -scaled : scaled;
  std::string text = integer_text(size / power);
  if (decimals > 0) {
    const std::string rest = integer_text(size % power);
    text += "." + std::string(to_size(decimals) - rest.size(), '0') + rest;
  }
  return scaled < 0 ? "-" + text : text;
}

}  // namespace

bool ends_within(Ratio value, int decimals) {
  return scale_round(power_of_ten(decimals), value, Rounding::down) ==
         scale_round(power_of_ten(decimals), value, Rounding::up);
}

std::string decimal_text(Ratio value, int most_decimals) {
  for (int decimals = 0; decimals < most_decimals; ++decimals) {
    if (ends_within(value, decimals)) {
      return fixed(value, decimals);
    }
  }
  return fixed(value, most_decimals);
}

std::string price_text(Ratio minor, const Currency& currency) {
  const Ratio major = multiply(minor, Ratio{1, power_of_ten(currency.digits)});
  for (int decimals = currency.digits; decimals < currency.digits + 4; ++decimals) {
    if (ends_within(major, decimals)) {
      return fixed(major, decimals);
    }
  }
  return fixed(major, currency.digits + 4);
}

std::string percent_text(Ratio percent) { return decimal_text(percent) + " %"; }

std::string amount_text(std::int64_t minor, const Currency& currency) {
  return cat(minor_text(minor, currency), " ", currency.code);
}

std::int64_t line_net(Ratio quantity, Ratio price_minor, Rounding rounding) {
  return scale_round(quantity.num, Ratio{price_minor.num, price_minor.den * quantity.den},
                     rounding);
}

std::int64_t percent_of(std::int64_t minor, Ratio percent, Rounding rounding) {
  return scale_round(minor, Ratio{percent.num, percent.den * 100}, rounding);
}

}  // namespace kp::bill
