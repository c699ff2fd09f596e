#include "data/reader.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using kp::Findings;
using kp::data::Reader;
using kp::data::Value;

namespace {

/// One line a finding, as a person would read them.
std::string told(const Findings& findings) {
  std::string out;
  for (const kp::Finding& finding : findings.all()) {
    out += finding.code + " | " + finding.text() + "\n";
  }
  return out;
}

const std::vector<std::string> kKinds = {"screw", "nut", "clip"};

}  // namespace

TEST_CASE("a good object is read without a finding") {
  const auto value = kp::data::parse(
      R"({"name":"Riser","mass":0.25,"count":4,"big":1e3,"kind":"nut","loose":true,)"
      R"("tags":["wet","live"],"home":{"x":1},"ways":[{"t":"a"},{"t":"b"}]})");
  Findings findings;
  Reader reader(*value, findings);
  CHECK(reader.is_object());
  CHECK(reader.text("name") == "Riser");
  CHECK(reader.number("mass", 0, 10) == 0.25);
  CHECK(reader.integer("count", 1, 9) == 4);
  CHECK(reader.integer("big", 0, 2000) == 1000);
  CHECK(reader.choice("kind", kKinds) == 1);
  CHECK(reader.flag_or("loose", false));
  CHECK(reader.texts_or_empty("tags") == std::vector<std::string>{"wet", "live"});
  auto home = reader.object("home");
  CHECK(home.has_value());
  CHECK(home->number("x", 0, 9) == 1);
  CHECK(home->pointer() == "/home");
  home->done();
  auto ways = reader.list("ways");
  CHECK(ways.size() == 2);
  CHECK(ways[1].text("t") == "b");
  CHECK(ways[1].pointer() == "/ways/1");
  CHECK(reader.text_or("note", "none") == "none");
  CHECK(reader.number_or("depth", 3.5, 0, 9) == 3.5);
  CHECK(reader.integer_or("level", 2, 0, 9) == 2);
  CHECK(reader.choice_or("grade", kKinds, 2) == 2);
  CHECK_FALSE(reader.flag_or("tight", false));
  CHECK(reader.texts_or_empty("words").empty());
  CHECK_FALSE(reader.object("away", false).has_value());
  CHECK(reader.list("none", false).empty());
  CHECK(reader.has("name"));
  CHECK_FALSE(reader.has("surname"));
  reader.done();
  CHECK(told(findings).empty());
}

TEST_CASE("one run tells every fault, with place, remedy and hint") {
  const auto value = kp::data::parse(
      "{\n"
      "  \"nmae\": \"Riser\",\n"
      "  \"mass\": \"heavy\",\n"
      "  \"count\": 2.5,\n"
      "  \"seconds\": -4,\n"
      "  \"turns\": 12,\n"
      "  \"kind\": \"scerw\",\n"
      "  \"grade\": \"velvet\",\n"
      "  \"tags\": [\"wet\", 7],\n"
      "  \"home\": [],\n"
      "  \"ways\": {},\n"
      "  \"loose\": null,\n"
      "  \"colour\": 1\n"
      "}\n");
  Findings findings;
  Reader reader(*value, findings, "/parts/3");
  CHECK(reader.text("name").empty());
  CHECK(reader.number("mass", 0, 10) == 0);
  CHECK(reader.integer("count", 1, 9) == 1);
  CHECK(reader.number("seconds", 0, 3600) == 0);
  CHECK(reader.integer("turns", 1, 9) == 1);
  CHECK(reader.choice("kind", kKinds) == 0);
  CHECK(reader.choice_or("grade", kKinds, 2) == 2);
  CHECK(reader.texts_or_empty("tags") == std::vector<std::string>{"wet"});
  CHECK_FALSE(reader.object("home").has_value());
  CHECK(reader.list("ways").empty());
  CHECK(reader.flag_or("loose", true));
  CHECK_FALSE(reader.object("drawing").has_value());
  reader.done();
  CHECK(told(findings) ==
        "missing-member | line 1, /parts/3: \"name\" is missing. "
        "Add \"name\": a text in quotation marks.\n"
        "wrong-type | line 3, /parts/3/mass: \"mass\" is the text \"heavy\". Write a number.\n"
        "wrong-type | line 4, /parts/3/count: \"count\" is 2.5. Write a whole number.\n"
        "out-of-range | line 5, /parts/3/seconds: \"seconds\" is -4. "
        "Write a number from 0 to 3600.\n"
        "out-of-range | line 6, /parts/3/turns: \"turns\" is 12. "
        "Write a whole number from 1 to 9.\n"
        "unknown-word | line 7, /parts/3/kind: \"kind\" is \"scerw\". Did you mean \"screw\"?\n"
        "unknown-word | line 8, /parts/3/grade: \"grade\" is \"velvet\". "
        "Write one of \"screw\", \"nut\", \"clip\".\n"
        "wrong-type | line 9, /parts/3/tags/1: this is the number 7. "
        "Write a text in quotation marks.\n"
        "wrong-type | line 10, /parts/3/home: \"home\" is a list. "
        "Write an object, members in braces.\n"
        "wrong-type | line 11, /parts/3/ways: \"ways\" is an object. "
        "Write a list in square brackets.\n"
        "wrong-type | line 12, /parts/3/loose: \"loose\" is null. Write true or false.\n"
        "missing-member | line 1, /parts/3: \"drawing\" is missing. "
        "Add \"drawing\": an object, members in braces.\n"
        "unknown-member | line 2, /parts/3/nmae: \"nmae\" is not known here. "
        "Did you mean \"name\"?\n"
        "unknown-member | line 13, /parts/3/colour: \"colour\" is not known here. "
        "Remove it. Known here: \"name\", \"mass\", \"count\", \"seconds\", \"turns\", \"kind\", "
        "\"grade\", \"tags\", \"home\", \"ways\", \"loose\", \"drawing\".\n");
}

TEST_CASE("what is no object is told once, and not again for each of its members") {
  const auto value = kp::data::parse("[3]");
  Findings findings;
  Reader reader(value->items[0], findings, "/0");
  CHECK(reader.text("name").empty());
  CHECK(reader.integer("count", 2, 9) == 2);
  CHECK(reader.list("ways").empty());
  reader.done();
  CHECK(told(findings) ==
        "wrong-type | line 1, /0: this is the number 3. Write an object: members in braces.\n");
}

TEST_CASE("ranges that are open at an end say so") {
  const auto value = kp::data::parse(R"({"a":-1,"b":5})");
  Findings findings;
  Reader reader(*value, findings);
  CHECK(reader.number_or("a", 1, 0, 1e308) == 1);
  CHECK(reader.number_or("b", 1, -1e308, 4) == 1);
  CHECK(told(findings) ==
        "out-of-range | line 1, /a: \"a\" is -1. Write a number of at least 0.\n"
        "out-of-range | line 1, /b: \"b\" is 5. Write a number of at most 4.\n");
}

// RFC 6901 section 5 writes "a/b" as "/a~1b" and "m~n" as "/m~0n".
TEST_CASE("pointers escape what RFC 6901 says") {
  const auto value = kp::data::parse(R"({"a/b":1,"m~n":2})");
  Findings findings;
  Reader reader(*value, findings);
  reader.done();
  CHECK(findings.all()[0].pointer == "/a~1b");
  CHECK(findings.all()[1].pointer == "/m~0n");
  CHECK(findings.all()[0].remedy == "Remove it.");
}

TEST_CASE("the caller's own faults stand at the member or at the object") {
  const auto value = kp::data::parse("{\n\"home\": \"nowhere\"\n}");
  Findings findings;
  Reader reader(*value, findings, "/p");
  reader.fault("unknown-place", "\"nowhere\" is no place", "Name a place.", "home");
  reader.fault("unknown-place", "no place at all", "Name a place.", "away");
  reader.fault("unplaced", "it has no place", "Add one.");
  CHECK(told(findings) ==
        "unknown-place | line 2, /p/home: \"nowhere\" is no place. Name a place.\n"
        "unknown-place | line 1, /p/away: no place at all. Name a place.\n"
        "unplaced | line 1, /p: it has no place. Add one.\n");
}

TEST_CASE("a long text is cut in a message, between characters") {
  std::string text;
  for (int i = 0; i < 30; ++i) {
    text += "é";
  }
  Value value = Value::object();
  value.set("n", Value::of(text));
  Findings findings;
  Reader reader(value, findings);
  CHECK(reader.number("n", 0, 1) == 0);
  CHECK(findings.all()[0].what ==
        "\"n\" is the text \"éééééééééééééééééééé…\"");
}
