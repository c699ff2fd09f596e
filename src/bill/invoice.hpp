#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "base/money.hpp"
#include "base/time.hpp"
#include "bill/effort.hpp"
#include "bill/rates.hpp"
#include "bill/record.hpp"

namespace kp::bill {

enum class Unit { piece, hour, minute, km, mile };

/// One line. `net_minor` is quantity times price, rounded once; a line without a price is a sum
/// that is given as it is. `tax` points into Invoice::taxes. EN 16931: BT-131 and its group.
struct Line {
  LineKind kind = LineKind::other;
  std::string title;
  std::string detail;
  Ratio quantity{1, 1};
  Unit unit = Unit::piece;
  std::optional<Ratio> price_minor;
  std::int64_t net_minor = 0;
  int tax = 0;
};

/// A sum for the whole invoice: an allowance (negative) or a charge. EN 16931: BT-92, BT-99.
struct Adjustment {
  std::string title;
  std::string reason;
  std::int64_t amount_minor = 0;
  int tax = 0;
};

/// One (category, rate) pair with its base and its tax. EN 16931: BG-23.
struct TaxGroup {
  std::string name;
  std::string code = "S";
  Ratio percent;
  std::string reason;
  std::string applies;  ///< "on parts"
  std::int64_t base_minor = 0;
  std::int64_t tax_minor = 0;
};

/// EN 16931: BT-106 to BT-115, in this order.
struct Totals {
  std::int64_t lines_minor = 0;
  std::int64_t allowances_minor = 0;  ///< as a positive sum
  std::int64_t charges_minor = 0;
  std::int64_t net_minor = 0;
  std::int64_t tax_minor = 0;
  std::int64_t gross_minor = 0;
  std::int64_t paid_minor = 0;
  std::int64_t rounding_minor = 0;  ///< cash rounding
  std::int64_t due_minor = 0;
};

enum class InvoiceKind { invoice, credit };

/// The rules an invoice was settled by; they travel with it.
struct Settlement {
  TaxBasis basis = TaxBasis::invoice;
  Rounding rounding = Rounding::half_up;
  std::int64_t paid_minor = 0;
  std::int64_t cash_step_minor = 0;  ///< 0: the due sum is not rounded
};

struct Invoice {
  InvoiceKind kind = InvoiceKind::invoice;
  std::string number;
  std::string corrects;  ///< a credit note: the number of its invoice
  Moment issued;
  std::optional<Moment> due;
  Currency currency;
  Shop shop;
  Party customer;
  Machine machine;
  std::string job;
  std::string technician;
  std::vector<Line> lines;
  std::vector<Adjustment> adjustments;
  std::vector<TaxGroup> taxes;
  Settlement rules;
  Totals totals;
  std::string terms;
  std::string note;
  std::optional<QuoteGiven> quote;
  PageSize page = PageSize::a4;
  bool draft = false;  ///< something must be answered before it is final
};

struct InvoiceHead {
  std::string number;
  Moment issued;
};

/// Fills groups and totals from lines and adjustments: each line is already rounded, their sum is
/// exact, tax is taken once a group (or once an item, by the rules), and the due sum is rounded
/// to the cash step. Groups keep their name, code and percent; every `tax` must point at one.
void settle(Invoice& invoice);

/// The invoice for a record by a card. Faults in the record are reported as by effort_of(), with
/// `number-missing`, `reason-missing` for a change, and `out-of-range`; the invoice is then a
/// draft. `paid-too-much` is a warning.
[[nodiscard]] Invoice make_invoice(const WorkRecord& work, const RateCard& card,
                                   const InvoiceHead& head, Findings& findings);

/// Takes an invoice back whole: the same lines with their signs turned.
[[nodiscard]] Invoice credit_of(const Invoice& invoice, const InvoiceHead& head,
                                const std::string& reason);

/// Holds an invoice against EN 16931: BR-CO-10 to -18, -25, -26, BR-S-08, BR-E-10 and the two
/// decimals of BR-DEC, as findings with codes such as `br-co-15`, and each line against its own
/// quantity and price (`line-sum`). Where tax is taken item by item BR-CO-17 holds only within
/// one unit of the currency, as the newer rule texts allow.
[[nodiscard]] Findings verify(const Invoice& invoice);

/// The same for the sums alone, without what a core invoice must carry besides: whether a stored
/// invoice still adds up.
[[nodiscard]] Findings verify_sums(const Invoice& invoice);

/// True when the gross sum, with what was billed before under the same agreement, lies above the
/// range that the customer agreed to.
[[nodiscard]] bool above_quote(const Invoice& invoice);

}  // namespace kp::bill
