#include <doctest/doctest.h>

#include "pack/files.hpp"
#include "pack/golden.hpp"
#include "support/random.hpp"

// The texts of the messages stand beside the golden packs and are compared whole.

namespace kp {
namespace {

using pack::load;
using test::file_text;

const std::string kPacks = "tests/golden/packs/";

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

TEST_CASE("load: the good packs have no finding at all") {
  for (const std::string name : {"tiny", "good/minimal", "good/full"}) {
    CAPTURE(name);
    const std::string text = file_text(kPacks + name + ".json");
    REQUIRE(!text.empty());
    CHECK(load(text).pack.has_value());
    CHECK(test::all_findings(text) == "");
  }
}

TEST_CASE("load: every bad shape is told as its golden text says") {
  for (const std::string name :
       {"bad-currency", "bad-date", "bad-id", "bad-marks", "bad-pattern", "bad-spread", "empty-list", "empty-text",
        "empty-way", "flat-way", "format-too-new", "many-faults", "missing-member", "no-remove",
        "out-of-range", "too-many", "twice", "unknown-contact", "unknown-member", "unknown-word",
        "way-member", "wrong-type"}) {
    CAPTURE(name);
    const std::string text = file_text(kPacks + "shape/" + name + ".json");
    REQUIRE(!text.empty());
    CHECK(!load(text).pack.has_value());
    CHECK(test::all_findings(text) == file_text(kPacks + "shape/" + name + ".txt"));
  }
}

TEST_CASE("load: every wrong name is told as its golden text says") {
  for (const std::string name : {"double-element", "double-id", "unknown-currency", "unknown-id", "unknown-id-far",
                                 "unknown-node"}) {
    CAPTURE(name);
    const std::string text = file_text(kPacks + "names/" + name + ".json");
    REQUIRE(!text.empty());
    CHECK(!load(text).pack.has_value());
    CHECK(test::all_findings(text) == file_text(kPacks + "names/" + name + ".txt"));
  }
}

TEST_CASE("load: all faults of a text come in one run, by line") {
  const auto loaded = load(file_text(kPacks + "shape/many-faults.json"));
  CHECK(!loaded.pack.has_value());
  CHECK(loaded.findings.faults() == 8);
  int line = 0;
  for (const Finding& finding : loaded.findings.all()) {
    CHECK(finding.line >= line);
    CHECK(!finding.remedy.empty());
    line = finding.line;
  }
}

TEST_CASE("load: ids become indices, alternatives stay apart, absent members have their defaults") {
  const auto loaded = load(file_text(kPacks + "good/full.json"));
  REQUIRE(loaded.pack.has_value());
  const pack::Pack& full = *loaded.pack;
  CHECK(full.id == "full");
  CHECK(full.currency == "EUR");
  CHECK(full.supply.connection == pack::Connection::fixed);
  CHECK(full.position("on-back") == 1);
  CHECK(full.position("on-front") == -1);
  CHECK(full.tool("screwdriver") == 1);
  CHECK(full.symptom("no-drain") == 0);
  const int rotor = full.part("rotor");
  REQUIRE(rotor == 3);
  const pack::Part& part = full.parts[3];
  CHECK(part.inside == full.part("pump"));
  CHECK(part.behind == pack::Access{{1, 2}});
  CHECK(part.contacts == std::vector<pack::Contact>{pack::Contact::sharp});
  CHECK(part.away_x == 0);
  CHECK(part.away_y == -1);
  CHECK(part.price_minor == 500);
  CHECK(full.parts[1].away_x == -1);
  CHECK(full.parts[1].inside == -1);
  CHECK(full.parts[1].removable);
  CHECK(!full.parts[0].removable);
  CHECK(full.changes[0].needs_released == std::vector<int>{full.joint("panel-screws")});
  CHECK(full.changes[0].needs_removed == std::vector<int>{full.part("panel")});
  CHECK(full.changes[1].needs_removed.empty());
  CHECK(full.joints[0].against_tipping);
  CHECK(!full.joints[1].against_tipping);
  CHECK(!full.positions[0].door_open);
  CHECK(!full.positions[0].propped);
  CHECK(full.positions[0].upright);
  CHECK(!full.positions[1].upright);
  CHECK(full.positions[2].door_open);
  CHECK(full.positions[2].propped);
  CHECK(full.changes[0].people == 2);
  CHECK(full.changes[1].people == 1);
  CHECK(full.joints[0].kind == pack::JointKind::screw);
  CHECK(full.joints[1].count == 1);
  CHECK(full.joints[2].parts == std::vector<int>{rotor, 2});
  CHECK(full.joints[2].behind ==
        pack::Access{{2}, pack::Way{std::vector<int>{1}, {full.position("in-place")}}});
  CHECK(full.joints[2].needs_released == std::vector<int>{full.joint("pump-plug")});
  CHECK(full.tests[0].probe == pack::Probe::ohm);
  CHECK(full.prove_tests[0].has_low);
  CHECK(full.prove_tests[0].has_high);
  CHECK(full.prove_tests[0].high == doctest::Approx(0.3));
  CHECK(!full.prove_tests[1].has_low);
  CHECK(full.prove_tests[1].when == pack::ProveWhen::running);
}

TEST_CASE("load: the order of making safe and of proving is read, and may be absent") {
  const auto loaded = load(file_text(kPacks + "good/full.json"));
  REQUIRE(loaded.pack.has_value());
  const pack::Pack& full = *loaded.pack;
  CHECK(full.supply.system == pack::System::single);
  CHECK(full.supply.volts_low == 104);
  CHECK(full.supply.volts_high == 127);
  CHECK(full.supply.proof.points ==
        std::vector<int>{full.circuit.point("feed-l"), full.circuit.point("feed-n"),
                         full.circuit.point("feed-e")});
  CHECK(full.supply.proof.place == "Terminals behind the panel");
  CHECK(full.water.relieve_joints == std::vector<int>{full.joint("pump-plug")});
  CHECK(full.water.relieve_behind == pack::Access{{full.part("panel")}});
  CHECK(full.tests[1].hot_at == 60);
  CHECK(full.tests[2].needs_live == pack::NeedsLive::current_under_load);
  CHECK(full.tests[2].live());
  const pack::ProveTest& earth = full.prove_tests[0];
  CHECK(earth.item == pack::ProveItem::b2);
  CHECK(earth.needs_fastened == std::vector<int>{full.joint("pump-plug")});
  CHECK(earth.points.size() == 2);
  CHECK(earth.wait_seconds == 5);
  CHECK(earth.leave_out ==
        std::vector<pack::LeaveOut>{pack::LeaveOut::untouched, pack::LeaveOut::cord});
  CHECK(earth.static_water);

  const auto old = load(file_text(kPacks + "tiny.json"));
  REQUIRE(old.pack.has_value());
  CHECK(old.pack->supply.proof.points.empty());
  CHECK(old.pack->supply.volts_low == 0);
  CHECK(old.pack->water.watch_seconds == 120);
  CHECK(old.pack->tests[1].needs_live == pack::NeedsLive::none);
  CHECK(!old.pack->tests[1].eyes);
  CHECK(!old.pack->tests[1].hot_at);
  CHECK(old.pack->prove_tests[0].item == pack::ProveItem::none);
  CHECK(old.pack->prove_tests[0].part == -1);
  CHECK(old.pack->prove_tests[0].leave_out.empty());
}

TEST_CASE("load: a text that is no JSON, or no object, is one fault with its place") {
  const auto cut = load("{\"format\": 1,");
  CHECK(!cut.pack.has_value());
  REQUIRE(cut.findings.all().size() == 1);
  CHECK(cut.findings.all()[0].code == "bad-json");
  CHECK(cut.findings.all()[0].what.find("line 1") != std::string::npos);
  const auto list = load("[]");
  CHECK(!list.pack.has_value());
  CHECK(test::as_lines(list.findings) ==
        "fault wrong-type line 1: this is a list. Write an object: members in braces.\n");
  CHECK(!load("").pack.has_value());
}

TEST_CASE("load: a newer format is said, and nothing of it is guessed at") {
  const std::string text = file_text(kPacks + "good/minimal.json");
  const auto loaded = load(with(text, "\"format\": 1", "\"format\": 7, \"unheard-of\": [1]"));
  CHECK(!loaded.pack.has_value());
  CHECK(test::as_lines(loaded.findings) ==
        "fault format-too-new line 2, /format: this pack has format 7 and this program reads "
        "format 1. Update the program to use this pack.\n");
  CHECK(load(with(text, "\"format\": 1", "\"format\": 0")).findings.has("out-of-range"));
}

TEST_CASE("load: a second of the same member is a fault, not a silent choice") {
  const std::string text = file_text(kPacks + "good/minimal.json");
  const auto loaded = load(with(text, "\"format\": 1", "\"format\": 1, \"format\": 1"));
  CHECK(!loaded.pack.has_value());
  CHECK(loaded.findings.has("bad-json"));
}

TEST_CASE("places: a value, and the nearest around one that is not there") {
  const auto loaded = load(file_text(kPacks + "good/minimal.json"));
  CHECK(loaded.places.at("").line == 1);
  CHECK(loaded.places.at("/format").line == 2);
  const int part = loaded.places.at("/parts/1").line;
  CHECK(part > 2);
  CHECK(loaded.places.at("/parts/1/name").line == part + 1);
  CHECK(loaded.places.at("/parts/1/caution").line == part);
  CHECK(pack::Places().at("/parts/1").line == 0);
}

TEST_CASE("load: a text cut anywhere never loads and always says why") {
  const std::string text = file_text(kPacks + "good/full.json");
  const std::size_t end = text.rfind('}');
  for (std::size_t size = 0; size < end; size += 7) {
    const auto loaded = load(text.substr(0, size));
    CHECK(!loaded.pack.has_value());
    CHECK(loaded.findings.faults() > 0);
  }
}

TEST_CASE("load: with bytes changed there is a pack or a fault, never both, never neither") {
  const std::string text = file_text(kPacks + "good/full.json");
  test::Random random(20251124);
  CAPTURE(random.seed());
  int loads = 0;
  for (int round = 0; round < 2000; ++round) {
    std::string changed = text;
    for (int i = random.between(1, 3); i > 0; --i) {
      changed[to_size(random.between(0, to_int(text.size()) - 1))] =
          static_cast<char>(random.between(32, 126));
    }
    const auto loaded = load(changed);
    CHECK(loaded.pack.has_value() == (loaded.findings.faults() == 0));
    loads += loaded.pack.has_value() ? 1 : 0;
    if (loaded.pack.has_value()) {
      // What loads can be checked without harm, whatever it says.
      CHECK(pack::check(*loaded.pack, test::known_drawings(), loaded.places).all().size() < 500);
    }
  }
  CHECK(loads > 100);
  CHECK(loads < 1900);
}

}  // namespace
}  // namespace kp
