#include "bill/old_invoice.hpp"

#include "base/money.hpp"
#include "base/text.hpp"
#include "bill/figures.hpp"
#include "bill/papers.hpp"

namespace kp::bill {
namespace {

constexpr const char* kNotRecorded = "not recorded";

/// A currency that is not known has no decimals to print: the smallest unit is counted.
std::string total_text(const OldInvoice& invoice) {
  const auto currency = currency_of(invoice.currency);
  return currency.has_value()
             ? amount_text(invoice.total_minor, currency.value())
             : cat(integer_text(invoice.total_minor), " of the smallest unit of ",
                   invoice.currency.empty() ? kNotRecorded : invoice.currency);
}

Letterhead head_of(const OldInvoice& invoice) {
  Shop shop;
  shop.name = invoice.shop;
  Letterhead head = letterhead(shop);
  head.title = "Invoice";
  head.number = invoice.number;
  head.facts.emplace_back("Issued", day_and_time(invoice.issued));
  if (!invoice.job.empty()) {
    head.facts.emplace_back("Job", invoice.job);
  }
  if (!invoice.technician.empty()) {
    head.facts.emplace_back("Technician", invoice.technician);
  }
  return head;
}

}  // namespace

Page old_invoice_page(const OldInvoice& invoice) {
  Page page;
  page.size = invoice.page;
  page.title = cat("Invoice ", invoice.number);
  page.footer = cat(invoice.shop, ", ", page.title);
  page.made = invoice.issued;
  page.blocks.emplace_back(head_of(invoice));
  page.blocks.emplace_back(
      Paragraph{"Only the number and the total of this invoice were recorded. The paper that was "
                "handed over has its lines.",
                Tone::notice});
  page.blocks.emplace_back(who_and_what(invoice.customer, invoice.machine));
  Table table;
  table.columns = {{"For", 3, Align::left, false}, {"Amount", 1, Align::right, false}};
  table.rows.push_back({{"Labour, parts and other lines", kNotRecorded}, ""});
  table.rows.push_back({{"Tax", kNotRecorded}, ""});
  page.blocks.emplace_back(std::move(table));
  Sums sums;
  sums.rows.push_back({"Total", "as it was recorded", total_text(invoice), true});
  page.blocks.emplace_back(std::move(sums));
  return page;
}

}  // namespace kp::bill
