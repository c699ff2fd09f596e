#pragma once

#include <cstdint>
#include <string>

#include "app/desk.hpp"
#include "bill/quote.hpp"

namespace kp::app {

/// The quote that the customer hears before the work, made from the plan to the part that the
/// complaint makes most likely, or to the targets once they are chosen.
struct Offer {
  bill::Quote quote;
  std::string basis;   ///< "Reach and swap: heater. 46 min planned, there and back."
  std::string range;   ///< "210 to 265 USD"

  /// "48.75" or "40.00 to 61.25".
  [[nodiscard]] std::string amounts(std::int64_t low_minor, std::int64_t high_minor) const;
};

[[nodiscard]] Offer make_offer(const Desk& desk);

}  // namespace kp::app
