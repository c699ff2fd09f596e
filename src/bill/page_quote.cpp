#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/figures.hpp"
#include "bill/papers.hpp"

namespace kp::bill {
namespace {

Letterhead head_of(const Quote& quote) {
  Letterhead head = letterhead(quote.shop);
  head.title = "Quote";
  head.number = quote.request.number;
  head.facts.emplace_back("Date", day_and_time(quote.request.at));
  head.facts.emplace_back("Valid until", date_text(quote.valid_until));
  if (!quote.request.technician.empty()) {
    head.facts.emplace_back("Technician", quote.request.technician);
  }
  return head;
}

Table lines_of(const Quote& quote) {
  Table table;
  table.columns = {{"For", 6, Align::left, false},
                   {cat("From, ", quote.currency.code), 2, Align::right, true},
                   {cat("To, ", quote.currency.code), 2, Align::right, true}};
  for (const QuoteLine& line : quote.lines) {
    table.rows.push_back({{line.title, minor_text(line.low_minor, quote.currency),
                           minor_text(line.high_minor, quote.currency)},
                          line.detail});
  }
  if (!quote.tax_title.empty()) {
    table.rows.push_back({{quote.tax_title, minor_text(quote.tax_low_minor, quote.currency),
                           minor_text(quote.tax_high_minor, quote.currency)},
                          ""});
  }
  return table;
}

}  // namespace

Page quote_page(const Quote& quote, const std::string& mark) {
  Page page;
  page.size = quote.page;
  page.title = cat("Quote ", quote.request.number);
  page.footer = cat(quote.shop.name, ", ", page.title);
  page.made = quote.request.at;
  page.blocks.emplace_back(head_of(quote));
  page.blocks.emplace_back(who_and_what(quote.request.customer, quote.request.machine));
  if (!trim(quote.request.complaint).empty()) {
    page.blocks.emplace_back(Heading{"Complaint"});
    page.blocks.emplace_back(Paragraph{quote.request.complaint, Tone::plain});
  }
  page.blocks.emplace_back(lines_of(quote));
  Sums sums;
  sums.rows.push_back({"From", "", amount_text(quote.low_minor, quote.currency), true});
  sums.rows.push_back({"To", "", amount_text(quote.high_minor, quote.currency), true});
  page.blocks.emplace_back(std::move(sums));
  page.blocks.emplace_back(Paragraph{quote.allowance, Tone::small});
  if (quote.low_minor < quote.high_minor) {
    page.blocks.emplace_back(
        Paragraph{"This is a range. You are asked before the cost passes its high end.",
                  Tone::small});
  }
  if (!mark.empty()) {
    page.blocks.emplace_back(Paragraph{kept_in_journal(quote.request.number, mark), Tone::small});
  }
  page.blocks.emplace_back(Signature{"Agreed", quote.request.customer.name, {}, 4});
  return page;
}

}  // namespace kp::bill
