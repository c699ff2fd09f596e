#pragma once
// Facts with the papers that they must carry, of one line each.

#include <string>

#include "bill/stored.hpp"
#include "job/event.hpp"

namespace kp::test {

/// An invoice of that sum, without tax.
inline bill::StoredInvoice paper_of(const std::string& number, std::int64_t total_minor) {
  bill::StoredInvoice paper;
  bill::Invoice& invoice = paper.invoice;
  invoice.number = number;
  invoice.issued = Moment{1'793'500'000'000, -300};
  invoice.shop.name = "Harbour Street Repairs";
  bill::Line line;
  line.title = "Work";
  line.net_minor = total_minor;
  invoice.lines = {line};
  invoice.taxes = {bill::TaxGroup{"Not taxed", "Z", Ratio{0, 1}, "", "", 0, 0}};
  bill::settle(invoice);
  return paper;
}

inline job::InvoiceIssued issued(const std::string& number, std::int64_t total_minor) {
  return {number, total_minor, "USD", bill::write_paper(paper_of(number, total_minor))};
}

inline job::QuoteGiven quoted(std::int64_t low_minor, std::int64_t high_minor,
                              bool accepted = true) {
  bill::StoredQuote paper;
  paper.quote.request.at = Moment{1'793'500'000'000, -300};
  paper.quote.lines = {bill::QuoteLine{"Work", "", low_minor, high_minor}};
  paper.quote.low_minor = low_minor;
  paper.quote.high_minor = high_minor;
  return {low_minor, high_minor, "USD", accepted, bill::write_paper(paper)};
}

}  // namespace kp::test
