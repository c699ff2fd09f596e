#include "data/value.hpp"

#include <doctest/doctest.h>

#include <string>

#include "base/text.hpp"
#include "support/random.hpp"

using kp::data::Kind;
using kp::data::Value;

namespace {

/// The whole message for a text that is no good, or what was read where it is.
std::string why(std::string_view text) {
  const auto value = kp::data::parse(text);
  return value ? "read as " + kp::data::print(*value) : value.error().text();
}

std::string nested(int depth) {
  return std::string(kp::to_size(depth), '[') + std::string(kp::to_size(depth), ']');
}

}  // namespace

// RFC 8259 section 13, the first example, shortened.
TEST_CASE("a text is read into values that know their place") {
  const auto value = kp::data::parse(
      "{\n"
      "  \"Image\": {\n"
      "    \"Width\":  800, \"Title\": \"View from 15th Floor\",\n"
      "    \"Animated\" : false,\n"
      "    \"IDs\": [116, 943, null]\n"
      "  }\n"
      "}\n");
  CHECK(value.has_value());
  CHECK(value->kind == Kind::object);
  CHECK(value->place.line == 1);
  CHECK(value->place.column == 1);
  const Value* image = value->find("Image");
  CHECK(image->place.line == 2);
  CHECK(image->place.column == 12);
  CHECK(image->find("Width")->number == 800);
  CHECK(image->find("Width")->text == "800");
  CHECK(image->find("Width")->place.column == 15);
  CHECK(image->find("Title")->text == "View from 15th Floor");
  CHECK(image->find("Title")->place.line == 3);
  CHECK(image->find("Title")->place.column == 29);
  CHECK(image->find("Animated")->kind == Kind::boolean);
  CHECK_FALSE(image->find("Animated")->boolean);
  CHECK(image->find("Animated")->place.column == 18);
  const Value* ids = image->find("IDs");
  CHECK(ids->items.size() == 3);
  CHECK(ids->items[1].number == 943);
  CHECK(ids->items[1].place.line == 5);
  CHECK(ids->items[1].place.column == 18);
  CHECK(ids->items[2].kind == Kind::null);
  CHECK(image->find("Height") == nullptr);
}

// RFC 8259 sections 2 to 7.
TEST_CASE("what the grammar allows is read") {
  CHECK(why("null") == "read as null");
  CHECK(why(" \t\r\n true \n") == "read as true");
  CHECK(why("-0.5e-1") == "read as -0.05");
  CHECK(why("\"\"") == "read as \"\"");
  CHECK(why("[]") == "read as []");
  CHECK(why("{}") == "read as {}");
  CHECK(why("[ [ ] , { } ]") == "read as [[],{}]");
  CHECK(why("\"\\\"\\\\\\/\\b\\f\\n\\r\\t\\u0001\\u00e9\"") ==
        "read as \"\\\"\\\\/\\b\\f\\n\\r\\t\\u0001é\"");
  // RFC 8259 section 7: the G clef, a surrogate pair.
  CHECK(why("\"\\uD834\\uDD1E\"") == "read as \"\xF0\x9D\x84\x9E\"");
  CHECK(why("{\"\":1}") == "read as {\"\":1}");
  CHECK(why("\"\\u0000\"") == "read as \"\\u0000\"");
  CHECK(kp::data::parse("\"a\\u0000b\"")->text == std::string("a\0b", 3));
  CHECK(why("\xEF\xBB\xBF[1]") == "read as [1]");
  CHECK(why("9223372036854775807") == "read as 9223372036854775807");
  CHECK(why("123456789012345678901234567890") == "read as 1.2345678901234568e+29");
}

TEST_CASE("what it does not allow is refused: place, what was found, what was expected") {
  CHECK(why("") == "line 1, column 1: found the end of the text. Expected a JSON value.");
  CHECK(why("  \n ") == "line 2, column 2: found the end of the text. Expected a JSON value.");
  CHECK(why("tru") ==
        "line 1, column 4: found the end of the text. "
        "Expected a value: a string, a number, true, false, null, '[' or '{'.");
  CHECK(why("[1,\n  yes]") ==
        "line 2, column 3: found 'yes'. "
        "Expected a value: a string, a number, true, false, null, '[' or '{'.");
  CHECK(why("[1 2]") == "line 1, column 4: found '2'. Expected ',' or ']'.");
  CHECK(why("[1,]") ==
        "line 1, column 4: found ']'. "
        "Expected a value: a string, a number, true, false, null, '[' or '{'.");
  CHECK(why("{\"a\":1,}") ==
        "line 1, column 8: found '}'. Expected a name in double quotation marks.");
  CHECK(why("{a:1}") ==
        "line 1, column 2: found 'a'. Expected a name in double quotation marks.");
  CHECK(why("{'a':1}") ==
        "line 1, column 2: found '''. Expected double quotation marks around strings and names.");
  CHECK(why("['a']") ==
        "line 1, column 2: found '''. Expected double quotation marks around strings and names.");
  CHECK(why("{\"a\" 1}") == "line 1, column 6: found '1'. Expected ':' after the name.");
  CHECK(why("{\"a\":1 \"b\":2}") == "line 1, column 8: found '\"'. Expected ',' or '}'.");
  CHECK(why("[1] // note") == "line 1, column 5: found '/'. Expected no comment: JSON has none.");
  CHECK(why("{} {}") == "line 1, column 4: found '{'. Expected nothing after the value.");
  CHECK(why("[1") == "line 1, column 3: found the end of the text. Expected ',' or ']'.");
  CHECK(why("01") == "line 1, column 2: found '1'. Expected nothing after the value.");
  CHECK(why("[1.]") == "line 1, column 4: found ']'. Expected a digit after the point.");
  CHECK(why("[1e+]") == "line 1, column 5: found ']'. Expected a digit in the exponent.");
  CHECK(why("[.5]") ==
        "line 1, column 2: found '.5'. "
        "Expected a value: a string, a number, true, false, null, '[' or '{'.");
  CHECK(why("[ 1e999]") == "line 1, column 3: found '1e999'. Expected a number below 1.8e308.");
  CHECK(why(std::string("[1]\0[2]", 7)) ==
        "line 1, column 4: found the control character 0. Expected nothing after the value.");
}

TEST_CASE("strings that are none are refused with the reason") {
  CHECK(why("[\"abc]") ==
        "line 1, column 7: found the end of the text. Expected a closing quotation mark.");
  CHECK(why("[\"abc\n\"]") ==
        "line 1, column 6: found the end of the line inside a string. "
        "Expected a closing quotation mark, or an escape such as \\n.");
  CHECK(why("[\"a\tb\"]") ==
        "line 1, column 4: found the control character 9 inside a string. "
        "Expected a closing quotation mark, or an escape such as \\n.");
  CHECK(why(std::string("[\"a\0b\"]", 7)) ==
        "line 1, column 4: found the control character 0 inside a string. "
        "Expected the escape \\u0000.");
  CHECK(why("[\"a\\qb\"]") ==
        "line 1, column 4: found '\\q'. "
        "Expected an escape: one of \" \\ / b f n r t u after a backslash.");
  CHECK(why("[\"\\u12G4\"]") ==
        "line 1, column 3: found '\\u'. Expected four hexadecimal digits after '\\u'.");
  CHECK(why("[\"\\uD834\"]") ==
        "line 1, column 3: found '\\u'. Expected the second half of a surrogate pair.");
  CHECK(why("[1,\"\\uDD1E\"]") ==
        "line 1, column 4: the string holds half of a surrogate pair. "
        "Expected both halves, or the character itself.");
  CHECK(why("{\"\\uDD1E\":1}") ==
        "line 1, column 2: the string holds half of a surrogate pair. "
        "Expected both halves, or the character itself.");
}

// RFC 3629 section 10 names overlong forms as the ones that get past careless readers.
TEST_CASE("bytes that are not UTF-8 are refused at their place") {
  CHECK(why("[\"ab\xC0\xAF\"]") ==
        "line 1, column 5: found the byte 192, which is not UTF-8 here. "
        "Expected text in UTF-8. Save the file as UTF-8.");
  CHECK(why("[\n\"\xE9\"]") ==
        "line 2, column 2: found the byte 233, which is not UTF-8 here. "
        "Expected text in UTF-8. Save the file as UTF-8.");
  CHECK(why("\"\xED\xA0\x80\"") ==
        "line 1, column 2: found the byte 237, which is not UTF-8 here. "
        "Expected text in UTF-8. Save the file as UTF-8.");
  CHECK(why("\"\xC3") ==
        "line 1, column 2: found the byte 195, which is not UTF-8 here. "
        "Expected text in UTF-8. Save the file as UTF-8.");
}

TEST_CASE("a name that occurs twice is refused at its second place") {
  CHECK(why("{\"a\":1,\n \"b\":2,\n \"a\":3}") ==
        "line 3, column 2: the name \"a\" occurs twice. "
        "Expected each name once; the other stands at line 1, column 2.");
  CHECK(why("[{\"x\":{\"a\":1},\"y\":{\"a\":1}}]") == "read as [{\"x\":{\"a\":1},\"y\":{\"a\":1}}]");
  CHECK(why("{\"a\":1,\"\\u0061\":2}") ==
        "line 1, column 8: the name \"a\" occurs twice. "
        "Expected each name once; the other stands at line 1, column 2.");
}

TEST_CASE("levels inside each other are limited, so that no text overruns the stack") {
  CHECK(kp::data::parse(nested(64)).has_value());
  CHECK(why(nested(65)) ==
        "line 1, column 65: more than 64 levels inside each other. "
        "Expected fewer brackets inside each other.");
  CHECK_FALSE(kp::data::parse(std::string(1000000, '[')).has_value());
}

TEST_CASE("cutting a good text anywhere is an error and no crash") {
  const std::string text =
      "{\"a\":[1,-2.5e3,true,null,\"x\\u00e9\\n\"],\"b\":{\"c\":\"\xC3\xA9\"}}";
  CHECK(kp::data::parse(text).has_value());
  for (std::size_t length = 0; length < text.size(); ++length) {
    CAPTURE(length);
    const auto value = kp::data::parse(std::string_view(text).substr(0, length));
    CHECK_FALSE(value.has_value());
    CHECK(value.error().code == "bad-json");
    CHECK_FALSE(value.error().where.empty());
    CHECK_FALSE(value.error().remedy.empty());
  }
}

namespace {

Value any_value(kp::test::Random& random, int depth) {
  const auto word = [&random]() {
    static const char* const kPieces[] = {"a", "\"", "\\", "\n", "é", "\xF0\x9F\x94\xA7", "/", "\x01",
                                          " ", "0"};
    std::string out;
    for (int left = random.between(0, 6); left > 0; --left) {
      out += kPieces[random.between(0, 9)];
    }
    return out;
  };
  switch (random.between(depth > 4 ? 2 : 0, 7)) {
    case 0: {
      Value out = Value::array();
      for (int left = random.between(0, 4); left > 0; --left) {
        out.push(any_value(random, depth + 1));
      }
      return out;
    }
    case 1: {
      Value out = Value::object();
      for (int left = random.between(0, 4); left > 0; --left) {
        out.set(word(), any_value(random, depth + 1));
      }
      return out;
    }
    case 2:
      return Value();
    case 3:
      return Value::of(random.chance(0.5));
    case 4:
      return Value::of(static_cast<std::int64_t>(random.next()));
    case 5:
      return Value::of((random.unit() - 0.5) * 1e6);
    default:
      return Value::of(word());
  }
}

}  // namespace

TEST_CASE("reading what was printed gives the same values, plain and pretty") {
  kp::test::Random random(8259);
  CAPTURE(random.seed());
  for (int i = 0; i < 3000; ++i) {
    const Value value = any_value(random, 0);
    const std::string text = kp::data::print(value);
    CAPTURE(text);
    const auto plain = kp::data::parse(text);
    const auto pretty = kp::data::parse(kp::data::print_pretty(value));
    CHECK((plain.has_value() && kp::data::same(*plain, value)));
    CHECK((pretty.has_value() && kp::data::same(*pretty, value)));
    CHECK(kp::data::print(*plain) == text);
    CHECK(text.find('\n') == std::string::npos);
  }
}
