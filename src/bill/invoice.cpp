#include "bill/invoice.hpp"

#include "base/text.hpp"
#include "bill/figures.hpp"
#include "bill/pricing.hpp"

namespace kp::bill {
namespace {

constexpr std::int64_t kDayMs = 24LL * 3600 * 1000;
constexpr std::int64_t kMostMinor = 100000000000;

void report(Findings& findings, Severity severity, std::string code, std::string pointer,
            std::string what, std::string remedy) {
  Finding finding;
  finding.severity = severity;
  finding.code = std::move(code);
  finding.pointer = std::move(pointer);
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings.add(std::move(finding));
}

void add_changes(const WorkRecord& work, const RateCard& card, Invoice& invoice,
                 Findings& findings) {
  for (int i = 0; i < to_int(work.changes.size()); ++i) {
    const Change& change = work.changes[to_size(i)];
    const std::string pointer = cat("/changes/", i);
    if (trim(change.reason).empty()) {
      report(findings, Severity::fault, "reason-missing", pointer, "a change has no reason",
             "Write why the sum is changed.");
    } else if (change.amount_minor > kMostMinor || change.amount_minor < -kMostMinor) {
      report(findings, Severity::fault, "out-of-range", pointer, "a change is too large",
             cat("Give at most ", amount_text(kMostMinor, card.currency), "."));
    } else {
      invoice.adjustments.push_back(Adjustment{change.title, change.reason, change.amount_minor,
                                               tax_group(invoice, card, change.taxed_as)});
    }
  }
}

std::int64_t paid_sum(const WorkRecord& work, Findings& findings) {
  if (work.paid_minor < 0 || work.paid_minor > kMostMinor) {
    report(findings, Severity::fault, "out-of-range", "/paid", "the paid sum is out of range",
           cat("Give from 0 to ", kMostMinor, " minor units."));
    return 0;
  }
  return work.paid_minor;
}

}  // namespace

Invoice make_invoice(const WorkRecord& work, const RateCard& card, const InvoiceHead& head,
                     Findings& findings) {
  const int before = findings.faults();
  Invoice invoice;
  invoice.number = head.number;
  invoice.issued = head.issued;
  invoice.due = Moment{head.issued.utc_ms + card.terms.due_days * kDayMs, head.issued.offset_min};
  invoice.currency = card.currency;
  invoice.shop = card.shop;
  invoice.customer = work.customer;
  invoice.machine = work.machine;
  invoice.job = work.job;
  invoice.technician = work.technician;
  invoice.terms = card.terms.text;
  invoice.note = work.note;
  invoice.quote = work.quote;
  invoice.page = card.page;
  price(effort_of(work, findings), card, invoice);
  add_changes(work, card, invoice, findings);
  if (invoice.taxes.empty()) {
    tax_group(invoice, card, LineKind::other);
  }
  invoice.rules = Settlement{card.basis, card.rounding, paid_sum(work, findings),
                             work.cash ? card.cash_step_minor : 0};
  settle(invoice);
  if (trim(head.number).empty()) {
    report(findings, Severity::fault, "number-missing", "/number", "the invoice has no number",
           "Give it the next number of the shop.");
  }
  if (invoice.totals.paid_minor > invoice.totals.gross_minor) {
    report(findings, Severity::warning, "paid-too-much", "/paid",
           "more was paid than the invoice asks", "Pay back the difference.");
  }
  invoice.draft = findings.faults() > before;
  return invoice;
}

Invoice credit_of(const Invoice& invoice, const InvoiceHead& head, const std::string& reason) {
  Invoice credit = invoice;
  credit.kind = InvoiceKind::credit;
  credit.number = head.number;
  credit.corrects = invoice.number;
  credit.issued = head.issued;
  credit.due = head.issued;
  credit.note = reason;
  credit.quote.reset();
  for (Line& line : credit.lines) {
    line.quantity.num = -line.quantity.num;
    line.net_minor = -line.net_minor;
  }
  for (Adjustment& change : credit.adjustments) {
    change.amount_minor = -change.amount_minor;
  }
  credit.rules.paid_minor = -invoice.rules.paid_minor;
  settle(credit);
  return credit;
}

bool above_quote(const Invoice& invoice) {
  return invoice.quote &&
         invoice.quote->billed_minor + invoice.totals.gross_minor > invoice.quote->high_minor;
}

}  // namespace kp::bill
