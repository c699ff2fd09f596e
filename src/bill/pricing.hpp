#pragma once

#include "bill/effort.hpp"
#include "bill/invoice.hpp"

namespace kp::bill {

/// Adds the priced lines of that effort to an invoice, with their tax groups, in the order
/// call-out, travel, diagnosis, labour, parts. Nothing is settled yet.
void price(const Effort& effort, const RateCard& card, Invoice& invoice);

/// "1.2 h", "55 min" (hours that do not end within two decimals), "12.4 km", "3".
[[nodiscard]] std::string quantity_text(const Line& line);

/// The index of the tax group for that kind of line in this invoice, which is added if missing.
int tax_group(Invoice& invoice, const RateCard& card, LineKind kind);

}  // namespace kp::bill
