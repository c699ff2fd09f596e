#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/figures.hpp"
#include "bill/papers.hpp"

namespace kp::bill {
namespace {

Letterhead head_of(const Invoice& invoice) {
  const bool credit = invoice.kind == InvoiceKind::credit;
  Letterhead head = letterhead(invoice.shop);
  head.title = credit ? "Credit note" : "Invoice";
  if (invoice.draft) {
    head.title = cat("Draft of ", credit ? "a credit note" : "an invoice");
  }
  head.number = invoice.number;
  head.facts.emplace_back("Date", date_text(invoice.issued));
  if (credit) {
    head.facts.emplace_back("Takes back", invoice.corrects);
  } else if (invoice.due) {
    head.facts.emplace_back("Pay by", date_text(*invoice.due));
  }
  if (!invoice.job.empty()) {
    head.facts.emplace_back("Job", invoice.job);
  }
  if (!invoice.technician.empty()) {
    head.facts.emplace_back("Technician", invoice.technician);
  }
  return head;
}

Table lines_of(const Invoice& invoice) {
  Table table;
  table.columns = {{"For", 4, Align::left, false},
                   {cat("Amount, ", invoice.currency.code), 1, Align::right, true}};
  for (const Line& line : invoice.lines) {
    table.rows.push_back(
        {{line.title, minor_text(line.net_minor, invoice.currency)}, line.detail});
  }
  for (const Adjustment& change : invoice.adjustments) {
    table.rows.push_back({{change.title, minor_text(change.amount_minor, invoice.currency)},
                          change.reason});
  }
  return table;
}

void add_taxes(const Invoice& invoice, Sums& sums) {
  for (const TaxGroup& group : invoice.taxes) {
    const std::string base = minor_text(group.base_minor, invoice.currency);
    if (group.percent.num != 0) {
      sums.rows.push_back({cat(group.name, " ", percent_text(group.percent)),
                           cat(group.applies, group.applies.empty() ? "on " : ", ", base),
                           minor_text(group.tax_minor, invoice.currency), false});
    }
  }
}

Sums sums_of(const Invoice& invoice) {
  const Totals& totals = invoice.totals;
  const Currency& currency = invoice.currency;
  Sums sums;
  const auto add = [&sums, &currency](const char* title, std::int64_t minor) {
    sums.rows.push_back({title, "", minor_text(minor, currency), false});
  };
  add("Without tax", totals.net_minor);
  add_taxes(invoice, sums);
  if (totals.gross_minor != totals.due_minor) {
    add("With tax", totals.gross_minor);
  }
  if (totals.paid_minor != 0) {
    add("Paid already", -totals.paid_minor);
  }
  if (totals.rounding_minor != 0) {
    add("Rounded to coins", totals.rounding_minor);
  }
  const bool back = totals.due_minor < 0;
  sums.rows.push_back(
      {back ? "To pay back" : "To pay", "",
       amount_text(back ? -totals.due_minor : totals.due_minor, currency), true});
  return sums;
}

void add_small(Page& page, std::string text) {
  page.blocks.emplace_back(Paragraph{std::move(text), Tone::small});
}

void add_sum_remarks(const Invoice& invoice, Page& page) {
  for (const TaxGroup& group : invoice.taxes) {
    if (group.percent.num == 0 && group.base_minor != 0 && !group.reason.empty()) {
      add_small(page, cat(group.name, ": ", amount_text(group.base_minor, invoice.currency), ". ",
                          group.reason, "."));
    }
  }
  if (!invoice.quote) {
    return;
  }
  const QuoteGiven& quote = *invoice.quote;
  add_small(page, cat("Quoted ", minor_text(quote.low_minor, invoice.currency), " to ",
                      amount_text(quote.high_minor, invoice.currency), ", tax included, ",
                      day_and_time(quote.at.get()), quote.agreed_by.empty() ? "" : ", agreed by ",
                      quote.agreed_by, "."));
  if (quote.billed_minor != 0) {
    add_small(page, cat("Billed before under it: ",
                        amount_text(quote.billed_minor, invoice.currency), "."));
  }
  if (above_quote(invoice)) {
    add_small(page, "The sum is above the range that was quoted.");
  }
}

void add_time(const Invoice& invoice, const WorkRecord& work, Page& page) {
  const TimeBar bar = time_bar(work);
  if (bar.cells.empty() || invoice.kind == InvoiceKind::credit) {
    return;
  }
  page.blocks.emplace_back(Heading{"Time"});
  page.blocks.emplace_back(BarBlock{bar});
  add_small(page, recorded_times(work));
  for (std::string& remark : time_remarks(work)) {
    add_small(page, std::move(remark));
  }
}

}  // namespace

Page invoice_page(const Invoice& invoice, const WorkRecord& work, const std::string& mark) {
  Page page;
  page.size = invoice.page;
  const Letterhead head = head_of(invoice);
  page.title = cat(head.title, " ", invoice.number);
  page.footer = cat(invoice.shop.name, ", ", page.title);
  page.made = invoice.issued;
  page.blocks.emplace_back(head);
  if (invoice.draft) {
    page.blocks.emplace_back(
        Paragraph{"Draft. Something is still to be answered. Nothing is to be paid yet.",
                  Tone::notice});
  }
  page.blocks.emplace_back(who_and_what(invoice.customer, invoice.machine));
  page.blocks.emplace_back(lines_of(invoice));
  page.blocks.emplace_back(sums_of(invoice));
  add_sum_remarks(invoice, page);
  add_time(invoice, work, page);
  if (!trim(invoice.terms).empty() && invoice.kind == InvoiceKind::invoice) {
    page.blocks.emplace_back(Heading{"Terms"});
    page.blocks.emplace_back(Paragraph{invoice.terms, Tone::plain});
  }
  if (!trim(invoice.note).empty()) {
    page.blocks.emplace_back(Heading{"Note"});
    page.blocks.emplace_back(Paragraph{invoice.note, Tone::plain});
  }
  if (!mark.empty()) {
    add_small(page, kept_in_journal(invoice.job, mark));
  }
  return page;
}

Page invoice_page(const StoredInvoice& paper, const std::string& mark) {
  WorkRecord times;
  times.segments = paper.segments;
  times.corrections = paper.corrections;
  return invoice_page(paper.invoice, times, mark);
}

Page unrecorded_invoice_page(const UnrecordedInvoice& invoice) {
  Page page;
  Letterhead head;
  head.shop = invoice.shop;
  head.title = "Invoice";
  head.number = invoice.number;
  head.facts.emplace_back("Date", date_text(invoice.issued));
  head.facts.emplace_back("Job", invoice.job);
  page.title = cat(head.title, " ", head.number);
  page.footer = cat(invoice.shop, ", ", page.title);
  page.made = invoice.issued;
  page.blocks.emplace_back(head);
  page.blocks.emplace_back(Paragraph{"Lines: not recorded. Look at the paper that was handed over.",
                                     Tone::notice});
  Sums sums;
  sums.rows.push_back({"Total", "", amount_text(invoice.total_minor, invoice.currency), true});
  page.blocks.emplace_back(std::move(sums));
  if (!invoice.mark.empty()) {
    add_small(page, kept_in_journal(invoice.job, invoice.mark));
  }
  return page;
}

}  // namespace kp::bill
