#include "base/text.hpp"
#include "bill/figures.hpp"
#include "bill/invoice.hpp"
#include "bill/stored.hpp"

// The rules of EN 16931 (the European core invoice), in our own words. Which of them have a
// tolerance, and how much, follows the rule texts published with the standard's examples.

namespace kp::bill {
namespace {

class Checker {
 public:
  explicit Checker(const Invoice& invoice) : invoice_(invoice) {}

  Findings run(bool sums_alone) {
    lines();
    sums();
    groups();
    if (!sums_alone) {
      presence();
    }
    return findings_;
  }

 private:
  void report(const char* code, std::string what, std::string remedy,
              Severity severity = Severity::fault) {
    Finding finding;
    finding.severity = severity;
    finding.code = code;
    finding.what = std::move(what);
    finding.remedy = std::move(remedy);
    findings_.add(std::move(finding));
  }

  void equal(const char* code, const char* name, std::int64_t stated, std::int64_t summed) {
    if (stated != summed) {
      report(code,
             cat(name, " is ", minor_text(stated, invoice_.currency), ", its parts make ",
                 minor_text(summed, invoice_.currency)),
             "Settle the invoice again from its lines.");
    }
  }

  void lines() {
    for (int i = 0; i < to_int(invoice_.lines.size()); ++i) {
      const Line& line = invoice_.lines[to_size(i)];
      if (line.price_minor) {
        equal("line-sum", line.title.c_str(), line.net_minor,
              line_net(line.quantity, *line.price_minor, invoice_.rules.rounding));
      }
      if (line.tax < 0 || line.tax >= to_int(invoice_.taxes.size())) {
        report("br-co-4", cat("line ", i + 1, " has no tax category"),
               "Give each line a category.");
      }
    }
  }

  void sums() {
    const Totals& t = invoice_.totals;
    std::int64_t line_sum = 0;
    for (const Line& line : invoice_.lines) {
      line_sum += line.net_minor;
    }
    std::int64_t allowances = 0;
    std::int64_t charges = 0;
    for (const Adjustment& change : invoice_.adjustments) {
      (change.amount_minor < 0 ? allowances : charges) += change.amount_minor;
    }
    std::int64_t tax = 0;
    for (const TaxGroup& group : invoice_.taxes) {
      tax += group.tax_minor;
    }
    equal("br-co-10", "the sum of the lines", t.lines_minor, line_sum);
    equal("br-co-11", "the sum of the allowances", t.allowances_minor, -allowances);
    equal("br-co-12", "the sum of the charges", t.charges_minor, charges);
    equal("br-co-13", "the total without tax", t.net_minor,
          t.lines_minor - t.allowances_minor + t.charges_minor);
    equal("br-co-14", "the tax", t.tax_minor, tax);
    equal("br-co-15", "the total with tax", t.gross_minor, t.net_minor + t.tax_minor);
    equal("br-co-16", "the sum to pay", t.due_minor,
          t.gross_minor - t.paid_minor + t.rounding_minor);
    const std::int64_t step = invoice_.rules.cash_step_minor;
    const std::int64_t away = t.rounding_minor < 0 ? -t.rounding_minor : t.rounding_minor;
    if (2 * away > step || (step > 0 && t.due_minor % step != 0)) {
      report("cash-rounding", "the sum to pay is not a number of coins nearest to the rest",
             "Round to the cash step.");
    }
  }

  void groups() {
    std::vector<std::int64_t> bases(invoice_.taxes.size(), 0);
    for (const Line& line : invoice_.lines) {
      if (line.tax >= 0 && line.tax < to_int(bases.size())) {
        bases[to_size(line.tax)] += line.net_minor;
      }
    }
    for (const Adjustment& change : invoice_.adjustments) {
      if (change.tax >= 0 && change.tax < to_int(bases.size())) {
        bases[to_size(change.tax)] += change.amount_minor;
      }
    }
    for (int i = 0; i < to_int(bases.size()); ++i) {
      const TaxGroup& group = invoice_.taxes[to_size(i)];
      equal("br-s-08", "the base of a tax", group.base_minor, bases[to_size(i)]);
      tax_of(group);
    }
  }

  void tax_of(const TaxGroup& group) {
    const std::int64_t once = percent_of(group.base_minor, group.percent, invoice_.rules.rounding);
    if (invoice_.rules.basis == TaxBasis::invoice) {
      equal("br-co-17", "a tax", group.tax_minor, once);
      return;
    }
    std::int64_t unit = 1;
    for (int i = 0; i < invoice_.currency.digits; ++i) {
      unit *= 10;
    }
    const std::int64_t apart = group.tax_minor - once;
    if (apart > unit || apart < -unit) {
      report("br-co-17", "tax by item is more than one unit away from tax on the sum",
             "Use the invoice basis.", Severity::warning);
    }
  }

  void presence() {
    for (const TaxGroup& group : invoice_.taxes) {
      if (group.code == "E" && trim(group.reason).empty()) {
        report("br-e-10", "an exemption has no reason", "Write the reason into the card.");
      }
    }
    if (invoice_.taxes.empty()) {
      report("br-co-18", "there is no tax group", "Add one, of rate 0 if nothing is taxed.");
    }
    if (invoice_.totals.due_minor > 0 && !invoice_.due && trim(invoice_.terms).empty()) {
      report("br-co-25", "there is a sum to pay and no date for it", "Give a due date or terms.");
    }
    if (trim(invoice_.shop.legal_id).empty() && trim(invoice_.shop.tax_id).empty()) {
      report("br-co-26", "nothing identifies the seller", "Write a legal or a tax number.");
    }
    if (invoice_.currency.digits > 2) {
      report("br-dec", "amounts have more than two decimals",
             "Nothing to do; a European core invoice cannot carry them.", Severity::warning);
    }
  }

  const Invoice& invoice_;
  Findings findings_;
};

}  // namespace

Findings verify(const Invoice& invoice) { return Checker(invoice).run(false); }
Findings verify_sums(const Invoice& invoice) { return Checker(invoice).run(true); }

Findings verify(const Quote& quote) {
  Findings findings;
  const auto report = [&findings](const char* code, std::string what) {
    Finding finding;
    finding.code = code;
    finding.what = std::move(what);
    finding.remedy = "Make the quote again from its lines.";
    findings.add(std::move(finding));
  };
  std::int64_t low = quote.tax_low_minor;
  std::int64_t high = quote.tax_high_minor;
  for (const QuoteLine& line : quote.lines) {
    low += line.low_minor;
    high += line.high_minor;
  }
  const auto equal = [&](const char* name, std::int64_t stated, std::int64_t summed) {
    if (stated != summed) {
      report("quote-sum", cat(name, " is ", minor_text(stated, quote.currency),
                              ", its parts make ", minor_text(summed, quote.currency)));
    }
  };
  equal("the low end", quote.low_minor, low);
  equal("the high end", quote.high_minor, high);
  if (quote.high_minor < quote.low_minor) {
    report("quote-order", "the high end lies below the low one");
  }
  return findings;
}

}  // namespace kp::bill
