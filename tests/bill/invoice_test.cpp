#include "bill/invoice.hpp"

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "bill/bar.hpp"
#include "bill/cases.hpp"
#include "bill/figures.hpp"
#include "bill/quote.hpp"
#include "support/random.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

WorkRecord minutes_of_labour(int minutes) {
  WorkRecord work;
  Segment segment;
  segment.counted_ms = static_cast<std::int64_t>(minutes) * 60000;
  work.segments = {segment};
  return work;
}

Invoice billed(const WorkRecord& work, const RateCard& card) {
  Findings findings;
  const Invoice invoice = make_invoice(work, card, head(), findings);
  CHECK_MESSAGE(findings.faults() == 0, all_text(findings));
  const Findings rules = verify(invoice);
  CHECK_MESSAGE(rules.faults() == 0, all_text(rules));
  return invoice;
}

}  // namespace

TEST_CASE("a job with tax on the part only: computed by hand") {
  // 67 min at 95.00 by six minutes: 1.2 h, 114.00; part 48.75 and 35 %: 65.81; trip 60.00; 8.25 %
  // on the part: 5.43. Whether labour is taxed differs by state; it is a setting of the card.
  RateCard card = demo_card();
  card.call_out_minor = 6000;
  card.labour_time.minimum_min = 0;
  card.markup_percent = Ratio{35, 1};
  WorkRecord work = minutes_of_labour(67);
  work.parts = {part("HE-120-9", "Heater element", 4875)};
  const Invoice invoice = billed(work, card);
  REQUIRE(invoice.lines.size() == 3);
  CHECK(invoice.lines[0].net_minor == 6000);
  CHECK(invoice.lines[1].net_minor == 11400);
  CHECK(invoice.lines[1].title == "Labour, 1.2 h at 95.00");
  CHECK(invoice.lines[2].net_minor == 6581);
  CHECK(invoice.totals.tax_minor == 543);
  CHECK(invoice.totals.due_minor == 24524);
}

TEST_CASE("the heater job costs what the bill screen was drawn with") {
  const Invoice invoice = billed(heater_job(), demo_card());
  REQUIRE(invoice.lines.size() == 4);
  CHECK(invoice.lines[0].title == "Call-out");
  CHECK(invoice.lines[0].net_minor == 6500);
  CHECK(invoice.lines[1].title == "Labour, 1.1 h at 95.00");
  CHECK(invoice.lines[1].detail == "1 h 06, by 6 minutes, 10 min of it diagnosis");
  CHECK(invoice.lines[1].net_minor == 10450);
  CHECK(invoice.lines[2].detail == "HE-120-9");
  CHECK(invoice.lines[3].detail == "while it was open");
  CHECK(invoice.totals.tax_minor == 495);
  CHECK(invoice.totals.due_minor == 6500 + 10450 + 4875 + 1120 + 495);
  CHECK(invoice.taxes.size() == 2);
  CHECK(date_text(*invoice.due) == "2026-03-18");
}

TEST_CASE("one tax on everything, as with VAT") {
  RateCard card = demo_card();
  card.taxes = {Tax{"VAT", "S", Ratio{19, 1}, "",
                    {LineKind::call_out, LineKind::labour, LineKind::diagnosis, LineKind::travel,
                     LineKind::part, LineKind::other}}};
  const Invoice invoice = billed(heater_job(), card);
  REQUIRE(invoice.taxes.size() == 1);
  CHECK(invoice.taxes[0].base_minor == 22945);
  CHECK(invoice.taxes[0].tax_minor == 4360);  // 4359.55
  CHECK(invoice.taxes[0].applies == "on everything");
}

TEST_CASE("a customer who is exempt pays no tax, and the reason is on the invoice") {
  WorkRecord work = heater_job();
  work.customer.exempt_reason = "Resale certificate 000-TEST";
  const Invoice invoice = billed(work, demo_card());
  CHECK(invoice.totals.tax_minor == 0);
  REQUIRE(invoice.taxes.size() == 1);
  CHECK(invoice.taxes[0].code == "E");
  CHECK(invoice.taxes[0].reason == "Resale certificate 000-TEST");
}

TEST_CASE("travel by distance, by minutes, as one sum") {
  RateCard card = demo_card();
  WorkRecord work = heater_job();
  card.travel = Travel{TravelRule::per_distance, Ratio{131, 2}, DistanceUnit::mile};  // 0.655
  work.distance = Ratio{124, 10};
  Invoice invoice = billed(work, card);
  CHECK(invoice.lines[1].title == "Travel, 12.4 mi at 0.655");
  CHECK(invoice.lines[1].net_minor == 812);  // 8.122
  card.travel = Travel{TravelRule::per_minute, Ratio{80, 1}, DistanceUnit::km};
  CHECK(billed(work, card).lines[1].net_minor == 640);
  card.travel = Travel{TravelRule::flat, Ratio{2500, 1}, DistanceUnit::km};
  work.call_outs = 2;
  CHECK(billed(work, card).lines[1].title == "Travel, 2 at 25.00");
  CHECK(billed(work, card).lines[1].net_minor == 5000);
  CHECK(billed(work, card).lines[0].net_minor == 13000);
}

TEST_CASE("diagnosis: with the labour, in the call-out, or one sum that a repair waives") {
  RateCard card = demo_card();
  WorkRecord work = heater_job();
  card.diagnosis.how = DiagnosisRule::included;
  CHECK(billed(work, card).lines[1].title == "Labour, 1 h at 95.00");  // 56 min
  card.diagnosis = Diagnosis{DiagnosisRule::flat, 4500, false};
  CHECK(billed(work, card).lines[1].title == "Diagnosis");
  CHECK(billed(work, card).lines[1].net_minor == 4500);
  card.diagnosis.waived_when_repaired = true;
  CHECK(billed(work, card).lines[1].title == "Labour, 1 h at 95.00");
  work.outcome = Outcome::no_fault_found;
  CHECK(billed(work, card).lines[1].title == "Diagnosis");
}

TEST_CASE("hours that do not end are billed in minutes, rounded once") {
  RateCard card = demo_card();
  card.labour_time = TimeRule{5, TimeRounding::nearest, 0};
  const Invoice invoice = billed(minutes_of_labour(53), card);
  CHECK(invoice.lines[1].title == "Labour, 55 min at 95.00 an hour");
  CHECK(invoice.lines[1].net_minor == 8708);  // 87.0833
}

TEST_CASE("yen have no minor unit, dinars have three digits: ISO 4217, from memory") {
  RateCard card = demo_card();
  card.currency = Currency{"JPY", 0};
  card.labour_per_hour_minor = 9800;
  card.call_out_minor = 6500;
  const Invoice yen = billed(minutes_of_labour(67), card);
  CHECK(yen.totals.due_minor == 6500 + 11760);
  CHECK(amount_text(yen.totals.due_minor, yen.currency) == "18260 JPY");
  card.currency = Currency{"KWD", 3};
  CHECK(verify(billed(minutes_of_labour(67), card)).has("br-dec"));
}

TEST_CASE("what cannot be billed makes a draft, and says why") {
  WorkRecord work = heater_job();
  work.segments[2].unanswered = true;
  work.segments[3].end.utc_ms = work.segments[3].start.utc_ms - 1;
  work.corrections = {TimeCorrection{SegmentKind::labour, -600, "", "Ines Okafor", {}},
                      TimeCorrection{SegmentKind::travel, -99999, "slip", "Ines Okafor", {}}};
  work.parts[0].quantity = Ratio{0, 1};
  work.parts[1].cost_minor = -5;
  work.changes = {Change{"Off", -500, LineKind::labour, " ", "Ines Okafor", {}}};
  work.call_outs = -1;
  work.paid_minor = -1;
  Findings findings;
  const Invoice invoice = make_invoice(work, demo_card(), head(""), findings);
  CHECK(invoice.draft);
  for (const char* code : {"time-unanswered", "end-before-start", "reason-missing",
                           "correction-too-large", "out-of-range", "number-missing"}) {
    CAPTURE(code);
    CHECK(findings.has(code));
  }
  CHECK(findings.faults() == 10);
  CHECK(verify(invoice).faults() == 0);
}

TEST_CASE("numbers far out of range are refused, not computed") {
  WorkRecord work = heater_job();
  work.parts[0].cost_minor = std::int64_t{1} << 62;
  work.parts[1].quantity = Ratio{std::int64_t{1} << 62, 1};
  work.segments[0].counted_ms = std::int64_t{1} << 62;
  work.distance = Ratio{1, std::int64_t{1} << 62};
  work.changes = {Change{"Off", -(std::int64_t{1} << 62), LineKind::part, "x", "", {}}};
  Findings findings;
  CHECK(make_invoice(work, demo_card(), head(), findings).draft);
  CHECK(findings.faults() == 5);
}

TEST_CASE("corrections and changes are counted with their reasons") {
  WorkRecord work = heater_job();
  work.corrections = {
      TimeCorrection{SegmentKind::labour, -12 * 60, "Call from the shop", "Ines Okafor", {}}};
  work.changes = {Change{"Goodwill", -1000, LineKind::labour, "Late arrival", "Ines Okafor", {}}};
  const Invoice invoice = billed(work, demo_card());
  CHECK(invoice.lines[1].title == "Labour, 0.9 h at 95.00");
  CHECK(invoice.totals.allowances_minor == 1000);
  CHECK(invoice.adjustments[0].reason == "Late arrival");
  CHECK(invoice.totals.gross_minor == 6500 + 8550 + 4875 + 1120 - 1000 + 495);
}

TEST_CASE("a credit note takes the whole invoice back") {
  WorkRecord work = heater_job();
  work.cash = true;
  work.paid_minor = 3;
  const Invoice invoice = billed(work, demo_card());
  const Invoice credit = credit_of(invoice, head("2026-0115"), "Wrong customer");
  CHECK(verify(credit).faults() == 0);
  CHECK(credit.corrects == "2026-0114");
  CHECK(credit.totals.gross_minor == -invoice.totals.gross_minor);
  CHECK(credit.totals.due_minor == -invoice.totals.due_minor);
  CHECK(credit.totals.tax_minor == -invoice.totals.tax_minor);
}

TEST_CASE("a quote runs from the plan as it is to the allowance of the card") {
  QuoteRequest request;
  request.number = "Q-7";
  request.at = at("2026-03-04T10:35:00-05:00");
  request.plan_seconds = 48 * 60;
  request.parts = {part("HE-120-9", "Heater element", 4875)};
  Findings findings;
  const Quote quote = make_quote(request, demo_card(), findings);
  CHECK(findings.faults() == 0);
  // Low: 48 + 6 = 54 min, 0.9 h, 85.50. High: 55.2 + 18 = 73 min, 78 billed, 1.3 h, 123.50.
  CHECK(quote.low_minor == 6500 + 8550 + 4875 + 402);
  CHECK(quote.high_minor == 6500 + 12350 + 4875 + 402);
  CHECK(range_text(quote.low_minor, quote.high_minor, quote.currency) == "203 to 242");
  REQUIRE(quote.lines.size() == 3);
  CHECK(quote.lines[1].title == "Labour");
  CHECK(quote.lines[1].low_minor == 8550);
  CHECK(quote.lines[1].high_minor == 12350);
  CHECK(date_text(quote.valid_until) == "2026-04-03");
}

TEST_CASE("work inside the quoted times costs inside the quoted range") {
  const RateCard card = demo_card();
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    QuoteRequest request;
    request.plan_seconds = random.between(0, 9000);
    request.diagnosis_low_s = random.between(0, 900);
    request.diagnosis_high_s = request.diagnosis_low_s + random.between(0, 1800);
    request.parts = {part("P", "Part", random.between(1, 30000), Ratio{random.between(1, 9), 2})};
    Findings findings;
    const Quote quote = make_quote(request, card, findings);
    REQUIRE(quote.low_minor <= quote.high_minor);
    std::int64_t low = quote.tax_low_minor;
    std::int64_t high = quote.tax_high_minor;
    for (const QuoteLine& line : quote.lines) {
      low += line.low_minor;
      high += line.high_minor;
    }
    CHECK(low == quote.low_minor);
    CHECK(high == quote.high_minor);

    WorkRecord work = minutes_of_labour(0);
    const std::int64_t most = request.plan_seconds + request.plan_seconds * 15 / 100;
    work.segments[0].counted_ms =
        1000LL * random.between(static_cast<int>(request.plan_seconds), static_cast<int>(most));
    Segment diagnosis;
    diagnosis.kind = SegmentKind::diagnosis;
    diagnosis.counted_ms = 1000LL * random.between(static_cast<int>(request.diagnosis_low_s),
                                                   static_cast<int>(request.diagnosis_high_s));
    work.segments.push_back(diagnosis);
    work.parts = request.parts;
    const Invoice invoice = billed(work, card);
    CHECK(invoice.totals.gross_minor >= quote.low_minor);
    CHECK(invoice.totals.gross_minor <= quote.high_minor);
  }
}

TEST_CASE("random jobs on random cards keep the rules") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    RateCard card = demo_card();
    card.call_out_minor = random.between(0, 20000);
    card.labour_per_hour_minor = random.between(0, 20000);
    card.labour_time = TimeRule{random.between(1, 60),
                                random.chance(0.5) ? TimeRounding::up : TimeRounding::nearest,
                                random.between(0, 90)};
    card.markup_percent = Ratio{random.between(0, 100000), 1000};
    card.taxes[0].percent = Ratio{random.between(0, 1000000), 10000};
    card.basis = random.chance(0.3) ? TaxBasis::item : TaxBasis::invoice;
    card.rounding = random.chance(0.3) ? Rounding::half_even : Rounding::half_up;
    card.travel = Travel{static_cast<TravelRule>(random.between(0, 3)),
                         Ratio{random.between(0, 10000), 100}, DistanceUnit::km};
    WorkRecord work = minutes_of_labour(random.between(0, 400));
    work.segments[0].kind = static_cast<SegmentKind>(random.between(0, 4));
    work.distance = Ratio{random.between(0, 2000), 10};
    work.cash = random.chance(0.5);
    for (int i = random.between(0, 6); i > 0; --i) {
      work.parts.push_back(
          part("P", "Part", random.between(0, 90000), Ratio{random.between(1, 40), 4}));
    }
    const Invoice invoice = billed(work, card);
    std::int64_t sum = invoice.totals.tax_minor;
    for (const Line& line : invoice.lines) {
      sum += line.net_minor;
    }
    CHECK(sum == invoice.totals.gross_minor);
  }
}

TEST_CASE("the time bar shares out the recorded time") {
  const TimeBar bar = time_bar(heater_job());
  REQUIRE(bar.cells.size() == 6);
  CHECK(bar.total_seconds == 81 * 60);
  CHECK(bar.cells[0].fraction == doctest::Approx(8.0 / 81));
  double sum = 0;
  for (const BarCell& cell : bar.cells) {
    sum += cell.fraction;
  }
  CHECK(sum == doctest::Approx(1));
  REQUIRE(bar.labels.size() == 4);
  CHECK(bar.labels[0].text == "travel 8 min");
  CHECK(bar.labels[2].text == "labour 56 min");
  CHECK(bar.labels[3].text == "waiting 7 min, not billed");
  CHECK(time_bar(WorkRecord{}).cells.empty());
}

TEST_CASE("a bill above its quote is known as such") {
  WorkRecord work = heater_job();
  work.quote = QuoteGiven{21000, 26500, at("2026-03-04T10:36:00-05:00"), "Wren Abernethy"};
  CHECK(!above_quote(billed(work, demo_card())));
  work.quote->high_minor = 23000;
  CHECK(above_quote(billed(work, demo_card())));
}
