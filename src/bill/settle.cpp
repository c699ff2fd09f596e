#include "base/check.hpp"
#include "base/text.hpp"
#include "bill/figures.hpp"
#include "bill/invoice.hpp"

namespace kp::bill {
namespace {

TaxGroup& group_of(Invoice& invoice, int tax) {
  KP_CHECK(tax >= 0 && tax < to_int(invoice.taxes.size()));
  return invoice.taxes[to_size(tax)];
}

/// Tax of a line where each single item is taxed: the price of one is taxed and rounded, then
/// taken as often as there are items. A line without whole items is one item.
std::int64_t item_tax(const Line& line, Ratio percent, Rounding rounding) {
  const bool whole = line.unit == Unit::piece && line.quantity.den == 1 && line.price_minor;
  if (!whole) {
    return percent_of(line.net_minor, percent, rounding);
  }
  const Ratio price = *line.price_minor;
  const std::int64_t each =
      scale_round(price.num, Ratio{percent.num, percent.den * 100 * price.den}, rounding);
  return each * line.quantity.num;
}

/// The sum in coins: a whole number of steps, the nearest, a half away from zero.
std::int64_t to_step(std::int64_t minor, std::int64_t step) {
  return scale_round(minor, Ratio{1, step}, Rounding::half_up) * step;
}

void add_bases(Invoice& invoice) {
  const bool by_item = invoice.rules.basis == TaxBasis::item;
  for (const Line& line : invoice.lines) {
    TaxGroup& group = group_of(invoice, line.tax);
    group.base_minor += line.net_minor;
    invoice.totals.lines_minor += line.net_minor;
    if (by_item) {
      group.tax_minor += item_tax(line, group.percent, invoice.rules.rounding);
    }
  }
  for (const Adjustment& change : invoice.adjustments) {
    TaxGroup& group = group_of(invoice, change.tax);
    group.base_minor += change.amount_minor;
    if (by_item) {
      group.tax_minor += percent_of(change.amount_minor, group.percent, invoice.rules.rounding);
    }
    if (change.amount_minor < 0) {
      invoice.totals.allowances_minor -= change.amount_minor;
    } else {
      invoice.totals.charges_minor += change.amount_minor;
    }
  }
}

}  // namespace

void settle(Invoice& invoice) {
  invoice.totals = Totals{};
  for (TaxGroup& group : invoice.taxes) {
    group.base_minor = 0;
    group.tax_minor = 0;
  }
  add_bases(invoice);
  Totals& totals = invoice.totals;
  for (TaxGroup& group : invoice.taxes) {
    if (invoice.rules.basis == TaxBasis::invoice) {
      group.tax_minor = percent_of(group.base_minor, group.percent, invoice.rules.rounding);
    }
    totals.tax_minor += group.tax_minor;
  }
  totals.net_minor = totals.lines_minor - totals.allowances_minor + totals.charges_minor;
  totals.gross_minor = totals.net_minor + totals.tax_minor;
  totals.paid_minor = invoice.rules.paid_minor;
  const std::int64_t open = totals.gross_minor - totals.paid_minor;
  if (invoice.rules.cash_step_minor > 0) {
    totals.rounding_minor = to_step(open, invoice.rules.cash_step_minor) - open;
  }
  totals.due_minor = open + totals.rounding_minor;
}

}  // namespace kp::bill
