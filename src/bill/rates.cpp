#include "bill/rates.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "bill/figures.hpp"
#include "data/reader.hpp"

namespace kp::bill {
namespace {

constexpr std::int64_t kMostMajor = 1000000;

std::int64_t power_of_ten(int exponent) {
  std::int64_t power = 1;
  for (int i = 0; i < exponent; ++i) {
    power *= 10;
  }
  return power;
}

/// The member's text, or nothing where the reader has reported it or it is absent.
std::optional<std::string> decimal_member(data::Reader& reader, std::string_view name,
                                          bool required) {
  if (!required && !reader.has(name)) {
    return std::nullopt;
  }
  const std::string text = reader.text(name);
  const data::Value* value = reader.value().find(name);
  if (value == nullptr || value->kind != data::Kind::string) {
    return std::nullopt;
  }
  return text;
}

/// A decimal in [least, most] with at most `decimals` decimals.
Ratio decimal(data::Reader& reader, std::string_view name, Ratio fallback, std::int64_t least,
              std::int64_t most, int decimals, bool required) {
  const auto text = decimal_member(reader, name, required);
  if (!text) {
    return fallback;
  }
  const auto value = parse_decimal(*text);
  if (!value || !ends_within(*value, decimals)) {
    reader.fault("bad-decimal", cat(name, " \"", *text, "\" is not a decimal number"),
                 cat("Write at most ", decimals, " decimals, for example \"8.25\"."), name);
    return fallback;
  }
  if (value->num < least * value->den || value->num > most * value->den) {
    reader.fault("out-of-range", cat(name, " is ", *text),
                 cat("Give a number from ", least, " to ", most, "."), name);
    return fallback;
  }
  return *value;
}

std::int64_t money(data::Reader& reader, std::string_view name, const Currency& currency,
                   std::int64_t fallback, std::int64_t most_major, bool required) {
  const auto text = decimal_member(reader, name, required);
  if (!text) {
    return fallback;
  }
  const auto minor = parse_minor(*text, currency);
  if (!minor) {
    reader.fault("bad-amount", cat(name, " \"", *text, "\" is not an amount in ", currency.code),
                 minor.error().remedy, name);
    return fallback;
  }
  const std::int64_t most = most_major * power_of_ten(currency.digits);
  if (*minor < 0 || *minor > most) {
    reader.fault("out-of-range", cat(name, " is ", *text),
                 cat("Give an amount from ", minor_text(0, currency), " to ",
                     minor_text(most, currency), "."),
                 name);
    return fallback;
  }
  return *minor;
}

Shop read_shop(data::Reader& reader) {
  Shop shop;
  if (auto r = reader.object("shop")) {
    shop.name = r->text("name");
    shop.address = r->texts_or_empty("address");
    shop.country = r->text_or("country", "");
    shop.phone = r->text_or("phone", "");
    shop.email = r->text_or("email", "");
    shop.licence = r->text_or("licence", "");
    shop.legal_id = r->text_or("legal_id", "");
    shop.tax_id = r->text_or("tax_id", "");
    if (r->has("name") && trim(shop.name).empty()) {
      r->fault("empty-name", "the shop has no name", "Write the name that stands on the invoice.",
               "name");
    }
    r->done();
  }
  return shop;
}

void read_labour(data::Reader& reader, RateCard& card) {
  auto r = reader.object("labour");
  if (!r) {
    return;
  }
  card.labour_per_hour_minor = money(*r, "per_hour", card.currency, 0, kMostMajor, true);
  card.labour_time.increment_min = static_cast<int>(r->integer_or("increment_minutes", 1, 1, 60));
  card.labour_time.rounding =
      r->choice_or("round", {"up", "nearest"}, 0) == 0 ? TimeRounding::up : TimeRounding::nearest;
  card.labour_time.minimum_min = static_cast<int>(r->integer_or("minimum_minutes", 0, 0, 480));
  r->done();
}

Diagnosis read_diagnosis(data::Reader& reader, const Currency& currency) {
  Diagnosis diagnosis;
  if (auto r = reader.object("diagnosis", false)) {
    diagnosis.how = static_cast<DiagnosisRule>(r->choice("how", {"labour", "included", "flat"}));
    const bool flat = diagnosis.how == DiagnosisRule::flat;
    diagnosis.flat_minor = money(*r, "amount", currency, 0, kMostMajor, flat);
    diagnosis.waived_when_repaired = r->flag_or("waived_when_repaired", false);
    r->done();
  }
  return diagnosis;
}

Travel read_travel(data::Reader& reader, const Currency& currency) {
  Travel travel;
  if (auto r = reader.object("travel", false)) {
    travel.how =
        static_cast<TravelRule>(r->choice("how", {"included", "flat", "distance", "minute"}));
    const bool priced = travel.how != TravelRule::included;
    const Ratio major =
        decimal(*r, "amount", Ratio{0, 1}, 0, kMostMajor, currency.digits + 2, priced);
    travel.rate_minor = multiply(major, Ratio{power_of_ten(currency.digits), 1});
    travel.unit = r->choice_or("unit", {"km", "mile"}, 0) == 0 ? DistanceUnit::km
                                                              : DistanceUnit::mile;
    r->done();
  }
  return travel;
}

Tax read_tax(data::Reader& r) {
  Tax tax;
  tax.name = r.text("name");
  const std::vector<std::string> codes = {"S", "Z", "E", "O"};
  tax.code = codes[to_size(std::max(0, r.choice_or("code", codes, 0)))];
  tax.percent = decimal(r, "percent", Ratio{0, 1}, 0, 100, 4, true);
  tax.reason = r.text_or("reason", "");
  if (tax.code != "S" && tax.percent.num != 0) {
    r.fault("out-of-range", cat("percent is not 0 for code \"", tax.code, "\""),
            "Give 0, or code \"S\".", "percent");
  }
  for (const std::string& word : r.texts_or_empty("applies_to")) {
    const auto& words = line_kind_words();
    const auto found = std::find(words.begin(), words.end(), word);
    if (word == "all") {
      for (int kind = 0; kind < kLineKinds; ++kind) {
        tax.applies_to.push_back(static_cast<LineKind>(kind));
      }
    } else if (found != words.end()) {
      tax.applies_to.push_back(static_cast<LineKind>(found - words.begin()));
    } else {
      const auto hint = nearest(word, words);
      r.fault("unknown-word", cat("applies_to names \"", word, "\""),
              hint ? cat("Did you mean \"", *hint, "\"?")
                   : cat("Use \"all\" or some of ", join(words, ", "), "."),
              "applies_to");
    }
  }
  r.done();
  return tax;
}

void read_taxes(data::Reader& reader, RateCard& card) {
  std::vector<int> owner(to_size(kLineKinds), -1);
  for (data::Reader& r : reader.list("taxes")) {
    Tax tax = read_tax(r);
    for (const LineKind kind : tax.applies_to) {
      int& held = owner[to_size(static_cast<int>(kind))];
      if (held >= 0 && held != to_int(card.taxes.size())) {
        r.fault("tax-overlap",
                cat("two taxes apply to ", line_kind_words()[to_size(static_cast<int>(kind))]),
                "Let one apply. Two levels of one tax are written as one rate, their sum.",
                "applies_to");
      }
      held = to_int(card.taxes.size());
    }
    card.taxes.push_back(std::move(tax));
  }
  card.untaxed = Tax{"Not taxed", "E", Ratio{0, 1}, "Not subject to this tax", {}};
  if (auto r = reader.object("untaxed", false)) {
    card.untaxed.name = r->text_or("name", card.untaxed.name);
    const std::vector<std::string> codes = {"Z", "E", "O"};
    card.untaxed.code = codes[to_size(std::max(0, r->choice_or("code", codes, 1)))];
    card.untaxed.reason = r->text_or("reason", card.untaxed.reason);
    r->done();
  }
}

void read_quote(data::Reader& reader, RateCard& card) {
  auto r = reader.object("quote", false);
  if (!r) {
    return;
  }
  QuoteRule& quote = card.quote;
  quote.range_percent = decimal(*r, "range_percent", quote.range_percent, 0, 200, 2, false);
  quote.diagnosis_min_low =
      static_cast<int>(r->integer_or("diagnosis_minutes_low", 0, 0, 480));
  quote.diagnosis_min_high = static_cast<int>(
      r->integer_or("diagnosis_minutes_high", quote.diagnosis_min_low, 0, 480));
  quote.valid_days = static_cast<int>(r->integer_or("valid_days", quote.valid_days, 0, 365));
  if (quote.diagnosis_min_high < quote.diagnosis_min_low) {
    r->fault("out-of-range", "diagnosis_minutes_high is below diagnosis_minutes_low",
             cat("Give at least ", quote.diagnosis_min_low, "."), "diagnosis_minutes_high");
  }
  r->done();
}

void read_terms(data::Reader& reader, RateCard& card) {
  if (auto r = reader.object("terms", false)) {
    card.terms.due_days = static_cast<int>(r->integer_or("due_days", 14, 0, 365));
    card.terms.text = r->text_or("text", "");
    r->done();
  }
}

void read_rules(data::Reader& reader, RateCard& card) {
  card.basis =
      reader.choice_or("tax_basis", {"invoice", "item"}, 0) == 0 ? TaxBasis::invoice : TaxBasis::item;
  card.rounding = reader.choice_or("rounding", {"half-up", "half-even"}, 0) == 0
                      ? Rounding::half_up
                      : Rounding::half_even;
  card.cash_step_minor = money(reader, "cash_step", card.currency, 0, 100, false);
  card.page = reader.choice_or("page", {"a4", "letter"}, 0) == 0 ? PageSize::a4 : PageSize::letter;
}

}  // namespace

const std::vector<std::string>& line_kind_words() {
  static const std::vector<std::string> words = {"call-out", "labour", "diagnosis",
                                                 "travel",   "parts",  "other"};
  return words;
}

const Tax& RateCard::tax_on(LineKind kind) const {
  for (const Tax& tax : taxes) {
    if (std::find(tax.applies_to.begin(), tax.applies_to.end(), kind) != tax.applies_to.end()) {
      return tax;
    }
  }
  return untaxed;
}

std::optional<RateCard> read_rates(const data::Value& value, Findings& findings) {
  const int before = findings.faults();
  data::Reader reader(value, findings);
  RateCard card;
  const std::int64_t format = reader.integer("format", 1, 1000000);
  if (format > kRatesFormat) {
    reader.fault("newer-format", cat("this card has format ", format),
                 cat("This program reads format ", kRatesFormat, ". Use a newer program."),
                 "format");
    return std::nullopt;
  }
  const std::string code = reader.text("currency");
  const auto currency = currency_of(code);
  if (currency) {
    card.currency = *currency;
  } else if (!code.empty()) {
    reader.fault("unknown-currency", currency.error().what, currency.error().remedy, "currency");
  }
  card.shop = read_shop(reader);
  card.call_out_minor = money(reader, "call_out", card.currency, 0, kMostMajor, true);
  read_labour(reader, card);
  card.diagnosis = read_diagnosis(reader, card.currency);
  card.travel = read_travel(reader, card.currency);
  if (auto r = reader.object("parts", false)) {
    card.markup_percent = decimal(*r, "markup_percent", Ratio{0, 1}, 0, 1000, 3, true);
    r->done();
  }
  read_taxes(reader, card);
  read_rules(reader, card);
  read_quote(reader, card);
  read_terms(reader, card);
  reader.done();
  if (findings.faults() > before) {
    return std::nullopt;
  }
  return card;
}

std::optional<RateCard> load_rates(std::string_view text, Findings& findings) {
  const auto value = data::parse(text);
  if (!value) {
    Finding finding;
    finding.code = value.error().code;
    finding.what = cat(value.error().where, ": ", value.error().what);
    finding.remedy = value.error().remedy;
    findings.add(finding);
    return std::nullopt;
  }
  return read_rates(*value, findings);
}

}  // namespace kp::bill
