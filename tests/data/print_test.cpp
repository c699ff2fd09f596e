#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "data/value.hpp"

using kp::data::Value;

TEST_CASE("values are printed on one line, members in their order") {
  Value value = Value::object();
  value.set("zeta", Value::of(1)).set("alpha", Value::of("x")).set("list", Value::array());
  value.set("zeta", Value::of(2));
  Value list = Value::array();
  list.push(Value::of(true)).push(Value()).push(Value::of(1.5)).push(Value::of(std::uint32_t{7}));
  value.set("list", list);
  CHECK(kp::data::print(value) == "{\"zeta\":2,\"alpha\":\"x\",\"list\":[true,null,1.5,7]}");
  CHECK(kp::data::print_pretty(value) ==
        "{\n"
        "  \"zeta\": 2,\n"
        "  \"alpha\": \"x\",\n"
        "  \"list\": [\n"
        "    true,\n"
        "    null,\n"
        "    1.5,\n"
        "    7\n"
        "  ]\n"
        "}\n");
  CHECK(kp::data::print_pretty(Value::object()) == "{}\n");
}

TEST_CASE("whole numbers keep all their digits, others take the fewest") {
  CHECK(kp::data::print(Value::of(std::int64_t{9223372036854775807})) == "9223372036854775807");
  CHECK(kp::data::print(Value::of(0.1)) == "0.1");
  CHECK(kp::data::print(Value::of(1e30)) == "1e+30");
  CHECK(kp::data::print(*kp::data::parse("4.50")) == "4.5");
  CHECK(kp::data::print(*kp::data::parse("2e-3")) == "0.002");
}

TEST_CASE("what JSON cannot say is printed as something it can") {
  CHECK(kp::data::print(Value::of(std::nan(""))) == "null");
  CHECK(kp::data::print(Value::of(std::numeric_limits<double>::infinity())) == "null");
  CHECK(kp::data::print(Value::of(std::string_view("a\xFF"
                                                   "b"))) == "\"a\xEF\xBF\xBD"
                                                             "b\"");
}

// RFC 8259 section 7: only the quotation mark, the backslash and U+0000 to U+001F must be escaped.
TEST_CASE("only what must be escaped is escaped") {
  std::string all;
  for (int c = 0; c < 0x80; ++c) {
    all += static_cast<char>(c);
  }
  const std::string text = kp::data::print(Value::of(all));
  CHECK(text.substr(0, 61) ==
        "\"\\u0000\\u0001\\u0002\\u0003\\u0004\\u0005\\u0006\\u0007\\b\\t\\n\\u000b");
  CHECK(text.find("/0123") != std::string::npos);
  CHECK(text.find('\x7F') != std::string::npos);
  CHECK(kp::data::parse(text)->text == all);
}

TEST_CASE("sameness looks at kinds, contents and order") {
  const auto same = [](const char* a, const char* b) {
    return kp::data::same(*kp::data::parse(a), *kp::data::parse(b));
  };
  CHECK(same("[1, 2.50]", "[1,2.5]"));
  CHECK(same("{\"a\":null}", "{ \"a\" : null }"));
  CHECK_FALSE(same("{\"a\":1,\"b\":2}", "{\"b\":2,\"a\":1}"));
  CHECK_FALSE(same("{\"a\":1}", "{\"a\":1,\"b\":2}"));
  CHECK_FALSE(same("[1]", "[1,1]"));
  CHECK_FALSE(same("1", "\"1\""));
  CHECK_FALSE(same("true", "false"));
  CHECK_FALSE(same("9007199254740993", "9007199254740992"));
}
