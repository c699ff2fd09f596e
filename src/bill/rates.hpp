#pragma once
// bill: what the shop charges, and what it hands over. Rates and work become a quote, an invoice
// and the papers of a job; every paper is one Page that HTML and PDF are printed from.
// It knows nothing of machines, plans, journals or screens: the caller brings plain work.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "base/money.hpp"
#include "bill/time_rule.hpp"
#include "data/value.hpp"

namespace kp::bill {

/// What a line is for; taxes apply by it.
enum class LineKind { call_out, labour, diagnosis, travel, part, other };
inline constexpr int kLineKinds = 6;

enum class PageSize { a4, letter };

/// Who bills. All of it is printed; `legal_id` or `tax_id` identifies the seller (EN 16931
/// BR-CO-26).
struct Shop {
  std::string name;
  std::vector<std::string> address;
  std::string country;  ///< ISO 3166-1, two letters
  std::string phone;
  std::string email;
  std::string licence;
  std::string legal_id;
  std::string tax_id;
};

/// One tax, by category and rate. `code` is the category letter of EN 16931: S taxed, Z zero
/// rate, E exempt, O outside the tax.
struct Tax {
  std::string name;
  std::string code = "S";
  Ratio percent;
  std::string reason;  ///< why nothing is taken, for E and O
  std::vector<LineKind> applies_to;
};

/// invoice: once on the sum of a group. item: on each single item, then added.
enum class TaxBasis { invoice, item };

enum class DiagnosisRule { as_labour, included, flat };
struct Diagnosis {
  DiagnosisRule how = DiagnosisRule::as_labour;
  std::int64_t flat_minor = 0;
  bool waived_when_repaired = false;
};

enum class TravelRule { included, flat, per_distance, per_minute };
enum class DistanceUnit { km, mile };
struct Travel {
  TravelRule how = TravelRule::included;
  Ratio rate_minor;  ///< a flat sum, or the price of one km, mile or minute
  DistanceUnit unit = DistanceUnit::km;
};

struct QuoteRule {
  Ratio range_percent{10, 1};  ///< the high end allows this much more time than the plan
  int diagnosis_min_low = 0;
  int diagnosis_min_high = 0;
  int valid_days = 30;
};

struct Terms {
  int due_days = 14;
  std::string text;
};

/// What a shop charges and by which rules. A card from read_rates() is within its ranges.
struct RateCard {
  Currency currency;
  Shop shop;
  std::int64_t call_out_minor = 0;
  std::int64_t labour_per_hour_minor = 0;
  TimeRule labour_time;
  Diagnosis diagnosis;
  Travel travel;
  Ratio markup_percent;
  std::vector<Tax> taxes;
  Tax untaxed;  ///< for what no tax applies to
  TaxBasis basis = TaxBasis::invoice;
  Rounding rounding = Rounding::half_up;
  std::int64_t cash_step_minor = 0;  ///< smallest coin; 0: cash is not rounded
  QuoteRule quote;
  Terms terms;
  PageSize page = PageSize::a4;

  /// The tax on lines of that kind; `untaxed` where none applies.
  [[nodiscard]] const Tax& tax_on(LineKind kind) const;
};

inline constexpr int kRatesFormat = 1;

/// Reads a card from its JSON (assets/schema/rates.schema.json). Amounts and percentages are
/// decimals in quotes, so that they are never binary fractions. All faults land in `findings`
/// with place and remedy: `bad-decimal`, `bad-amount`, `out-of-range`, `unknown-currency`,
/// `newer-format`, `tax-overlap`, and those of data::Reader. Nothing is returned if there is one.
[[nodiscard]] std::optional<RateCard> read_rates(const data::Value& value, Findings& findings);

/// The same from text; text that is not JSON is one finding (`bad-json`).
[[nodiscard]] std::optional<RateCard> load_rates(std::string_view text, Findings& findings);

/// The words of a kind as they stand in a card: "call-out", "labour", ...
[[nodiscard]] const std::vector<std::string>& line_kind_words();

}  // namespace kp::bill
