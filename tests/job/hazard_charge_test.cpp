// What a capacitor leaves charged. The sums beside the checks are hand calculations.
#include <doctest/doctest.h>

#include "job/small_machine.hpp"
#include "job/work.hpp"

namespace {

using namespace kp;
using pack::ElementKind;

std::string charged(const test::SmallMachine& machine) {
  return test::marked(machine.pack.circuit, machine.hazards().charged_nodes);
}

/// A machine behind a panel of two screws of 15 s and 10 s to lift it off: 40 s.
struct Covered : test::SmallMachine {
  int panel = 0, frame = 0, inside = 0;
  Covered() : test::SmallMachine(120, 60) {
    panel = part("panel");
    pack.parts[0].seconds = 10;
    frame = part("frame");
    pack.parts[1].removable = false;
    const int screws = joint("screws", pack::JointKind::screw, {panel, frame});
    pack.joints[to_size(screws)].count = 2;
    pack.joints[to_size(screws)].seconds_each = 15;
    inside = part("inside", {{panel}});
  }
};

}  // namespace

TEST_CASE("45 µF can stand between two timer pins of the shipped machine") {
  // walk.md S8. The start winding of 8.5 Ω joins pin 5, the other plate is at pin 7.
  const job::Model& model = test::shipped_library().models.front();
  const pack::Circuit& circuit = model.pack.circuit;
  CHECK(test::marked(circuit, model.hazards.charged_nodes) ==
        "t-start t-end l-start l-end m-start m-end l-capacitor capacitor-a capacitor-b");
  for (const char* point : {"timer-5", "timer-7", "motor-2", "motor-3", "capacitor-1"}) {
    CAPTURE(point);
    CHECK(
        test::tag_words(model.hazards.point(model.pack, circuit.point(point))) ==
        (std::string(point).find("timer") == 0 ? "live stored-charge" : "live stored-charge hot"));
  }
  CHECK(test::tag_words(model.hazards.point(model.pack, circuit.point("timer-8"))) == "live");
}

TEST_CASE("the winding in series raises a run capacitor above the mains") {
  // 126 V, 60 Hz, 8.5 Ω + 60 mH + 45 µF: Xl 22.62, Xc 58.95, Z 37.31 Ω, I 3.377 A, 199.1 V RMS,
  // crest 281.6 V; 0.6 % less behind the supply and the leads.
  const job::Model& model = test::shipped_library().models.front();
  const int at = model.hazards.group("behind:access-panel");
  REQUIRE(at >= 0);
  const job::Group& group = model.hazards.groups[to_size(at)];
  CHECK(group.can_hold_charge);
  CHECK(group.charge_volts == doctest::Approx(281.6).epsilon(0.01));
  const job::Group& box =
      model.hazards.groups[to_size(model.hazards.group("behind:junction-cover"))];
  CHECK_FALSE(box.can_hold_charge);
  CHECK(box.charge_volts == 0);
}

TEST_CASE("contacts carry charge on, until neutral or the other plate") {
  Covered machine;
  machine.add(ElementKind::capacitor, "a", "b", 45, machine.inside);
  machine.add(ElementKind::switch_contact, "a", "c", 0.05, machine.inside);
  machine.add(ElementKind::fuse, "c", "d", 0.05, machine.inside);
  machine.add(ElementKind::switch_contact, "d", "L", 0.05, machine.inside);
  machine.add(ElementKind::switch_contact, "b", "e", 0.05, machine.inside);
  machine.add(ElementKind::heater, "e", "N", 14, machine.inside);
  machine.add(ElementKind::switch_contact, "b", "a", 0.05, machine.inside);
  // e stands at neutral through the heater; the line is open once it is isolated.
  CHECK(charged(machine) == "L a b c d");
}

TEST_CASE("a plate that is wired to neutral needs no tag, its partner has it") {
  Covered machine;
  machine.add(ElementKind::capacitor, "a", "b", 45, machine.inside);
  machine.add(ElementKind::connector, "b", "N", 0.01, machine.inside);
  machine.add(ElementKind::relay_contact, "a", "L", 0.05, machine.inside);
  CHECK(charged(machine) == "L a");
}

TEST_CASE("a resistance across frees what is joined, in time, and never the capacitor itself") {
  // Five time constants in the 40 s of the panel: 40 / (5 · 45 µF) = 177.8 kΩ.
  for (const bool soon : {true, false}) {
    CAPTURE(soon);
    Covered machine;
    machine.add(ElementKind::capacitor, "a", "b", 45, machine.inside);
    machine.add(ElementKind::resistor, "a", "b", soon ? 177e3 : 179e3, machine.inside);
    machine.add(ElementKind::switch_contact, "a", "c", 0.05, machine.inside);
    machine.add(ElementKind::relay_contact, "b", "d", 0.05, machine.inside);
    CHECK(charged(machine) == (soon ? "a b" : "a b c d"));
  }
}

TEST_CASE("without a cover hands are there at once: no resistance is trusted") {
  test::SmallMachine machine;
  const int inside = machine.part("inside");
  machine.add(ElementKind::capacitor, "a", "b", 45, inside);
  machine.add(ElementKind::resistor, "a", "b", 100, inside);
  machine.add(ElementKind::switch_contact, "a", "c", 0.05, inside);
  CHECK(charged(machine) == "a b c");
}

TEST_CASE("up to 0.1 µF a capacitor is no hazard of charge") {
  // IEC 60335-1 22.5, exempt up to 0.1 µF; safety-order value 20.
  for (const double microfarad : {0.1, 0.11}) {
    CAPTURE(microfarad);
    Covered machine;
    machine.add(ElementKind::capacitor, "L", "x", microfarad, machine.inside);
    machine.add(ElementKind::resistor, "x", "y", 10, machine.inside);
    CHECK(charged(machine).empty() == (microfarad < 0.105));
  }
}

TEST_CASE("what bleeds off by itself is waited for, as long as that is quicker than the tool") {
  // Five time constants: 5 · 10 µF · 1 MΩ = 50 s; 5 · 10 µF · 20 MΩ = 1000 s is over ten minutes.
  const auto wait = [](double microfarad, double ohm) {
    Covered machine;
    machine.add(ElementKind::capacitor, "a", "b", microfarad, machine.inside);
    if (ohm > 0) {
      machine.add(ElementKind::resistor, "a", "b", ohm, machine.inside);
    }
    return machine.hazards().bleed_seconds;
  };
  CHECK(wait(10, 1e6) == 50);
  CHECK(wait(10, 20e6) == 0);
  CHECK(wait(10, 0) == 0);
  CHECK(wait(0.1, 1e6) == 0);   // IEC 60335-1 22.5: no hazard of charge
}
