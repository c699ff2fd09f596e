#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "bill/invoice.hpp"

namespace kp::bill {

/// What is known before the work. `plan_seconds` is the planned labour there and back;
/// diagnosis ends that are negative are taken from the card.
struct QuoteRequest {
  std::string number;
  Moment at;
  std::int64_t plan_seconds = 0;
  std::int64_t diagnosis_low_s = -1;
  std::int64_t diagnosis_high_s = -1;
  std::int64_t travel_seconds = 0;
  int call_outs = 1;
  Ratio distance;
  std::vector<PartUsed> parts;
  Party customer;
  Machine machine;
  std::string complaint;
  std::string technician;
};

/// A line with both its ends; equal where nothing is open.
struct QuoteLine {
  std::string title;
  std::string detail;
  std::int64_t low_minor = 0;
  std::int64_t high_minor = 0;
};

/// From low to high, tax included. Both ends are whole invoices by the same rules as the bill, so
/// work that takes between the two times costs between the two sums.
struct Quote {
  QuoteRequest request;
  Currency currency;
  Shop shop;
  PageSize page = PageSize::a4;
  Moment valid_until;
  std::vector<QuoteLine> lines;
  std::int64_t tax_low_minor = 0;
  std::int64_t tax_high_minor = 0;
  std::string tax_title;
  std::int64_t low_minor = 0;
  std::int64_t high_minor = 0;
  std::string allowance;  ///< how the range was made, for the sheet
};

/// The quote for that request. The low end is the plan as it is with the shorter diagnosis, the
/// high end allows the card's percentage more with the longer one. Faults as by effort_of().
[[nodiscard]] Quote make_quote(const QuoteRequest& request, const RateCard& card,
                               Findings& findings);

/// A quote of the sum as it stands, for the customer to agree to before it is billed: both ends are
/// the invoice's.
[[nodiscard]] Quote quote_as_it_stands(const Invoice& invoice, Moment at);

/// "210 to 265": whole units, the low end rounded down and the high end up, for the head line.
[[nodiscard]] std::string range_text(std::int64_t low_minor, std::int64_t high_minor,
                                     const Currency& currency);

}  // namespace kp::bill
