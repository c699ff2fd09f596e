#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/money.hpp"

namespace kp::bill {

/// A fraction as a decimal, without needless zeros: {6, 5} gives "1.2". Where it does not end
/// within `most_decimals` it is rounded there, half away from zero.
[[nodiscard]] std::string decimal_text(Ratio value, int most_decimals = 4);

/// True where the fraction ends within that many decimals.
[[nodiscard]] bool ends_within(Ratio value, int decimals);

/// A price in minor units, which may be a part of one: "95.00", "65.8125". It has at least the
/// currency's digits and at most four more.
[[nodiscard]] std::string price_text(Ratio minor, const Currency& currency);

/// "8.25 %".
[[nodiscard]] std::string percent_text(Ratio percent);

/// "243.90 USD".
[[nodiscard]] std::string amount_text(std::int64_t minor, const Currency& currency);

/// quantity times price, rounded once to a whole minor unit. Both factors must be in the ranges
/// that RateCard and WorkRecord are held to, so that nothing overflows.
[[nodiscard]] std::int64_t line_net(Ratio quantity, Ratio price_minor, Rounding rounding);

/// That share of an amount, rounded once: 8.25 % of 6581 is 543.
[[nodiscard]] std::int64_t percent_of(std::int64_t minor, Ratio percent, Rounding rounding);

}  // namespace kp::bill
