#include "job/paper.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "bill/stored.hpp"

namespace kp::job {
namespace {

constexpr std::int64_t kMostMinor = 10'000'000'000'000;  // a doctored journal may hold any number

void add(Findings& out, Severity severity, const char* code, std::string what, const char* remedy) {
  Finding finding;
  finding.severity = severity;
  finding.code = code;
  finding.pointer = "/paper";
  finding.what = std::move(what);
  finding.remedy = remedy;
  out.add(std::move(finding));
}

/// Findings about the paper itself, as findings about the record that carries it.
void add_all(Findings& out, const Findings& more) {
  for (Finding finding : more.all()) {
    finding.pointer = cat("/paper", finding.pointer);
    out.add(std::move(finding));
  }
}

bool is_missing(const data::Value& paper, Findings& out) {
  if (paper.kind == data::Kind::null) {
    add(out, Severity::note, "paper-missing", "the lines are not recorded",
        "Look at the paper that was handed over.");
    return true;
  }
  return false;
}

void differs(Findings& out, const char* what) {
  add(out, Severity::fault, "paper-differs", cat("the record says another ", what, " than its paper"),
      "Look for an unchanged copy.");
}

}  // namespace

Findings check_paper(const QuoteGiven& fact) {
  Findings out;
  if (is_missing(fact.paper, out)) {
    return out;
  }
  Findings read;
  const auto paper = bill::read_quote(fact.paper, read);
  add_all(out, read);
  if (!paper) {
    return out;
  }
  const bill::Quote& quote = paper->quote;
  if (quote.low_minor != fact.low_minor || quote.high_minor != fact.high_minor) {
    differs(out, "sum");
  }
  if (quote.currency.code != fact.currency) {
    differs(out, "currency");
  }
  add_all(out, bill::verify(quote));
  return out;
}

Findings check_paper(const InvoiceIssued& fact) {
  Findings out;
  if (is_missing(fact.paper, out)) {
    return out;
  }
  Findings read;
  const auto paper = bill::read_invoice(fact.paper, read);
  add_all(out, read);
  if (!paper) {
    return out;
  }
  const bill::Invoice& invoice = paper->invoice;
  if (invoice.number != fact.number) {
    differs(out, "number");
  }
  if (invoice.totals.gross_minor != fact.total_minor) {
    differs(out, "sum");
  }
  if (invoice.currency.code != fact.currency) {
    differs(out, "currency");
  }
  add_all(out, bill::verify_sums(invoice));
  return out;
}

std::int64_t billed_under_agreement(const State& state) {
  std::int64_t sum = 0;
  for (const auto& invoice : state.invoices) {
    if (state.agreed && invoice.stamp.n > state.agreed->stamp.n) {
      sum = std::clamp(sum + std::clamp(invoice.body.total_minor, -kMostMinor, kMostMinor),
                       -kMostMinor, kMostMinor);
    }
  }
  return sum;
}

bool is_within_agreement(const State& state, std::int64_t gross_minor) {
  const std::int64_t gross = std::clamp(gross_minor, -kMostMinor, kMostMinor);
  return !state.agreed || billed_under_agreement(state) + gross <= state.agreed->body.high_minor;
}

std::string invoice_number(const State& state) { return cat(state.job, "-", state.visit); }

}  // namespace kp::job
