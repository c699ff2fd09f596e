#include <doctest/doctest.h>

#include <algorithm>

#include "bill/documents.hpp"
#include "bill/old_invoice.hpp"

// An invoice of format 1: the issue of the project asks for number and total, with the lines "not
// recorded". Minor digits of JPY and USD: ISO 4217.

namespace kp::bill {
namespace {

OldInvoice sample() {
  OldInvoice out;
  out.number = "20261107-b860";
  out.issued = Moment{1'794'045'600'000, 60};
  out.total_minor = 16'432;
  out.currency = "USD";
  out.shop = "Larkmoor Appliance Service";
  out.job = "20261107-b860";
  out.technician = "Piet Solberg";
  out.customer.name = "R. Aldous";
  out.machine.model = "QN 415";
  return out;
}

int count(const Page& page, const std::string& text) {
  const std::vector<std::string> texts = page_texts(page);
  return static_cast<int>(std::count(texts.begin(), texts.end(), text));
}

TEST_CASE("an old invoice prints its number and total, and that the rest is not recorded") {
  const Page page = old_invoice_page(sample());
  CHECK(page.title == "Invoice 20261107-b860");
  CHECK(file_name(page) == "invoice-20261107-b860");
  CHECK(count(page, "164.32 USD") == 1);
  CHECK(count(page, "not recorded") == 2);
  CHECK(count(page, "R. Aldous") == 1);
  CHECK(count(page, "QN 415") == 1);
  CHECK(count(page, "Piet Solberg") == 1);
  CHECK(count(page, "Larkmoor Appliance Service") == 1);
}

TEST_CASE("an old invoice's total has the digits of its currency, or is counted in its smallest unit") {
  OldInvoice invoice = sample();
  invoice.currency = "JPY";
  CHECK(count(old_invoice_page(invoice), "16432 JPY") == 1);
  invoice.currency = "QQQ";
  CHECK(count(old_invoice_page(invoice), "16432 of the smallest unit of QQQ") == 1);
  invoice.currency.clear();
  CHECK(count(old_invoice_page(invoice), "16432 of the smallest unit of not recorded") == 1);
}

}  // namespace
}  // namespace kp::bill
