#pragma once

#include <cstdint>
#include <string>

#include "bill/page.hpp"
#include "bill/record.hpp"

namespace kp::bill {

/// An invoice of which only number and total were recorded when it was issued.
struct OldInvoice {
  std::string number;
  Moment issued;
  std::int64_t total_minor = 0;
  std::string currency;      ///< ISO 4217 code as it was recorded
  std::string shop;          ///< its name as it was recorded
  std::string job;
  std::string technician;
  Party customer;
  Machine machine;
  PageSize page = PageSize::a4;
};

/// A paper that prints what is known of it, and says that the lines are not recorded. Nothing is
/// computed: the total is that of the record.
[[nodiscard]] Page old_invoice_page(const OldInvoice& invoice);

}  // namespace kp::bill
