#include "base/money.hpp"

#include <doctest/doctest.h>

#include <cstdint>
#include <string>

#include "support/random.hpp"

using kp::Currency;
using kp::Ratio;
using kp::Rounding;

namespace {

const Currency kDollar{"USD", 2};

/// A decimal text rounded to cents the way scale_round does it, from the exact fraction.
std::string cents(const char* text, Rounding rounding) {
  const auto ratio = kp::parse_decimal(text);
  if (!ratio) {
    return ratio.error().code;
  }
  return kp::minor_text(kp::scale_round(100, *ratio, rounding), kDollar);
}

/// Minutes brought to an increment.
std::int64_t in_steps(std::int64_t minutes, std::int64_t step, Rounding rounding) {
  return kp::scale_round(minutes, Ratio{1, step}, rounding) * step;
}

}  // namespace

// Computed from the definitions of the two modes.
TEST_CASE("ties go away from zero, or to the even digit") {
  CHECK(cents("0.045", Rounding::half_up) == "0.05");
  CHECK(cents("0.045", Rounding::half_even) == "0.04");
  CHECK(cents("2.345", Rounding::half_up) == "2.35");
  CHECK(cents("2.345", Rounding::half_even) == "2.34");
  CHECK(cents("2.355", Rounding::half_up) == "2.36");
  CHECK(cents("2.355", Rounding::half_even) == "2.36");
  CHECK(cents("-2.345", Rounding::half_up) == "-2.35");
  CHECK(cents("-2.345", Rounding::half_even) == "-2.34");
  CHECK(cents("2.341", Rounding::up) == "2.35");
  CHECK(cents("-2.341", Rounding::up) == "-2.35");
  CHECK(cents("2.349", Rounding::down) == "2.34");
  CHECK(cents("-2.349", Rounding::down) == "-2.34");
  CHECK(cents("2.34", Rounding::up) == "2.34");
}

// 1.005 has no exact double: times 100 it is 100.49999999999999 (computed), and rounds wrongly.
TEST_CASE("1.005 rounds to 1.01, which binary floating point cannot do") {
  CHECK(1.005 * 100 < 100.5);
  CHECK(cents("1.005", Rounding::half_up) == "1.01");
}

// The VAT of EN 16931's published example 2 (CEN/TC 434, NOK): 25 % of 1460.50 is 365.125, printed
// there as 365.13. Read in a stored copy of the file.
TEST_CASE("the published example invoice rounds a tie away from zero") {
  CHECK(kp::scale_round(146050, Ratio{25, 100}, Rounding::half_up) == 36513);
  CHECK(kp::scale_round(146050, Ratio{25, 100}, Rounding::half_even) == 36512);
  // Example 1 of the same set: 6 % of 183.23 and 21 % of 46.37.
  CHECK(kp::scale_round(18323, Ratio{6, 100}, Rounding::half_up) == 1099);
  CHECK(kp::scale_round(4637, Ratio{21, 100}, Rounding::half_up) == 974);
}

// Computed.
TEST_CASE("minutes are brought to an increment, upwards or to the nearest") {
  CHECK(in_steps(1, 6, Rounding::up) == 6);
  CHECK(in_steps(7, 6, Rounding::up) == 12);
  CHECK(in_steps(61, 6, Rounding::up) == 66);
  CHECK(in_steps(67, 6, Rounding::up) == 72);
  CHECK(in_steps(7, 6, Rounding::half_up) == 6);
  CHECK(in_steps(8, 6, Rounding::half_up) == 6);
  CHECK(in_steps(22, 6, Rounding::half_up) == 24);
  CHECK(in_steps(61, 6, Rounding::half_up) == 60);
  CHECK(in_steps(67, 6, Rounding::half_up) == 66);
  CHECK(in_steps(7, 5, Rounding::half_up) == 5);
  CHECK(in_steps(8, 5, Rounding::half_up) == 10);
  CHECK(in_steps(23, 5, Rounding::half_up) == 25);
  CHECK(in_steps(53, 5, Rounding::half_up) == 55);
  CHECK(in_steps(68, 5, Rounding::half_up) == 70);
}

// 29 CFR 785.48(b) accepts the nearest quarter hour where it is neutral over time; it governs
// wages. The figures are the ones people quote for it.
TEST_CASE("minutes to the nearest quarter hour") {
  const int minutes[] = {7, 8, 22, 23, 52, 53, 67, 68};
  const int expected[] = {0, 15, 15, 30, 45, 60, 60, 75};
  for (int i = 0; i < 8; ++i) {
    CAPTURE(minutes[i]);
    CHECK(in_steps(minutes[i], 15, Rounding::half_up) == expected[i]);
  }
}

// A worked job, computed: 67 min at 95.00 an hour in steps of 6 min upwards, a part of 48.75 with
// 35 % on it, 60.00 for the trip, 8.25 % tax on the part alone.
TEST_CASE("a worked job adds up to the cent") {
  const std::int64_t minutes = in_steps(67, 6, Rounding::up);
  const std::int64_t labour = kp::scale_round(9500, Ratio{minutes, 60}, Rounding::half_up);
  const std::int64_t part = kp::scale_round(4875, *kp::parse_decimal("1.35"), Rounding::half_up);
  const std::int64_t tax = kp::scale_round(part, *kp::parse_decimal("0.0825"), Rounding::half_up);
  CHECK(kp::minor_text(labour, kDollar) == "114.00");
  CHECK(kp::minor_text(part, kDollar) == "65.81");
  CHECK(kp::minor_text(tax, kDollar) == "5.43");
  CHECK(kp::minor_text(labour + part + 6000 + tax, kDollar) == "245.24");
}

// Computed: cash rounded to the nearest 0.05.
TEST_CASE("cash is rounded to five hundredths") {
  CHECK(in_steps(1232, 5, Rounding::half_up) == 1230);
  CHECK(in_steps(1233, 5, Rounding::half_up) == 1235);
  CHECK(in_steps(1237, 5, Rounding::half_up) == 1235);
  CHECK(in_steps(1238, 5, Rounding::half_up) == 1240);
}

// ISO 4217's minor units, from memory of the list.
TEST_CASE("currencies know the digits of their minor unit") {
  for (const char* code : {"USD", "EUR", "GBP", "CAD"}) {
    CHECK(kp::currency_of(code)->digits == 2);
  }
  for (const char* code : {"JPY", "KRW", "CLP", "ISK"}) {
    CHECK(kp::currency_of(code)->digits == 0);
  }
  for (const char* code : {"KWD", "BHD", "JOD", "TND"}) {
    CHECK(kp::currency_of(code)->digits == 3);
  }
  CHECK(kp::currency_of("UDS").error().text() ==
        "\"UDS\" is not a currency this program knows. Did you mean \"USD\"?");
  CHECK(kp::currency_of("doubloons").error().text() ==
        "\"doubloons\" is not a currency this program knows. "
        "Write the three letters of ISO 4217, for example \"USD\".");
}

TEST_CASE("amounts are printed with the digits of their currency") {
  const Currency yen{"JPY", 0};
  const Currency dinar{"KWD", 3};
  CHECK(kp::minor_text(24390, kDollar) == "243.90");
  CHECK(kp::minor_text(-5, kDollar) == "-0.05");
  CHECK(kp::minor_text(0, kDollar) == "0.00");
  CHECK(kp::minor_text(1200, yen) == "1200");
  CHECK(kp::minor_text(1, dinar) == "0.001");
  CHECK(kp::minor_text(INT64_MIN, kDollar) == "-92233720368547758.08");
  CHECK(*kp::parse_minor("243.90", kDollar) == 24390);
  CHECK(*kp::parse_minor("243.9", kDollar) == 24390);
  CHECK(*kp::parse_minor("243.900", kDollar) == 24390);
  CHECK(*kp::parse_minor("-0.05", kDollar) == -5);
  CHECK(*kp::parse_minor("1200", yen) == 1200);
  CHECK(*kp::parse_minor("0", kDollar) == 0);
}

TEST_CASE("amounts that are none are refused with the reason") {
  CHECK(kp::parse_minor("12.345", kDollar).error().text() ==
        "\"12.345\" has more decimals than USD has. Write at most 2 decimals.");
  CHECK(kp::parse_minor("1.5", Currency{"JPY", 0}).error().code == "too-many-decimals");
  for (const char* bad : {"", "-", ".", "1.", ".5", "1,50", "1.2.3", "12a", "+1", "1e3", "--1"}) {
    CAPTURE(bad);
    CHECK(kp::parse_minor(bad, kDollar).error().code == "not-a-number");
    CHECK(kp::parse_decimal(bad).error().code == "not-a-number");
  }
  CHECK(kp::parse_minor("99999999999999999999", kDollar).error().code == "too-large");
  CHECK(kp::parse_decimal("1234567890123456").error().text() ==
        "\"1234567890123456\" has more digits than can be kept exactly. Write at most 15 digits.");
}

TEST_CASE("decimals are read as exact fractions in lowest terms") {
  const auto same = [](const char* text, std::int64_t num, std::int64_t den) {
    const auto ratio = kp::parse_decimal(text);
    return ratio.has_value() && ratio->num == num && ratio->den == den;
  };
  CHECK(same("8.25", 33, 4));
  CHECK(same("-0.1234", -617, 5000));
  CHECK(same("0", 0, 1));
  CHECK(same("-0.000", 0, 1));
  CHECK(same("1.0000000000000000000", 1, 1));
  CHECK(same("000123", 123, 1));
  CHECK(same("0.000000000000000001", 1, 1000000000000000000));
  const Ratio product = kp::multiply(Ratio{33, 4}, Ratio{-2, 11});
  CHECK(product.num == -3);
  CHECK(product.den == 2);
  // Each product alone passes 64 bits; the fraction in lowest terms does not.
  const Ratio large = kp::multiply(Ratio{4000000000000000000, 3}, Ratio{3, 4000000000000000000});
  CHECK(large.num == 1);
  CHECK(large.den == 1);
  CHECK(kp::scale_round(9000000000000000000, Ratio{999, 1000}, Rounding::half_up) ==
        8991000000000000000);
}

TEST_CASE("rounding obeys its laws on random fractions") {
  kp::test::Random random(20260114);
  CAPTURE(random.seed());
  for (int i = 0; i < 20000; ++i) {
    const std::int64_t value = random.between(-2000000, 2000000);
    const Ratio ratio{random.between(-5000, 5000), random.between(1, 997)};
    CAPTURE(value);
    CAPTURE(ratio.num);
    CAPTURE(ratio.den);
    const std::int64_t exact = value * ratio.num;
    const std::int64_t down = kp::scale_round(value, ratio, Rounding::down);
    const std::int64_t up = kp::scale_round(value, ratio, Rounding::up);
    const std::int64_t near = kp::scale_round(value, ratio, Rounding::half_up);
    const std::int64_t even = kp::scale_round(value, ratio, Rounding::half_even);
    // C++ divides towards zero, which is what `down` promises.
    CHECK(down == exact / ratio.den);
    CHECK(up - down == (exact % ratio.den == 0 ? 0 : (exact < 0 ? -1 : 1)));
    CHECK((near == down || near == up));
    CHECK((even == down || even == up));
    const std::int64_t off = near * ratio.den - exact;
    CHECK(2 * (off < 0 ? -off : off) <= ratio.den);
    // A credit mirrors its invoice.
    CHECK(kp::scale_round(-value, ratio, Rounding::half_up) == -near);
    const std::string text = kp::minor_text(value, kDollar);
    CHECK(*kp::parse_minor(text, kDollar) == value);
  }
}
