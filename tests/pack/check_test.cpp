#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "pack/files.hpp"
#include "pack/golden.hpp"

// For each rule of the checker there is a pack that breaks it, tests/golden/packs/broken/<code>,
// and the whole text of what must be said.

namespace kp {
namespace {

TEST_CASE("check: for every rule, a broken pack and the whole of its messages") {
  for (const pack::Rule& rule : pack::rules()) {
    const std::string code(rule.code);
    CAPTURE(code);
    const std::string path = cat("tests/golden/packs/broken/", code);
    const std::string text = test::file_text(path + ".json");
    REQUIRE(!text.empty());
    const pack::Loaded loaded = pack::load(text);
    REQUIRE(loaded.pack.has_value());
    const Findings findings =
        pack::check(*loaded.pack, test::known_drawings(), loaded.places);
    CHECK(findings.has(code));
    CHECK(test::as_lines(findings) == test::file_text(path + ".txt"));
    for (const Finding& finding : findings.all()) {
      CHECK(finding.line > 0);
      if (finding.code == code) {
        CHECK(finding.severity == rule.severity);
      }
    }
  }
}

TEST_CASE("check: the rules have codes of their own and say what they want") {
  std::set<std::string_view> codes;
  for (const pack::Rule& rule : pack::rules()) {
    CHECK(codes.insert(rule.code).second);
    CHECK(rule.meaning.size() > 10);
    CHECK(rule.meaning.back() == '.');
  }
  CHECK(codes.size() == pack::rules().size());
  CHECK(codes.size() >= 48);
}

TEST_CASE("check: without places the findings are the same, only without lines") {
  const pack::Loaded loaded =
      pack::load(test::file_text("tests/golden/packs/broken/caution-missing.json"));
  REQUIRE(loaded.pack.has_value());
  const Findings findings = pack::check(*loaded.pack, test::known_drawings());
  REQUIRE(findings.all().size() == 3);
  CHECK(findings.all()[0].line == 0);
  CHECK(findings.faults() == 3);
}

TEST_CASE("check: all that is wrong is said in one run") {
  pack::Pack pack = *pack::load(test::file_text("tests/golden/packs/good/minimal.json")).pack;
  pack.parts[1].drawing = "none";
  pack.parts[2].behind = {{0}};
  pack.joints[0].contacts = {pack::Contact::sprung};
  pack.symptoms[0].suspects.clear();
  pack.prove_tests.clear();
  const Findings findings = pack::check(pack, test::known_drawings());
  for (const char* code : {"unknown-drawing", "cover-fixed", "caution-missing", "symptom-empty",
                           "prove-missing"}) {
    CAPTURE(code);
    CHECK(findings.has(code));
  }
}

TEST_CASE("check: a second way past a fixed cover is enough") {
  pack::Pack pack = *pack::load(test::file_text("tests/golden/packs/good/minimal.json")).pack;
  pack.parts[2].behind = {{0}, {1}};
  CHECK(pack::check(pack, test::known_drawings()).all().empty());
}

TEST_CASE("check: two circles that share nothing are both told") {
  pack::Pack pack = *pack::load(test::file_text("tests/golden/packs/good/minimal.json")).pack;
  pack.parts[2].behind.clear();
  pack.parts[1].behind = {{1}};
  pack.parts[2].behind = {{2}};
  const Findings findings = pack::check(pack, test::known_drawings());
  CHECK(std::count_if(findings.all().begin(), findings.all().end(), [](const Finding& finding) {
          return finding.code == "cover-cycle";
        }) == 2);
}

}  // namespace
}  // namespace kp
