#include <vector>

#include <doctest/doctest.h>

#include "bill/cases.hpp"
#include "bill/figures.hpp"
#include "bill/invoice.hpp"
#include "support/random.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

struct Group {
  const char* code;
  Ratio percent;
  std::vector<std::int64_t> lines;
};

/// An invoice from line sums alone, settled.
Invoice from_lines(const char* currency, const std::vector<Group>& groups) {
  Invoice invoice;
  invoice.number = "1";
  invoice.due = Moment{};
  invoice.currency = *currency_of(currency);
  invoice.shop.legal_id = "1";
  for (const Group& group : groups) {
    TaxGroup tax;
    tax.code = group.code;
    tax.percent = group.percent;
    tax.reason = tax.code == "E" ? "exempt" : "";
    for (const std::int64_t net : group.lines) {
      Line line;
      line.net_minor = net;
      line.tax = static_cast<int>(invoice.taxes.size());
      invoice.lines.push_back(line);
    }
    invoice.taxes.push_back(tax);
  }
  settle(invoice);
  return invoice;
}

void check_rules(const Invoice& invoice) {
  const Findings findings = verify(invoice);
  CHECK_MESSAGE(findings.faults() == 0, all_text(findings));
}

}  // namespace

// Expected sums of the next four cases: example files published with EN 16931 and its network
// profile (ConnectingEurope/eInvoicing-EN16931 and OpenPEPPOL/peppol-bis-invoice-3), as read.

TEST_CASE("two rates, twenty lines: ubl-tc434-example1.xml") {
  const Invoice invoice = from_lines(
      "EUR", {{"S",
               {6, 1},
               {1990, 985, 829, 1446, 3500, 3500, 1065, 155, 1437, 829, 1658, 995, 330, 390, 10212,
                -10998}},
              {"S", {21, 1}, {1080, 760, 934, 1863}}});
  CHECK(invoice.taxes[0].base_minor == 18323);
  CHECK(invoice.taxes[0].tax_minor == 1099);
  CHECK(invoice.taxes[1].base_minor == 4637);
  CHECK(invoice.taxes[1].tax_minor == 974);
  CHECK(invoice.totals.net_minor == 22960);
  CHECK(invoice.totals.tax_minor == 2073);
  CHECK(invoice.totals.gross_minor == 25033);
  CHECK(invoice.totals.due_minor == 25033);
  check_rules(invoice);
}

TEST_CASE("allowance, charge, prepayment, half a cent: ubl-tc434-example2.xml") {
  // Its first line says 2 at 1273.00 and 1273.00 in all, so the line sums are taken as given.
  Invoice invoice = from_lines("NOK", {{"S", {25, 1}, {127300, 18750}},
                                       {"S", {15, 1}, {-396, 496}},
                                       {"E", {0, 1}, {-2500}}});
  invoice.adjustments = {{"Promotion", "discount", -10000, 0}, {"Freight", "freight", 10000, 0}};
  invoice.rules.paid_minor = 100000;
  settle(invoice);
  CHECK(invoice.totals.lines_minor == 143650);
  CHECK(invoice.totals.allowances_minor == 10000);
  CHECK(invoice.totals.charges_minor == 10000);
  CHECK(invoice.taxes[0].base_minor == 146050);
  CHECK(invoice.taxes[0].tax_minor == 36513);  // 365.125: to the even digit it would be 365.12
  CHECK(invoice.taxes[1].base_minor == 100);
  CHECK(invoice.taxes[1].tax_minor == 15);
  CHECK(invoice.taxes[2].base_minor == -2500);
  CHECK(invoice.taxes[2].tax_minor == 0);
  CHECK(invoice.totals.tax_minor == 36528);
  CHECK(invoice.totals.gross_minor == 180178);
  CHECK(invoice.totals.due_minor == 80178);
  check_rules(invoice);

  invoice.rules.rounding = Rounding::half_even;
  settle(invoice);
  CHECK(invoice.taxes[0].tax_minor == 36512);
  check_rules(invoice);
}

TEST_CASE("a price below a cent: sample-discount-price.xml") {
  Invoice invoice = from_lines("EUR", {{"S", {25, 1}, {}}});
  const auto price = parse_decimal("0.1212");  // 0.1234 less 0.0022
  REQUIRE(price.has_value());
  Line line;
  line.quantity = Ratio{100, 1};
  line.price_minor = multiply(*price, Ratio{100, 1});
  line.net_minor = line_net(line.quantity, *line.price_minor, Rounding::half_up);
  invoice.lines = {line};
  settle(invoice);
  CHECK(invoice.lines[0].net_minor == 1212);
  CHECK(price_text(*line.price_minor, invoice.currency) == "0.1212");
  CHECK(invoice.totals.tax_minor == 303);
  CHECK(invoice.totals.due_minor == 1515);
  check_rules(invoice);
}

TEST_CASE("a returned line and a charge: base-example.xml") {
  Invoice invoice = from_lines("EUR", {{"S", {25, 1}, {}}});
  const auto line = [](std::int64_t quantity, std::int64_t price) {
    Line made;
    made.quantity = Ratio{quantity, 1};
    made.price_minor = Ratio{price, 1};
    made.net_minor = line_net(made.quantity, *made.price_minor, Rounding::half_up);
    return made;
  };
  invoice.lines = {line(7, 40000), line(-3, 50000)};
  invoice.adjustments = {{"Insurance", "insurance", 2500, 0}};
  settle(invoice);
  CHECK(invoice.lines[0].net_minor == 280000);
  CHECK(invoice.lines[1].net_minor == -150000);
  CHECK(invoice.totals.lines_minor == 130000);
  CHECK(invoice.totals.net_minor == 132500);
  CHECK(invoice.totals.tax_minor == 33125);
  CHECK(invoice.totals.due_minor == 165625);
  check_rules(invoice);
}

TEST_CASE("half up and half to even: computed by hand") {
  const auto rounded = [](const char* text, Rounding rounding) {
    return line_net(multiply(*parse_decimal(text), Ratio{100, 1}), Ratio{1, 1}, rounding);
  };
  struct Case {
    const char* text;
    int up;
    int even;
  };
  for (const Case& c : {Case{"0.045", 5, 4}, Case{"2.345", 235, 234}, Case{"2.355", 236, 236},
                        Case{"-2.345", -235, -234}, Case{"1.005", 101, 100}}) {
    CAPTURE(c.text);
    CHECK(rounded(c.text, Rounding::half_up) == c.up);
    CHECK(rounded(c.text, Rounding::half_even) == c.even);
  }
}

TEST_CASE("tax by item and by invoice: Streamlined Sales and Use Tax Agreement, section 324") {
  // The rule (carried to the third decimal, up when that is above four, the seller chooses item
  // or invoice) as read; the sums are computed by hand: 4 at 0.93, 7 %.
  Invoice invoice = from_lines("USD", {{"S", {7, 1}, {}}});
  Line line;
  line.quantity = Ratio{4, 1};
  line.price_minor = Ratio{93, 1};
  line.net_minor = 372;
  invoice.lines = {line};
  settle(invoice);
  CHECK(invoice.totals.tax_minor == 26);
  check_rules(invoice);
  invoice.rules.basis = TaxBasis::item;
  settle(invoice);
  CHECK(invoice.totals.tax_minor == 28);
  check_rules(invoice);
}

TEST_CASE("cash is rounded to the coin: computed by hand") {
  struct Case {
    int gross;
    int due;
    int rounding;
  };
  for (const Case& c : {Case{1232, 1230, -2}, Case{1233, 1235, 2}, Case{1237, 1235, -2},
                        Case{1238, 1240, 2}, Case{-1238, -1240, -2}}) {
    CAPTURE(c.gross);
    Invoice invoice = from_lines("CAD", {{"Z", {0, 1}, {c.gross}}});
    invoice.rules.cash_step_minor = 5;
    settle(invoice);
    CHECK(invoice.totals.due_minor == c.due);
    CHECK(invoice.totals.rounding_minor == c.rounding);
    check_rules(invoice);
  }
}

TEST_CASE("the rules see each wrong sum") {
  const Invoice good = from_lines("EUR", {{"S", {19, 1}, {1000, 2345}}});
  check_rules(good);
  struct Case {
    const char* code;
    void (*spoil)(Invoice&);
  };
  const Case cases[] = {
      {"br-co-10", [](Invoice& i) { i.totals.lines_minor += 1; }},
      {"br-co-11", [](Invoice& i) { i.totals.allowances_minor += 1; }},
      {"br-co-12", [](Invoice& i) { i.totals.charges_minor += 1; }},
      {"br-co-13", [](Invoice& i) { i.totals.net_minor -= 1; }},
      {"br-co-14", [](Invoice& i) { i.totals.tax_minor += 1; }},
      {"br-co-15", [](Invoice& i) { i.totals.gross_minor += 1; }},
      {"br-co-16", [](Invoice& i) { i.totals.due_minor -= 1; }},
      {"br-co-17", [](Invoice& i) { i.taxes[0].tax_minor += 1; }},
      {"br-s-08", [](Invoice& i) { i.taxes[0].base_minor += 1; }},
      {"br-co-18", [](Invoice& i) { i.taxes.clear(); }},
      {"br-co-4", [](Invoice& i) { i.lines[0].tax = 7; }},
      {"br-co-25", [](Invoice& i) { i.due.reset(); }},
      {"br-co-26", [](Invoice& i) { i.shop.legal_id.clear(); }},
      {"br-e-10", [](Invoice& i) { i.taxes[0].code = "E"; }},
      {"br-dec", [](Invoice& i) { i.currency = Currency{"KWD", 3}; }},
      {"line-sum", [](Invoice& i) { i.lines[0].price_minor = Ratio{999, 1}; }},
      {"cash-rounding", [](Invoice& i) { i.totals.rounding_minor = 3; }},
  };
  for (const Case& c : cases) {
    CAPTURE(c.code);
    Invoice bad = good;
    c.spoil(bad);
    CHECK(verify(bad).has(c.code));
  }
}

TEST_CASE("random invoices keep the rules, and agree with a sum made another way") {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    std::vector<Group> groups;
    const int count = random.between(1, 4);
    for (int g = 0; g < count; ++g) {
      Group group{"S", {random.between(0, 300000), 10000}, {}};
      for (int i = random.between(0, 12); i > 0; --i) {
        group.lines.push_back(random.between(-50000, 200000));
      }
      groups.push_back(group);
    }
    Invoice invoice = from_lines("EUR", groups);
    for (int i = random.between(0, 3); i > 0; --i) {
      invoice.adjustments.push_back(
          {"change", "reason", random.between(-9000, 9000), random.between(0, count - 1)});
    }
    invoice.rules.paid_minor = random.chance(0.3) ? random.between(0, 90000) : 0;
    invoice.rules.cash_step_minor = random.chance(0.5) ? random.between(1, 100) : 0;
    settle(invoice);
    check_rules(invoice);

    // Whole numbers only: base times ten-thousandths of a percent, half away from zero.
    std::int64_t total = 0;
    for (int g = 0; g < count; ++g) {
      std::int64_t base = 0;
      for (const std::int64_t net : groups[static_cast<std::size_t>(g)].lines) {
        base += net;
      }
      for (const Adjustment& change : invoice.adjustments) {
        base += change.tax == g ? change.amount_minor : 0;
      }
      const std::int64_t size = (base < 0 ? -base : base) *
                                groups[static_cast<std::size_t>(g)].percent.num;
      const std::int64_t tax = (size + 500000) / 1000000;
      total += base + (base < 0 ? -tax : tax);
    }
    CHECK(invoice.totals.gross_minor == total);
    CHECK(invoice.totals.due_minor - invoice.totals.rounding_minor ==
          total - invoice.rules.paid_minor);
  }
}
