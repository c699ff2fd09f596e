#include "bill/rates.hpp"

#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <rapidjson/document.h>
#include <rapidjson/schema.h>

#include "base/text.hpp"
#include "bill/cases.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

std::string card_text() { return read_file(KP_SOURCE_DIR "/assets/demo/rates.json"); }

/// The demo card with one piece of its text replaced.
std::string with(const std::string& old_text, const std::string& new_text) {
  std::string text = card_text();
  const auto at = text.find(old_text);
  REQUIRE_MESSAGE(at != std::string::npos, old_text);
  return text.replace(at, old_text.size(), new_text);
}

struct Bad {
  std::string text;
  std::string code;
  std::string pointer;
  std::string remedy_has;
  bool schema_sees = true;  ///< JSON Schema can say it too
};

std::vector<Bad> bad_cards() {
  return {
      {with("\"65.00\"", "\"-65.00\""), "out-of-range", "/call_out", "0.00 to 1000000.00"},
      {with("\"95.00\"", "\"9500000.00\""), "out-of-range", "/labour/per_hour",
       "0.00 to 1000000.00", false},
      {with("\"95.00\"", "\"95.005\""), "bad-amount", "/labour/per_hour", "", false},
      {with("\"95.00\"", "\"95,00\""), "bad-amount", "/labour/per_hour", ""},
      {with("\"95.00\"", "95.00"), "wrong-type", "/labour/per_hour", ""},
      {with("\"increment_minutes\": 6", "\"increment_minutes\": 0"), "out-of-range",
       "/labour/increment_minutes", "1"},
      {with("\"increment_minutes\": 6", "\"increment_minutes\": 61"), "out-of-range",
       "/labour/increment_minutes", "60"},
      {with("\"8.25\"", "\"825\""), "out-of-range", "/taxes/0/percent", "0 to 100", false},
      {with("\"8.25\"", "\"8,25\""), "bad-decimal", "/taxes/0/percent", "8.25"},
      {with("\"round\": \"up\"", "\"round\": \"upp\""), "unknown-word", "/labour/round", "up"},
      {with("[\"parts\"]", "[\"part\"]"), "unknown-word", "/taxes/0/applies_to", "parts"},
      {with("\"USD\"", "\"USX\""), "unknown-currency", "/currency", "USD", false},
      {with("\"call_out\"", "\"callout\""), "missing-member", "", "call_out"},
      {with("\"format\": 1", "\"format\": 2"), "newer-format", "/format", "format 1"},
      {with("\"diagnosis_minutes_high\": 18", "\"diagnosis_minutes_high\": 3"), "out-of-range",
       "/quote/diagnosis_minutes_high", "6", false},
      {with("\"how\": \"labour\"", "\"how\": \"flat\""), "missing-member", "/diagnosis", "",
       false},
      {with("\"Larkmoor Appliance Service\"", "\" \""), "empty-name", "/shop/name", "", false},
      {with("[\n    {", "[\n    { \"name\": \"City tax\", \"percent\": \"1\", \"applies_to\": [\"all\"] },\n    {"),
       "tax-overlap", "/taxes/1/applies_to", "one rate", false},
      {with("\"code\": \"S\"", "\"code\": \"Z\""), "out-of-range", "/taxes/0/percent", "0", false},
      {with("\"cash_step\": \"0.05\"", "\"cash_step\": \"0.5.\""), "bad-amount", "/cash_step", ""},
      {"{", "bad-json", "", "", true},
  };
}

bool schema_accepts(const std::string& text) {
  rapidjson::Document schema_text;
  schema_text.Parse(read_file(KP_SOURCE_DIR "/assets/schema/rates.schema.json").c_str());
  REQUIRE(!schema_text.HasParseError());
  const rapidjson::SchemaDocument schema(schema_text);
  rapidjson::Document card;
  if (card.Parse(text.c_str()).HasParseError()) {
    return false;
  }
  rapidjson::SchemaValidator validator(schema);
  return card.Accept(validator);
}

}  // namespace

TEST_CASE("the demo card is read whole") {
  const RateCard card = demo_card();
  CHECK(card.currency == Currency{"USD", 2});
  CHECK(card.call_out_minor == 6500);
  CHECK(card.labour_per_hour_minor == 9500);
  CHECK(card.labour_time.increment_min == 6);
  CHECK(card.labour_time.rounding == TimeRounding::up);
  CHECK(card.labour_time.minimum_min == 30);
  CHECK(card.tax_on(LineKind::part).percent.num == 33);
  CHECK(card.tax_on(LineKind::part).percent.den == 4);
  CHECK(card.tax_on(LineKind::labour).percent.num == 0);
  CHECK(card.tax_on(LineKind::labour).code == "E");
  CHECK(card.cash_step_minor == 5);
  CHECK(card.page == PageSize::letter);
}

TEST_CASE("nonsense is refused at its field, with the range that is allowed") {
  for (const Bad& bad : bad_cards()) {
    CAPTURE(bad.text);
    Findings findings;
    CHECK(!load_rates(bad.text, findings).has_value());
    bool found = false;
    for (const Finding& finding : findings.all()) {
      found = found || (finding.code == bad.code &&
                        (bad.pointer.empty() || finding.pointer == bad.pointer) &&
                        (finding.what + finding.remedy).find(bad.remedy_has) != std::string::npos);
    }
    CHECK_MESSAGE(found, cat(bad.code, " ", bad.pointer, "\n", all_text(findings)));
  }
}

TEST_CASE("all faults of a card come in one run") {
  std::string text = with("\"65.00\"", "\"-1\"");
  text.replace(text.find("\"95.00\""), 7, "\"x\"");
  text.replace(text.find("\"8.25\""), 6, "\"200\"");
  Findings findings;
  CHECK(!load_rates(text, findings).has_value());
  CHECK(findings.faults() == 3);
  findings.sort();
  CHECK(findings.all().front().line > 0);
}

TEST_CASE("the published schema and the reader agree") {
  CHECK(schema_accepts(card_text()));
  for (const Bad& bad : bad_cards()) {
    CAPTURE(bad.text);
    CHECK(schema_accepts(bad.text) == !bad.schema_sees);
  }
}

TEST_CASE("currencies without and with three minor digits: ISO 4217, from memory") {
  const auto yen = [](const std::string& text) {
    std::string card = text;
    const auto set = [&card](const std::string& from, const std::string& to) {
      card.replace(card.find(from), from.size(), to);
    };
    set("\"USD\"", "\"JPY\"");
    set("\"65.00\"", "\"6500\"");
    set("\"95.00\"", "\"9800\"");
    set("\"0.05\"", "\"1\"");
    return card;
  };
  Findings findings;
  const auto card = load_rates(yen(card_text()), findings);
  REQUIRE_MESSAGE(card.has_value(), all_text(findings));
  CHECK(card->currency.digits == 0);
  CHECK(card->call_out_minor == 6500);
  CHECK(card->labour_per_hour_minor == 9800);

  std::string dinar = card_text();
  dinar.replace(dinar.find("\"USD\""), 5, "\"KWD\"");
  const auto three = load_rates(dinar, findings);
  REQUIRE(three.has_value());
  CHECK(three->call_out_minor == 65000);
}
