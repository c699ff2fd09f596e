// The card as JSON: what read_rates() reads.
#include <utility>

#include "base/text.hpp"
#include "bill/figures.hpp"
#include "bill/stored.hpp"
#include "bill/stored_words.hpp"

namespace kp::bill {
namespace {

using data::Value;

constexpr int kMostDecimals = 8;

Value text(const std::string& value) { return Value::of(std::string_view(value)); }

Value amount(std::int64_t minor, const Currency& currency) {
  return text(minor_text(minor, currency));
}

Value texts(const std::vector<std::string>& values) {
  Value list = Value::array();
  for (const std::string& value : values) {
    list.push(text(value));
  }
  return list;
}

Value shop_of(const Shop& shop) {
  Value out = Value::object();
  out.set("name", text(shop.name)).set("address", texts(shop.address));
  for (const auto& [name, value] :
       {std::pair<const char*, const std::string*>{"country", &shop.country},
        {"phone", &shop.phone},
        {"email", &shop.email},
        {"licence", &shop.licence},
        {"legal_id", &shop.legal_id},
        {"tax_id", &shop.tax_id}}) {
    out.set(name, text(*value));
  }
  return out;
}

Value labour_of(const RateCard& card) {
  Value out = Value::object();
  out.set("per_hour", amount(card.labour_per_hour_minor, card.currency));
  out.set("increment_minutes", Value::of(card.labour_time.increment_min));
  out.set("round",
          Value::of(card.labour_time.rounding == TimeRounding::up ? "up" : "nearest"));
  return out.set("minimum_minutes", Value::of(card.labour_time.minimum_min));
}

Value diagnosis_of(const RateCard& card) {
  static constexpr const char* kHow[] = {"labour", "included", "flat"};
  Value out = Value::object();
  out.set("how", Value::of(kHow[static_cast<int>(card.diagnosis.how)]));
  out.set("amount", amount(card.diagnosis.flat_minor, card.currency));
  return out.set("waived_when_repaired", Value::of(card.diagnosis.waived_when_repaired));
}

Value travel_of(const RateCard& card) {
  static constexpr const char* kHow[] = {"included", "flat", "distance", "minute"};
  std::int64_t unit = 1;
  for (int i = 0; i < card.currency.digits; ++i) {
    unit *= 10;
  }
  Value out = Value::object();
  out.set("how", Value::of(kHow[static_cast<int>(card.travel.how)]));
  out.set("amount",
          text(decimal_text(multiply(card.travel.rate_minor, Ratio{1, unit}), kMostDecimals)));
  return out.set("unit", Value::of(card.travel.unit == DistanceUnit::km ? "km" : "mile"));
}

Value tax_of(const Tax& tax) {
  Value out = Value::object();
  out.set("name", text(tax.name)).set("code", text(tax.code));
  out.set("percent", text(decimal_text(tax.percent))).set("reason", text(tax.reason));
  Value kinds = Value::array();
  for (const LineKind kind : tax.applies_to) {
    kinds.push(text(line_kind_words()[to_size(static_cast<int>(kind))]));
  }
  return out.set("applies_to", std::move(kinds));
}

Value quote_of(const QuoteRule& quote) {
  Value out = Value::object();
  out.set("range_percent", text(decimal_text(quote.range_percent)));
  out.set("diagnosis_minutes_low", Value::of(quote.diagnosis_min_low));
  out.set("diagnosis_minutes_high", Value::of(quote.diagnosis_min_high));
  return out.set("valid_days", Value::of(quote.valid_days));
}

}  // namespace

Value write_rates(const RateCard& card) {
  Value out = Value::object();
  out.set("format", Value::of(kRatesFormat)).set("currency", text(card.currency.code));
  out.set("shop", shop_of(card.shop)).set("call_out", amount(card.call_out_minor, card.currency));
  out.set("labour", labour_of(card)).set("diagnosis", diagnosis_of(card));
  out.set("travel", travel_of(card));
  Value parts = Value::object();
  parts.set("markup_percent", text(decimal_text(card.markup_percent)));
  out.set("parts", std::move(parts));
  Value taxes = Value::array();
  for (const Tax& tax : card.taxes) {
    taxes.push(tax_of(tax));
  }
  out.set("taxes", std::move(taxes));
  Value untaxed = Value::object();
  untaxed.set("name", text(card.untaxed.name)).set("code", text(card.untaxed.code));
  untaxed.set("reason", text(card.untaxed.reason));
  out.set("untaxed", std::move(untaxed));
  out.set("tax_basis", Value::of(card.basis == TaxBasis::invoice ? "invoice" : "item"));
  out.set("rounding", Value::of(card.rounding == Rounding::half_even ? "half-even" : "half-up"));
  out.set("cash_step", amount(card.cash_step_minor, card.currency));
  out.set("quote", quote_of(card.quote));
  Value terms = Value::object();
  terms.set("due_days", Value::of(card.terms.due_days)).set("text", text(card.terms.text));
  out.set("terms", std::move(terms));
  const std::string& page = page_words()[to_size(static_cast<int>(card.page))];
  return out.set("page", text(page));
}

}  // namespace kp::bill
