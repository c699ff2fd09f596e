// Heat, springs, mass and water: what burns, pulls, falls and runs out.
#include <doctest/doctest.h>

#include "job/hazard_rules.hpp"
#include "job/small_machine.hpp"
#include "job/work.hpp"

namespace {

using namespace kp;
using pack::Contact;
using pack::ElementKind;
using pack::JointKind;

std::string of_part(const test::SmallMachine& machine, int part) {
  return test::tag_words(machine.hazards().part(machine.pack, part));
}

std::string of_joint(const test::SmallMachine& machine, int joint) {
  return test::tag_words(machine.hazards().joint(machine.pack, joint));
}

void fixed_to(test::SmallMachine& machine, int part) {
  machine.pack.parts[to_size(part)].removable = false;
}

}  // namespace

TEST_CASE("persons for a lift: two bear two thirds of the sum, three half of it") {
  // HSE L23 para 120 with 25 kg each; safety-order value 22: 25+25 gives 33.3 kg, 3 × 25 37.5 kg.
  CHECK(job::people_to_lift(25) == 1);
  CHECK(job::people_to_lift(25.1) == 2);
  CHECK(job::people_to_lift(33.3) == 2);
  CHECK(job::people_to_lift(33.4) == 3);
  CHECK(job::people_to_lift(37.5) == 3);
  CHECK(job::people_to_lift(45) == 4);
}

TEST_CASE("a part is heavy above 16 kg, with what it carries") {
  // Lifting filter of 16 kg; safety-order value 23.
  test::SmallMachine machine;
  const int module = machine.part("module");
  const int motor = machine.part("motor");
  machine.pack.parts[to_size(motor)].inside = module;
  machine.pack.parts[to_size(module)].mass_kg = 5;
  machine.pack.parts[to_size(motor)].mass_kg = 16;
  CHECK(of_part(machine, module) == "");
  CHECK(machine.hazards().unit_kg == doctest::Approx(16));
  machine.pack.parts[to_size(motor)].mass_kg = 16.5;
  CHECK(of_part(machine, module) == "heavy");
  CHECK(of_part(machine, motor) == "heavy");
}

TEST_CASE("a unit off its fixings is heavy in every change, the door of a fixed one is not") {
  test::SmallMachine machine;
  const int frame = machine.part("frame");
  fixed_to(machine, frame);
  machine.pack.parts[to_size(frame)].mass_kg = 52;
  const int bracket = machine.part("bracket");
  const int screws = machine.joint("bracket-screws", JointKind::screw, {bracket, frame});
  for (const char* id : {"door-open", "out", "out-open"}) {
    machine.pack.positions.push_back({id, id, "", ""});
  }
  const auto change = [&machine](int from, int to, std::vector<int> needs = {}) {
    pack::PositionChange made;
    made.from = from;
    made.to = to;
    made.needs_released = std::move(needs);
    machine.pack.changes.push_back(std::move(made));
    return to_int(machine.pack.changes.size()) - 1;
  };
  const int open = change(0, 1);
  const int shut = change(1, 0);
  const int out = change(0, 2, {screws});
  const int back = change(2, 0);
  const int tips = change(2, 3);
  const job::Hazards hazards = machine.hazards();
  for (const int one : {open, shut}) {
    CHECK(test::tag_words(hazards.change(machine.pack, one)) == "");
    CHECK(hazards.change_people[to_size(one)] == 1);
  }
  for (const int one : {out, back}) {
    CHECK(test::tag_words(hazards.change(machine.pack, one)) == "heavy");
    // Half of 52 kg is on the hands: 26, more than one person's 25.
    CHECK(hazards.change_people[to_size(one)] == 2);
  }
  // The open door tips a unit that is not fixed (walk.md S11).
  CHECK(test::tag_words(hazards.change(machine.pack, tips)) == "heavy");
  CHECK(test::tag_words(hazards.joint(machine.pack, screws)) == "heavy");
}

TEST_CASE("a unit that nothing holds is heavy in every change") {
  test::SmallMachine machine;
  const int frame = machine.part("frame");
  fixed_to(machine, frame);
  machine.pack.parts[to_size(frame)].mass_kg = 40;
  machine.pack.positions.push_back({"out", "Out", "", ""});
  pack::PositionChange change;
  change.to = 1;
  machine.pack.changes.push_back(change);
  CHECK(test::tag_words(machine.hazards().change(machine.pack, 0)) == "heavy");
  machine.pack.parts[to_size(frame)].mass_kg = 16;
  CHECK(test::tag_words(machine.hazards().change(machine.pack, 0)) == "");
}

TEST_CASE("a spring is sprung, so is what it holds and what fastens that") {
  // walk.md C1: the hinge is unscrewed before its spring is off.
  test::SmallMachine machine;
  const int frame = machine.part("frame");
  fixed_to(machine, frame);
  const int spring = machine.part("spring");
  const int hinge = machine.part("hinge");
  const int hooks = machine.joint("hooks", JointKind::spring, {spring, hinge});
  const int screws = machine.joint("screws", JointKind::screw, {hinge, frame});
  CHECK(of_joint(machine, hooks) == "sprung");
  CHECK(of_part(machine, spring) == "sprung");
  CHECK(of_part(machine, hinge) == "sprung heavy");
  CHECK(of_joint(machine, screws) == "sprung heavy");
  CHECK(of_part(machine, frame) == "");
  // An author who says that the spring is off first has the hinge's weight left.
  machine.pack.joints[to_size(screws)].needs_released = {hooks};
  CHECK(of_joint(machine, screws) == "heavy");
}

TEST_CASE("a heater is hot with its joints and what stands behind the same covers") {
  test::SmallMachine machine;
  const int panel = machine.part("panel");
  const int heater = machine.part("heater", {{panel}});
  const int clip = machine.joint("clip", JointKind::clip, {heater}, {{panel}});
  const int beside = machine.part("beside", {{panel}});
  const int deeper = machine.part("deeper", {{panel, beside}});
  const int at = machine.point("L", beside, {{panel}});
  machine.add(ElementKind::heater, "L", "N", 14, heater);
  CHECK(of_part(machine, heater) == "live hot");
  CHECK(of_joint(machine, clip) == "live hot");  // its terminals are where it is
  CHECK(of_part(machine, beside) == "live hot");
  CHECK(of_part(machine, deeper) == "");
  CHECK(of_part(machine, panel) == "");
  CHECK(test::tag_words(machine.hazards().point(machine.pack, at)) == "live hot");
}

TEST_CASE("what lies on the bench with its cover is not beside a heater that stays") {
  test::SmallMachine machine;
  const int module = machine.part("module");
  const int rotor = machine.part("rotor", {{module}});
  machine.pack.parts[to_size(rotor)].inside = module;
  const int heater = machine.part("heater", {{module}});
  machine.add(ElementKind::heater, "L", "N", 14, heater);
  CHECK(of_part(machine, heater) == "live hot");
  CHECK(of_part(machine, rotor) == "");
}

TEST_CASE("water runs from a clamp through what is joined, not along wires nor into the frame") {
  test::SmallMachine machine;
  const int frame = machine.part("frame");
  fixed_to(machine, frame);
  const int harness = machine.part("harness");
  const int panel = machine.part("panel");
  const int hose = machine.part("hose");
  const int valve = machine.part("valve");
  const int strainer = machine.part("strainer");
  const int clamp = machine.joint("clamp", JointKind::hose_clamp, {hose, valve});
  const int seat = machine.joint("seat", JointKind::snap, {strainer, valve});
  const int nut = machine.joint("nut", JointKind::nut, {valve});
  const int screws = machine.joint("screws", JointKind::screw, {valve, frame});
  const int plug = machine.joint("plug", JointKind::plug, {valve, harness}, {{panel}});
  CHECK(of_joint(machine, clamp) == "wet");
  CHECK(of_part(machine, hose) == "wet");
  CHECK(of_part(machine, strainer) == "wet");
  CHECK(of_joint(machine, seat) == "wet");
  CHECK(of_joint(machine, nut) == "wet");
  CHECK(of_joint(machine, screws) == "");
  CHECK(of_part(machine, frame) == "");
  CHECK(of_joint(machine, plug) == "live");
  CHECK(of_part(machine, valve) == "live wet");
  CHECK(of_part(machine, harness) == "live");
}

TEST_CASE("a plug in no circuit is live, one that only earth or nothing feeds is not") {
  test::SmallMachine machine;
  const int sensor = machine.part("sensor");
  const int plug = machine.joint("plug", JointKind::plug, {sensor});
  CHECK(of_joint(machine, plug) == "live");
  machine.add(ElementKind::connector, "E", "frame", 0.01, sensor, plug);
  CHECK(of_joint(machine, plug) == "");
  machine.add(ElementKind::connector, "L", "in", 0.01, sensor, plug);
  CHECK(of_joint(machine, plug) == "live");
}
