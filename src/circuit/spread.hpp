#pragma once

namespace kp::circuit {

/// A quantity of a part as parts are made: the typical value and the least and most that a good
/// one has. low <= typical <= high; the unit is in the name of the member that holds it.
struct Spread {
  double low = 0;
  double typical = 0;
  double high = 0;
  friend bool operator==(const Spread&, const Spread&) = default;
};

[[nodiscard]] constexpr Spread exact(double value) { return {value, value, value}; }

/// `value` give or take a share of it: within(100, 0.05) is 95 to 105. `share` in [0, 1).
[[nodiscard]] constexpr Spread within(double value, double share) {
  return {value * (1 - share), value, value * (1 + share)};
}

/// Every member times the same factor, which is not negative.
[[nodiscard]] constexpr Spread scaled(const Spread& spread, double factor) {
  return {spread.low * factor, spread.typical * factor, spread.high * factor};
}

}  // namespace kp::circuit
