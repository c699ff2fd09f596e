// Tags follow from circuit, kinds, mass and covers; authored ones only add.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "job/small_machine.hpp"
#include "job/work.hpp"

namespace {

using namespace kp;
using pack::Contact;
using pack::ElementKind;
using pack::JointKind;

const job::Model& shipped() { return test::shipped_library().models.front(); }

/// The pack without authored tags but for these.
pack::Pack stripped(pack::Pack pack, const std::vector<Contact>& kept) {
  const auto strip = [&kept](auto& things) {
    for (auto& thing : things) {
      std::vector<Contact> left;
      for (const Contact tag : thing.contacts) {
        if (std::find(kept.begin(), kept.end(), tag) != kept.end()) {
          left.push_back(tag);
        }
      }
      thing.contacts = left;
    }
  };
  strip(pack.joints);
  strip(pack.parts);
  strip(pack.circuit.points);
  strip(pack.changes);
  return pack;
}

/// What every joint, part, point and change asks, by name.
std::map<std::string, std::string> demands(const pack::Pack& pack) {
  const job::Hazards hazards = job::hazards_of(pack);
  std::map<std::string, std::string> out;
  for (int i = 0; i < to_int(pack.joints.size()); ++i) {
    out["joint " + pack.joints[to_size(i)].id] = test::tag_words(hazards.joint(pack, i));
  }
  for (int i = 0; i < to_int(pack.parts.size()); ++i) {
    out["part " + pack.parts[to_size(i)].id] = test::tag_words(hazards.part(pack, i));
  }
  for (int i = 0; i < to_int(pack.circuit.points.size()); ++i) {
    out["point " + pack.circuit.points[to_size(i)].id] = test::tag_words(hazards.point(pack, i));
  }
  for (int i = 0; i < to_int(pack.changes.size()); ++i) {
    const pack::PositionChange& change = pack.changes[to_size(i)];
    out[cat("change ", pack.positions[to_size(change.from)].id, " ",
            pack.positions[to_size(change.to)].id)] = test::tag_words(hazards.change(pack, i));
  }
  return out;
}

int lost(const std::string& subject, const std::vector<Contact>& kept) {
  const pack::Pack& pack = shipped().pack;
  const auto whole = demands(pack);
  return whole.at(subject) == demands(stripped(pack, kept)).at(subject) ? 0 : 1;
}

}  // namespace

TEST_CASE("without the tags of charge, heat, springs and mass the shipped machine asks the same") {
  // walk.md S8: 38 places whose deletion nobody noticed; those of `sharp` cannot be derived.
  const pack::Pack& pack = shipped().pack;
  const std::vector<Contact> kept = {Contact::live, Contact::wet, Contact::sharp, Contact::fragile};
  auto whole = demands(pack);
  auto bare = demands(stripped(pack, kept));
  // The outer panel balances the springs of the door: no spring holds it, its weight does. Authored.
  CHECK(whole.at("part door-outer-panel").find("sprung") != std::string::npos);
  whole.erase("part door-outer-panel");
  bare.erase("part door-outer-panel");
  CHECK(whole == bare);
}

TEST_CASE("without any authored tag but sharp and fragile it asks the same, but for these") {
  // One reason for all of them: water of the wash stands on what is in the tub or seals it, and a
  // pack does not say what is in the tub. Water is shut and relieved before any hand goes in, so
  // what is lost is the sentence and the gloves.
  const std::vector<std::string> in_the_tub = {"joint dispenser-screws",
                                               "joint float-guard",
                                               "joint gasket-channel",
                                               "joint heater-clip-foot",
                                               "joint hub-cap-turn",
                                               "joint inner-panel-screws",
                                               "joint riser-foot",
                                               "joint upper-arm-nut",
                                               "joint vent-ring",
                                               "part dispenser",
                                               "part door-gasket",
                                               "part door-inner-panel",
                                               "part float",
                                               "part hub-cap",
                                               "part lower-arm",
                                               "part riser",
                                               "part upper-arm",
                                               "part vent"};
  const pack::Pack& pack = shipped().pack;
  auto whole = demands(pack);
  auto bare = demands(stripped(pack, {Contact::sharp, Contact::fragile}));
  whole.erase("part door-outer-panel");   // sprung, as above
  bare.erase("part door-outer-panel");
  std::vector<std::string> differ;
  for (const auto& row : whole) {
    const std::string& subject = row.first;
    const std::string& tags = row.second;
    if (bare.at(subject) != tags) {
      differ.push_back(subject);
      CAPTURE(subject);
      // Nothing but wet is missing.
      std::string with = tags;
      const std::size_t at = with.find("wet");
      REQUIRE(at != std::string::npos);
      with.erase(at, 3);
      std::string left = bare.at(subject);
      const auto squeeze = [](std::string& text) {
        text.erase(std::remove(text.begin(), text.end(), ' '), text.end());
      };
      squeeze(with);
      squeeze(left);
      CHECK(left == with);
    }
  }
  CHECK(differ == in_the_tub);
}

TEST_CASE("a tag that is deleted where it cannot be derived is missed") {
  CHECK(lost("part frame", {Contact::fragile}) == 1);    // sharp
  CHECK(lost("part pump-seal", {Contact::sharp}) == 1);  // fragile
}

TEST_CASE("an authored tag adds and never takes away") {
  pack::Pack pack = shipped().pack;
  const int knob = pack.part("timer-knob");
  const int timer = pack.part("timer");
  pack.parts[to_size(knob)].contacts = {Contact::fragile, Contact::live};
  pack.parts[to_size(timer)].contacts = {Contact::fragile};
  const job::Hazards hazards = job::hazards_of(pack);
  CHECK(test::tag_words(hazards.part(pack, knob)) == "live fragile");
  CHECK(test::tag_words(hazards.part(pack, timer)) == "live stored-charge fragile");
}

TEST_CASE("groups of the shipped machine: the conductors behind one set of covers") {
  const job::Hazards& hazards = shipped().hazards;
  const pack::Pack& pack = shipped().pack;
  std::string ids;
  for (const job::Group& group : hazards.groups) {
    ids += cat(group.id, " ");
  }
  CHECK(ids ==
        "behind:junction-cover behind:door-outer-panel behind:access-panel "
        "behind:door-outer-panel+door-insulation ");
  const job::Group& box = hazards.groups[0];
  CHECK(box.points == std::vector<int>{pack.circuit.point("box-l"), pack.circuit.point("box-n")});
  CHECK(box.joints == std::vector<int>{pack.joint("supply-leads")});
  CHECK(box.covers == std::vector<int>{pack.part("junction-cover")});
  CHECK(box.positions == std::vector<int>{pack.position("in-place"), pack.position("pulled-out")});
  CHECK(box.name_of_cover == pack.parts[to_size(pack.part("junction-cover"))].name);
  const int access = hazards.group("behind:access-panel");
  // Hands at the door spring are beside bare spades, though a spring is not live.
  CHECK(hazards.group_of_joint[to_size(pack.joint("door-spring-hooks"))] == access);
  // The heater is drawn out in the tub; its terminals are below.
  CHECK(hazards.group_of_part[to_size(pack.part("heater"))] == access);
  CHECK(hazards.group_of_part[to_size(pack.part("pump-module"))] == access);
  CHECK(hazards.group_of_part[to_size(pack.part("lower-arm"))] == -1);
  CHECK(hazards.group_of_joint[to_size(pack.joint("toe-screws"))] == -1);
  // The module's inner screws are undone on the bench.
  CHECK(hazards.group_of_joint[to_size(pack.joint("housing-screws"))] == -1);
}

TEST_CASE("covers in another order are the same place") {
  test::SmallMachine machine;
  const int door = machine.part("door");
  const int panel = machine.part("panel");
  const int valve = machine.part("valve");
  machine.add(ElementKind::coil, "L", "N", 900, valve);
  machine.point("L", valve, {{door}, {panel, door}});
  machine.point("N", valve, {{door, panel}, {door}});
  const job::Hazards hazards = machine.hazards();
  REQUIRE(hazards.groups.size() == 1);
  CHECK(hazards.groups[0].points == std::vector<int>{0, 1});
  CHECK(hazards.group_of_point == std::vector<int>{0, 0});
  CHECK(hazards.group_of_part[to_size(valve)] == 0);
}

TEST_CASE("groups that begin with the same cover have different ids") {
  test::SmallMachine machine;
  const int panel = machine.part("panel");
  const int lid = machine.part("lid");
  const int valve = machine.part("valve");
  machine.point("L", valve, {{panel}});
  machine.point("N", valve, {{panel}, {lid}});
  machine.add(ElementKind::coil, "L", "N", 900, valve);
  const job::Hazards hazards = machine.hazards();
  REQUIRE(hazards.groups.size() == 2);
  CHECK(hazards.groups[0].id == "behind:panel");
  CHECK(hazards.groups[1].id == "behind:panel/lid");
  CHECK(hazards.group("behind:panel/lid") == 1);
  CHECK(hazards.group("behind:lid") == -1);
}

TEST_CASE("the checker says what an author left out, and conductors without a cover") {
  test::SmallMachine machine;
  const int valve = machine.part("valve");
  machine.add(ElementKind::coil, "L", "N", 900, valve);
  const Findings findings = job::check_hazards(machine.pack);
  std::string texts;
  for (const Finding& finding : findings.all()) {
    texts += cat(finding.severity == Severity::note ? "note " : finding.severity == Severity::fault ? "fault " : "warning ", finding.code, " ",
                 finding.text(), "\n");
  }
  CHECK(
      texts ==
      "fault conductor-unproved /parts/0: no test point shows the live conductors of the part "
      "\"valve\", so they cannot be proved dead before hands meet them. Give a test point on a live "
      "node there, with the same \"behind\".\n"
      "warning conductor-open /parts/0: nothing stands in front of live conductors of the part "
      "\"valve\". Name in \"behind\" what covers them.\n"
      "note tag-left-out /parts/0: the part \"valve\" has the contact \"live\" by its node L, and "
      "its contacts do not say so. Add \"live\" to its contacts; it counts all the same.\n");
  CHECK(machine.hazards().groups[0].id == "open");
}

TEST_CASE("the shipped machine has no conductor without a cover") {
  const Findings findings = job::check_hazards(shipped().pack);
  CHECK(findings.faults() == 0);
  CHECK_FALSE(findings.has("conductor-open"));
}
