#include "bill/stored.hpp"

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "bill/cases.hpp"
#include "bill/documents.hpp"
#include "bill/html.hpp"
#include "bill/pdf.hpp"
#include "support/random.hpp"

// Papers as they were issued: what is written is read, byte for byte, and printed from that alone.
// What must add up is EN 16931's, as in invoice_test.cpp.

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

std::string words_of(kp::test::Random& random) {
  static const std::vector<std::string> words = {
      "Heater", "Ω \"ok\"\n", "Ñandú", "日本", "a/b\\c", "", "  two  blanks", "\t"};
  return words[to_size(random.between(0, to_int(words.size()) - 1))];
}

Moment some_moment(kp::test::Random& random) {
  return Moment{1'700'000'000'000 + std::int64_t{random.between(0, 2'000'000'000)} * 40,
                random.between(-56, 56) * 15};
}

RateCard random_card(kp::test::Random& random) {
  RateCard card = demo_card();
  static const Currency kMoney[] = {{"USD", 2}, {"JPY", 0}, {"KWD", 3}};
  card.currency = kMoney[random.between(0, 2)];
  card.call_out_minor = random.between(0, 20'000);
  card.labour_per_hour_minor = random.between(0, 20'000);
  card.labour_time = TimeRule{random.between(1, 60),
                              random.chance(0.5) ? TimeRounding::up : TimeRounding::nearest,
                              random.between(0, 90)};
  card.markup_percent = Ratio{random.between(0, 100'000), 1'000};
  card.taxes[0].percent = Ratio{random.between(0, 1'000'000), 10'000};
  card.basis = random.chance(0.3) ? TaxBasis::item : TaxBasis::invoice;
  card.rounding = random.chance(0.3) ? Rounding::half_even : Rounding::half_up;
  card.travel = Travel{static_cast<TravelRule>(random.between(0, 3)),
                       Ratio{random.between(0, 10'000), 100}, DistanceUnit::mile};
  card.page = random.chance(0.5) ? PageSize::a4 : PageSize::letter;
  card.shop.licence = words_of(random);
  return card;
}

WorkRecord random_work(kp::test::Random& random) {
  WorkRecord work = heater_job();
  work.customer.name = words_of(random);
  work.note = words_of(random);
  work.machine.serial = words_of(random);
  for (Segment& segment : work.segments) {
    segment.flag = random.chance(0.3) ? "Screen off 12:03 of it" : "";
    if (random.chance(0.5)) {
      segment.counted_ms = random.between(0, 4'000'000);
    }
  }
  if (random.chance(0.5)) {
    work.corrections = {
        TimeCorrection{SegmentKind::labour, random.between(-60, 600), "slip", "Ines", {}}};
  }
  if (random.chance(0.5)) {
    work.changes = {Change{"Goodwill", random.between(-900, 900),
                           static_cast<LineKind>(random.between(0, 5)), "late", "Ines", {}}};
  }
  if (random.chance(0.5)) {
    work.quote = QuoteGiven{random.between(0, 20'000), random.between(20'000, 40'000),
                            some_moment(random), words_of(random), random.between(0, 1) * 4'200};
  }
  work.cash = random.chance(0.5);
  work.distance = Ratio{random.between(0, 2'000), 10};
  for (int i = random.between(0, 6); i > 0; --i) {
    work.parts.push_back(part("P", "Part", random.between(0, 90'000),
                              Ratio{random.between(1, 40), random.between(1, 8)}));
  }
  return work;
}

StoredInvoice stored(const WorkRecord& work, const RateCard& card, Moment issued) {
  Findings findings;
  StoredInvoice paper;
  paper.invoice = make_invoice(work, card, InvoiceHead{"20260304-1", issued}, findings);
  CHECK_MESSAGE(findings.faults() == 0, all_text(findings));
  paper.segments = work.segments;
  paper.corrections = work.corrections;
  paper.rates = write_rates(card);
  return paper;
}

std::string told(const data::Value& value) {
  Findings findings;
  (void)read_invoice(value, findings);
  return all_text(findings);
}

data::Value parsed(const std::string& text) {
  const auto value = data::parse(text);
  REQUIRE(value.has_value());
  return *value;
}

/// The text with the first `from` replaced.
std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("a stored invoice comes back byte for byte, and prints the same page") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    const WorkRecord work = random_work(random);
    StoredInvoice paper = stored(work, random_card(random), some_moment(random));
    if (random.chance(0.2)) {
      paper.invoice = credit_of(paper.invoice, InvoiceHead{"20260304-2", some_moment(random)}, "so");
    }
    const std::string text = data::print(write_paper(paper));
    Findings findings;
    const auto back = read_invoice(parsed(text), findings);
    REQUIRE_MESSAGE(back.has_value(), all_text(findings));
    CHECK(findings.all().empty());
    CHECK(data::print(write_paper(*back)) == text);
    CHECK(verify_sums(back->invoice).faults() == 0);
    CHECK(page_texts(invoice_page(*back, "41-00")) == page_texts(invoice_page(paper, "41-00")));
    const auto once = render_pdf(invoice_page(paper, "41-00"));
    const auto again = render_pdf(invoice_page(*back, "41-00"));
    REQUIRE(once.has_value());
    REQUIRE(again.has_value());
    CHECK(once.value() == again.value());
  }
}

TEST_CASE("a stored quote comes back byte for byte, and its lines make its ends") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    QuoteRequest request;
    request.number = "20260304-0001";
    request.at = some_moment(random);
    request.plan_seconds = random.between(0, 9'000);
    request.complaint = words_of(random);
    request.customer.address = {words_of(random), "x"};
    request.parts = {part("P", "Part", random.between(1, 30'000), Ratio{random.between(1, 9), 2})};
    const RateCard card = random_card(random);
    Findings findings;
    const StoredQuote paper{make_quote(request, card, findings), write_rates(card)};
    const std::string text = data::print(write_paper(paper));
    const auto back = read_quote(parsed(text), findings);
    REQUIRE_MESSAGE(back.has_value(), all_text(findings));
    CHECK(data::print(write_paper(*back)) == text);
    CHECK(verify(back->quote).all().empty());
    CHECK(render_html(quote_page(back->quote, "7-00")) == render_html(quote_page(paper.quote, "7-00")));
  }
}

TEST_CASE("a changed sum of a stored invoice is found, whichever it is") {
  WorkRecord work = heater_job();
  work.changes = {Change{"Goodwill", -1'000, LineKind::labour, "Late arrival", "Ines", {}}};
  const StoredInvoice paper = stored(work, demo_card(), at("2026-03-04T11:45:00-05:00"));
  int changed = 0;
  const auto change = [&](auto&& pick) {
    for (const std::int64_t by : {1, -1, 1'000}) {
      StoredInvoice copy = paper;
      pick(copy.invoice) += by;
      ++changed;
      Findings findings;
      const auto back = read_invoice(parsed(data::print(write_paper(copy))), findings);
      REQUIRE(back.has_value());
      CHECK(verify_sums(back->invoice).faults() > 0);
    }
  };
  for (std::size_t i = 0; i < paper.invoice.lines.size(); ++i) {
    change([i](Invoice& one) -> std::int64_t& { return one.lines[i].net_minor; });
  }
  for (std::size_t i = 0; i < paper.invoice.taxes.size(); ++i) {
    change([i](Invoice& one) -> std::int64_t& { return one.taxes[i].base_minor; });
    change([i](Invoice& one) -> std::int64_t& { return one.taxes[i].tax_minor; });
  }
  change([](Invoice& one) -> std::int64_t& { return one.adjustments[0].amount_minor; });
  for (const auto sum : {&Totals::lines_minor, &Totals::allowances_minor, &Totals::charges_minor,
                         &Totals::net_minor, &Totals::tax_minor, &Totals::gross_minor,
                         &Totals::paid_minor, &Totals::rounding_minor, &Totals::due_minor}) {
    change([sum](Invoice& one) -> std::int64_t& { return one.totals.*sum; });
  }
  CHECK(changed == 3 * (4 + 2 * to_int(paper.invoice.taxes.size()) + 1 + 9));
}

TEST_CASE("what is no stored invoice is told with its place") {
  const std::string text =
      data::print(write_paper(stored(heater_job(), demo_card(), at("2026-03-04T11:45:00-05:00"))));
  CHECK(told(parsed(text)).empty());
  CHECK(told(parsed("{\"format\":1,\"paper\":\"recipe\"}")) ==
        "line 1, /paper: \"paper\" is \"recipe\". Write one of \"invoice\".\n");
  CHECK(told(parsed(with(text, "\"format\":1", "\"format\":2"))) ==
        "line 1, /format: this paper has format 2. Open it with the newer program.\n");
  CHECK(told(parsed(with(text, "\"quantity\":\"1\"", "\"quantity\":\"1/0\""))) ==
        "line 1, /lines/0/quantity: quantity \"1/0\" is no fraction in range. Look for an unchanged "
        "copy.\n");
  CHECK(told(parsed(with(text, "\"issued\":\"2026-03", "\"issued\":\"2026-13"))).find(
            "/issued: issued is no time") != std::string::npos);
  CHECK(told(parsed(with(text, "\"grossMinor\":", "\"grossMinor\":9999999999999"))).find(
            "/totals/grossMinor") != std::string::npos);
  CHECK(told(parsed(with(text, "\"terms\":", "\"colour\":"))).find("/colour") != std::string::npos);
  CHECK(!told(parsed("[]")).empty());
}

TEST_CASE("a stored invoice of which the customer was erased still reads, adds up and prints") {
  data::Value value = write_paper(stored(heater_job(), demo_card(), at("2026-03-04T11:45:00-05:00")));
  std::erase_if(value.members, [](const data::Value::Member& one) { return one.first == "customer"; });
  Findings findings;
  const auto back = read_invoice(value, findings);
  REQUIRE_MESSAGE(back.has_value(), all_text(findings));
  CHECK(verify_sums(back->invoice).faults() == 0);
  const std::string page = render_html(invoice_page(*back, "41-00"));
  CHECK(page.find("Abernethy") == std::string::npos);
  CHECK(page.find("2026-03-04") != std::string::npos);
}

TEST_CASE("a card is written as it is read") {
  for (std::uint64_t seed = 1; seed <= 100; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    const RateCard card = random_card(random);
    const data::Value value = write_rates(card);
    Findings findings;
    const auto back = read_rates(parsed(data::print(value)), findings);
    REQUIRE_MESSAGE(back.has_value(), all_text(findings));
    CHECK(data::same(write_rates(*back), value));
    // The same work costs the same by both.
    const WorkRecord work = random_work(random);
    CHECK(make_invoice(work, *back, head(), findings).totals.due_minor ==
          make_invoice(work, card, head(), findings).totals.due_minor);
  }
}

TEST_CASE("an invoice of which only number and sum were kept says so") {
  UnrecordedInvoice invoice;
  invoice.shop = "Larkmoor Appliance Service";
  invoice.number = "20260304-0001";
  invoice.job = "20260304-0001";
  invoice.issued = at("2026-03-04T11:45:00-05:00");
  invoice.total_minor = 13'794;
  invoice.mark = "41-00";
  const std::string page = join(page_texts(unrecorded_invoice_page(invoice)), "\n");
  for (const char* part : {"137.94 USD", "Lines: not recorded", "20260304-0001", "mark 41-00"}) {
    CAPTURE(part);
    CHECK(page.find(part) != std::string::npos);
  }
}
