#include <doctest/doctest.h>

#include "base/text.hpp"
#include "pack/files.hpp"
#include "pack/load.hpp"

// The circuit of a pack as it is read, and what follows from it for tests and complaints.

namespace kp {
namespace {

using pack::Pack;

Pack full() {
  const pack::Loaded loaded = pack::load(test::file_text("tests/golden/packs/good/full.json"));
  REQUIRE(loaded.pack.has_value());
  return *loaded.pack;
}

TEST_CASE("circuit: values, kinds and places come as they were written") {
  const Pack pack = full();
  const pack::Circuit& circuit = pack.circuit;
  CHECK(circuit.there());
  CHECK(circuit.nodes.size() == 5);
  CHECK(circuit.mains.line == circuit.node("line"));
  CHECK(circuit.mains.earth == circuit.node("frame"));
  CHECK(circuit.mains.volts == pack::Spread{110, 120, 130});
  CHECK(circuit.mains.ohm == pack::Spread{0.2, 0.2, 0.2});
  const pack::Element& coil = circuit.elements[to_size(circuit.element("coil"))];
  CHECK(coil.kind == pack::ElementKind::winding);
  CHECK(coil.ohm == pack::Spread{3, 4, 5});
  CHECK(coil.millihenry == pack::Spread{8, 10, 12});
  CHECK(coil.a == circuit.node("fed"));
  CHECK(coil.part == pack.part("pump"));
  CHECK(coil.joint == -1);
  CHECK(coil.row == -1);
  const pack::Element& feed = circuit.elements[to_size(circuit.element("feed"))];
  CHECK(feed.joint == pack.joint("pump-plug"));
  CHECK(circuit.terminal(pack.part("pump"), "1") == circuit.element("feed"));
  CHECK(circuit.terminal(pack.part("pump"), "2") == -1);
  CHECK(circuit.terminal(pack.part("pump"), "") == -1);
  const pack::Element& stat = circuit.elements[to_size(circuit.element("stat"))];
  CHECK(stat.closed_at_rest);
  CHECK(stat.switch_celsius == 60);
  CHECK(stat.back_kelvin == 5);
  CHECK(circuit.elements[to_size(circuit.element("float"))].moved_by == pack::MovedBy::float_up);
  CHECK(circuit.elements[to_size(circuit.element("fuse"))].rated_amperes == 10);
  CHECK(circuit.elements[to_size(circuit.element("cap"))].microfarad.typical == 0.1);
  CHECK(circuit.elements[to_size(circuit.element("ntc"))].beta.high == 3600);
  REQUIRE(circuit.elements[to_size(circuit.element("ptc"))].table.size() == 2);
  CHECK(circuit.elements[to_size(circuit.element("ptc"))].table[1].ohm == 9000);
  CHECK(circuit.programme.rows[0].on == std::vector<bool>{false, true});
  CHECK(circuit.programme.steps[1].seconds == 600);
  CHECK(circuit.step("wash") == 1);
  CHECK(circuit.step("rinse") == -1);
}

TEST_CASE("circuit: faults say what they do, or nothing") {
  const Pack pack = full();
  REQUIRE(pack.faults.size() == 3);
  CHECK(pack.faults[0].effect == pack::Effect::open);
  CHECK(pack.faults[0].element == pack.circuit.element("coil"));
  CHECK(pack.faults[1].effect == pack::Effect::earth_leak);
  CHECK(pack.faults[1].amount == pack::Spread{1, 100, 1000});
  CHECK(pack.faults[1].at == 0.5);
  CHECK(pack.faults[2].effect == pack::Effect::mechanical);
  CHECK(pack.faults[2].element == -1);
  CHECK(pack.faults[2].mend_seconds == 120);
  CHECK(pack.fault("pump-jammed") == 2);
}

TEST_CASE("circuit: a test on two points takes unit, field, positions, covers and joints from them") {
  const Pack pack = full();
  const pack::Test& ohms = pack.tests[to_size(pack.test("coil-ohms"))];
  CHECK(ohms.on_circuit());
  CHECK(ohms.unit == "Ω");
  CHECK(ohms.field_high == 1e8);
  CHECK(ohms.low == 0);
  CHECK(ohms.high == 0);
  CHECK(ohms.positions == std::vector<int>{pack.position("in-place")});
  CHECK(ohms.behind == pack::Access{{pack.part("panel")}});
  CHECK(ohms.needs_released == std::vector<int>{pack.joint("pump-plug")});
  CHECK(ohms.off == std::vector<int>{pack.circuit.element("feed")});
  CHECK(ohms.float_up);
  CHECK_FALSE(ohms.running);
  const pack::Test& amperes = pack.tests[to_size(pack.test("amperes"))];
  CHECK(amperes.unit == "A");
  CHECK(amperes.running);
  CHECK(amperes.clamped == std::vector<int>{pack.circuit.element("feed")});
  const pack::Test& old = pack.tests[to_size(pack.test("pump-ohms"))];
  CHECK_FALSE(old.on_circuit());
  CHECK(old.high == 15);
}

TEST_CASE("circuit: suspects are kept where they are written, and follow from causes where not") {
  const Pack pack = full();
  CHECK(pack.symptoms[0].suspects[0].weight == 1);
  // Prior times chance: earth 1 · 0.9, open 3 · 0.1, jammed 2 · 0.2, all in the pump.
  const pack::Symptom& trips = pack.symptoms[1];
  REQUIRE(trips.suspects.size() == 1);
  CHECK(trips.suspects[0].part == pack.part("pump"));
  CHECK(trips.suspects[0].weight == 100);
  CHECK(trips.suspects[0].fault == "Winding to earth");
  CHECK(trips.leak == 0.01);
  CHECK(trips.causes[0].chance == 0.9);
}

TEST_CASE("circuit: a pack without one has none") {
  const pack::Loaded loaded = pack::load(test::file_text("tests/golden/packs/good/minimal.json"));
  REQUIRE(loaded.pack.has_value());
  CHECK_FALSE(loaded.pack->circuit.there());
  CHECK(loaded.pack->faults.empty());
}

}  // namespace
}  // namespace kp
