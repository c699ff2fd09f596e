#include "base/text.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstring>
#include <limits>
#include <string>
#include <vector>

#include "support/random.hpp"

using Strings = std::vector<std::string>;

namespace {

double from_bits(std::uint64_t bits) {
  double value = 0;
  static_assert(sizeof value == sizeof bits);
  std::memcpy(&value, &bits, sizeof value);
  return value;
}

}  // namespace

// RFC 8785 (JSON canonicalization), appendix B, from memory of the table: the bits of a double and
// its text. Each was also held against Node's own Number-to-string.
TEST_CASE("numbers are printed as RFC 8785 prints them") {
  struct Row {
    std::uint64_t bits;
    const char* text;
  };
  const Row rows[] = {
      {0x0000000000000000, "0"},
      {0x8000000000000000, "0"},
      {0x0000000000000001, "5e-324"},
      {0x8000000000000001, "-5e-324"},
      {0x7fefffffffffffff, "1.7976931348623157e+308"},
      {0xffefffffffffffff, "-1.7976931348623157e+308"},
      {0x4340000000000000, "9007199254740992"},
      {0xc340000000000000, "-9007199254740992"},
      {0x4430000000000000, "295147905179352830000"},
      {0x44b52d02c7e14af5, "9.999999999999997e+22"},
      {0x44b52d02c7e14af6, "1e+23"},
      {0x44b52d02c7e14af7, "1.0000000000000001e+23"},
      {0x444b1ae4d6e2ef4e, "999999999999999700000"},
      {0x444b1ae4d6e2ef4f, "999999999999999900000"},
      {0x444b1ae4d6e2ef50, "1e+21"},
      {0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
      {0x3eb0c6f7a0b5ed8d, "0.000001"},
      {0x41b3de4355555553, "333333333.3333332"},
      {0x41b3de4355555554, "333333333.33333325"},
      {0x41b3de4355555555, "333333333.3333333"},
      {0x41b3de4355555556, "333333333.3333334"},
      {0x41b3de4355555557, "333333333.33333343"},
      {0xbecbf647612f3696, "-0.0000033333333333333333"},
      {0x43143ff3c1cb0959, "1424953923781206.2"},
  };
  for (const Row& row : rows) {
    CHECK(kp::number_text(from_bits(row.bits)) == row.text);
    CHECK(kp::parse_number(row.text) == from_bits(row.bits));
  }
  CHECK(kp::number_text(std::numeric_limits<double>::infinity()) == "inf");
  CHECK(kp::number_text(-std::numeric_limits<double>::infinity()) == "-inf");
  CHECK(kp::number_text(std::nan("")) == "nan");
}

TEST_CASE("every double reads back from its text") {
  kp::test::Random random(11);
  CAPTURE(random.seed());
  for (int i = 0; i < 50000; ++i) {
    const double value = i % 2 == 0 ? from_bits(random.next())
                                    : static_cast<double>(random.between(-99999, 99999)) / 1000.0;
    if (!std::isfinite(value)) {
      continue;
    }
    const std::string text = kp::number_text(value);
    CAPTURE(text);
    CHECK(kp::parse_number(text) == value);
    CHECK(text.size() <= 25);
  }
}

TEST_CASE("only JSON's grammar of numbers is read, and all of the text") {
  CHECK(kp::parse_number("-0.5e-1") == -0.05);
  CHECK(kp::parse_number("10") == 10.0);
  CHECK(kp::parse_number("1E+2") == 100.0);
  CHECK(kp::parse_number("1e-400") == 0.0);
  for (const char* bad : {"", "-", "+1", ".5", "1.", "01", "1e", "1e+", " 1", "1 ", "0x10", "nan",
                          "inf", "1,5", "1e400", "--1", "1.5.5"}) {
    CAPTURE(bad);
    CHECK_FALSE(kp::parse_number(bad).has_value());
  }
}

TEST_CASE("whole numbers are read to the ends of 64 bits") {
  CHECK(kp::parse_integer("0") == 0);
  CHECK(kp::parse_integer("-12") == -12);
  CHECK(kp::parse_integer("9223372036854775807") == INT64_MAX);
  CHECK(kp::parse_integer("-9223372036854775808") == INT64_MIN);
  for (const char* bad : {"", "-", "+1", "1.0", "9223372036854775808", " 1", "1 ", "a"}) {
    CAPTURE(bad);
    CHECK_FALSE(kp::parse_integer(bad).has_value());
  }
  CHECK(kp::integer_text(INT64_MIN) == "-9223372036854775808");
}

// The decimal value counts: a binary product would print 1.00 for 1.005 (computed).
TEST_CASE("fixed decimals round the decimal that a person sees") {
  CHECK(kp::fixed_text(13.7, 2) == "13.70");
  CHECK(kp::fixed_text(1.005, 2) == "1.01");
  CHECK(kp::fixed_text(2.345, 2) == "2.35");
  CHECK(kp::fixed_text(-2.345, 2) == "-2.35");
  CHECK(kp::fixed_text(0.5, 0) == "1");
  CHECK(kp::fixed_text(0.49, 0) == "0");
  CHECK(kp::fixed_text(-0.001, 2) == "0.00");
  CHECK(kp::fixed_text(9.999, 2) == "10.00");
  CHECK(kp::fixed_text(999.5, 0) == "1000");
  CHECK(kp::fixed_text(0.05, 1) == "0.1");
  CHECK(kp::fixed_text(0.04, 1) == "0.0");
  CHECK(kp::fixed_text(0.005, 1) == "0.0");
  CHECK(kp::fixed_text(0, 3) == "0.000");
  CHECK(kp::fixed_text(120, 0) == "120");
  CHECK(kp::fixed_text(1e21, 1) == "1000000000000000000000.0");
  CHECK(kp::fixed_text(1.5e-7, 3) == "0.000");
  CHECK(kp::fixed_text(std::numeric_limits<double>::infinity(), 1) == "inf");
}

TEST_CASE("texts are joined, split and trimmed") {
  CHECK(kp::cat("a", 1, std::string("b"), std::int64_t{-2}) == "a1b-2");
  CHECK(kp::split("a,b,,c", ',') == Strings{"a", "b", "", "c"});
  CHECK(kp::split("", ',') == Strings{""});
  CHECK(kp::join({"a", "b", "c"}, ", ") == "a, b, c");
  CHECK(kp::join({}, ", ").empty());
  CHECK(kp::trim(" \t a b\r\n") == "a b");
  CHECK(kp::trim("  ").empty());
  CHECK(kp::lower("ABC xyz Ä") == "abc xyz Ä");
}

// RFC 3629 section 4 says which sequences are well formed.
TEST_CASE("UTF-8 is counted in code points, a broken byte as one") {
  CHECK(kp::code_points("") == 0);
  CHECK(kp::code_points("abc") == 3);
  CHECK(kp::code_points("Ω 50 µF") == 7);
  CHECK(kp::code_points("\xF0\x9F\x94\xA7") == 1);
  CHECK(kp::code_points("\xC3") == 1);
  CHECK(kp::code_points("\xC0\xAF") == 2);      // overlong "/"
  CHECK(kp::code_points("\xED\xA0\x80") == 3);  // half of a surrogate pair
  CHECK(kp::utf8_length("\xF4\x90\x80\x80", 0) == 0);  // above U+10FFFF
  CHECK(kp::utf8_length("\xE0\x9F\xBF", 0) == 0);      // overlong
  CHECK(kp::utf8_length("\xEF\xBF\xBD", 0) == 3);
  CHECK(kp::utf8_length("\x80", 0) == 0);
}

// Textbook pairs: "kitten" to "sitting" takes three edits; a swap of neighbours counts as one.
TEST_CASE("edit distance counts insertions, deletions, replacements and swaps") {
  CHECK(kp::edit_distance("kitten", "sitting") == 3);
  CHECK(kp::edit_distance("", "abc") == 3);
  CHECK(kp::edit_distance("abc", "") == 3);
  CHECK(kp::edit_distance("abcd", "acbd") == 1);
  CHECK(kp::edit_distance("screw", "scerw") == 1);
  CHECK(kp::edit_distance("same", "same") == 0);
  CHECK(kp::edit_distance("ca", "abc") == 3);  // the restricted form: no edit inside a swap
}

TEST_CASE("edit distance is symmetric and obeys the bounds of lengths") {
  kp::test::Random random(3);
  CAPTURE(random.seed());
  const auto word = [&random]() {
    std::string out;
    for (int left = random.between(0, 8); left > 0; --left) {
      out += static_cast<char>('a' + random.between(0, 3));
    }
    return out;
  };
  for (int i = 0; i < 3000; ++i) {
    const std::string a = word();
    const std::string b = word();
    CAPTURE(a);
    CAPTURE(b);
    const int distance = kp::edit_distance(a, b);
    CHECK(distance == kp::edit_distance(b, a));
    CHECK((distance == 0) == (a == b));
    CHECK(distance <= kp::to_int(std::max(a.size(), b.size())));
    CHECK(distance >= std::abs(kp::to_int(a.size()) - kp::to_int(b.size())));
  }
}

TEST_CASE("the nearest word is offered where it is a likely slip") {
  const Strings words = {"screw", "nut", "clip", "hose-clamp"};
  CHECK(kp::nearest("scerw", words) == "screw");
  CHECK(kp::nearest("hoseclamp", words) == "hose-clamp");
  CHECK(kp::nearest("nutt", words) == "nut");
  CHECK_FALSE(kp::nearest("spring", words).has_value());
  CHECK_FALSE(kp::nearest("x", {"y"}).has_value());
  CHECK(kp::nearest("aab", {"aac", "aad"}) == "aac");
  CHECK_FALSE(kp::nearest("word", {}).has_value());
}

TEST_CASE("controls that turn the direction of reading are taken out, and nothing else") {
  // Unicode Standard Annex 9, explicit formatting: U+202A to U+202E and U+2066 to U+2069.
  int taken = 0;
  for (unsigned point = 0x2000; point < 0x2100; ++point) {
    const std::string letter = {static_cast<char>(0xE2), static_cast<char>(0x80 | ((point >> 6U) & 0x3FU)),
                                static_cast<char>(0x80 | (point & 0x3FU))};
    const std::string left = kp::without_direction("a" + letter + "b");
    const bool turns = (point >= 0x202A && point <= 0x202E) || (point >= 0x2066 && point <= 0x2069);
    CAPTURE(point);
    CHECK(left == (turns ? std::string("ab") : "a" + letter + "b"));
    taken += turns ? 1 : 0;
  }
  CHECK(taken == 9);
  for (const char* text : {"", "\xE2", "\xE2\x80", "a\xE2\x80", "\xFF\xAA", "M\xC3\xBCller \xE6\x97\xA5"}) {
    CHECK(kp::without_direction(text) == text);
  }
}
