#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "job/work.hpp"

// Gravity: a loose machine tips over its open door, and what lies loose in it rolls out (common
// practice, no source; wanted by the order of safety as "no state with the last fixing off, the
// door open and not propped"). Told here in the words of the pack, not in those of the planner.

namespace kp {
namespace {

using job::Deed;
using test::Work;

const job::Model& model() { return test::shipped_library().models.front(); }

bool would_tip(const pack::Pack& pack, const plan::State& unit) {
  const pack::Position& at = pack.positions[to_size(unit.position)];
  bool fixed = false;
  for (int j = 0; j < to_int(pack.joints.size()); ++j) {
    fixed = fixed || (pack.joints[to_size(j)].against_tipping && !unit.released.test(j));
  }
  return !fixed && at.door_open && !at.propped;
}

/// Calls `look` with each state of the way to these parts and back, and the one before it.
using Look = std::function<void(const plan::State& before, const plan::State& after)>;
void walk(const std::vector<int>& parts, const Look& look) {
  plan::State unit = job::initial_unit(model());
  const auto follow = [&](const plan::Plan& plan) {
    REQUIRE_FALSE(plan.error.has_value());
    CHECK(plan.proved);
    for (const plan::Step& step : plan.steps) {
      const plan::State before = unit;
      unit = model().rules.apply(unit, plan::Action{step.kind, step.subject});
      look(before, unit);
    }
  };
  plan::Targets targets;
  targets.parts = parts;
  follow(plan::reach(model().rules, unit, targets));
  CHECK(job::are_away(unit, parts));
  follow(plan::refit(model().rules, unit));
  CHECK(job::is_closed(model(), unit));
}

/// Each part that comes away alone, and all of them together.
std::vector<std::vector<int>> all_targets() {
  std::vector<std::vector<int>> out;
  std::vector<int> all;
  for (int part = 0; part < to_int(model().pack.parts.size()); ++part) {
    if (model().pack.parts[to_size(part)].removable) {
      out.push_back({part});
      all.push_back(part);
    }
  }
  out.push_back(all);
  return out;
}

std::vector<std::string> told(const Work& work, Deed deed, const char* what) {
  std::vector<std::string> out;
  for (const safety::Reason& reason : job::in_the_way(work.model(), work.state.unit, deed, what)) {
    out.push_back(cat(reason.code, ": ", reason.sentence));
  }
  return out;
}

using Told = std::vector<std::string>;

}  // namespace

TEST_CASE("tipping: no way to any part, nor the way back, leaves a loose machine with its door open") {
  const pack::Pack& pack = model().pack;
  int loose = 0;
  int propped = 0;
  for (const std::vector<int>& parts : all_targets()) {
    CAPTURE(pack.parts[to_size(parts.front())].id);
    walk(parts, [&](const plan::State&, const plan::State& unit) {
      CHECK_FALSE(would_tip(pack, unit));
      loose += unit.position == pack.position("pulled-out") ? 1 : 0;
      propped += unit.position == pack.position("pulled-out-open") ? 1 : 0;
    });
  }
  CHECK(loose > 50);
  CHECK(propped > 10);
}

TEST_CASE("tipping: the door of a loose machine moves, and the machine is laid down, without racks") {
  const pack::Pack& pack = model().pack;
  const int fixed_most = pack.position("door-open");
  int moved = 0;
  for (const std::vector<int>& parts : all_targets()) {
    CAPTURE(pack.parts[to_size(parts.front())].id);
    walk(parts, [&](const plan::State&, const plan::State& unit) {
      if (unit.position == pack.position("in-place") || unit.position == fixed_most) return;
      ++moved;
      CHECK(unit.removed.test(pack.part("lower-rack")));
      CHECK(unit.removed.test(pack.part("upper-rack")));
    });
  }
  CHECK(moved > 100);
}

TEST_CASE("tipping: the door never moves with the dispenser loose in it") {
  const pack::Pack& pack = model().pack;
  const int screws = pack.joint("dispenser-screws");
  const int leads = pack.joint("solenoid-leads");
  int loose = 0;
  for (const std::vector<int>& parts : all_targets()) {
    CAPTURE(pack.parts[to_size(parts.front())].id);
    walk(parts, [&](const plan::State& before, const plan::State& unit) {
      if (!before.released.test(screws)) return;
      ++loose;
      CHECK(before.released.test(leads));
      const bool in = !before.removed.test(pack.part("dispenser"));
      CHECK((!in || before.position == unit.position));
    });
  }
  CHECK(loose > 0);
}

TEST_CASE("tipping: the way to the motor undoes the worktop screws first and the bracket with the door shut") {
  const pack::Pack& pack = model().pack;
  std::vector<std::string> order;
  std::vector<int> at;
  walk({pack.part("motor")}, [&](const plan::State& before, const plan::State& unit) {
    for (const char* id : {"worktop-screws", "floor-bracket-screw", "front-legs", "water-supply-nut"}) {
      const int joint = pack.joint(id);
      if (before.released.test(joint) == unit.released.test(joint)) continue;
      order.push_back(cat(unit.released.test(joint) ? "off " : "on ", id));
      if (joint == pack.joint("floor-bracket-screw")) at.push_back(unit.position);
    }
  });
  const auto place = [&](const char* what) {
    return std::find(order.begin(), order.end(), what) - order.begin();
  };
  REQUIRE(order.size() == 8);
  CHECK(place("off worktop-screws") < place("off floor-bracket-screw"));
  CHECK(place("off water-supply-nut") < place("off front-legs"));
  CHECK(place("on front-legs") < place("on floor-bracket-screw"));
  CHECK(place("on floor-bracket-screw") < place("on worktop-screws"));
  CHECK(place("on front-legs") < place("on water-supply-nut"));
  CHECK(at == std::vector<int>{pack.position("in-place"), pack.position("in-place")});
}

TEST_CASE("tipping: hands that go their own way are told what to do first") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  plan::State& unit = work.state.unit;
  const pack::Pack& pack = work.pack();
  unit.removed.set(pack.part("toe-panel"));
  unit.released.set(pack.joint("toe-screws"));
  unit.released.set(pack.joint("floor-bracket-screw"));
  CHECK(told(work, Deed::turn, "door-open").empty());
  unit.position = pack.position("door-open");
  CHECK(told(work, Deed::release, "worktop-screws") ==
        Told{"would-tip: Shut the door first. This is the last fixing."});
  CHECK(test::says(work.ask(job::StepDone{Deed::release, "worktop-screws", {}, {}}), "would-tip"));
  unit.position = pack.position("in-place");
  unit.released.set(pack.joint("worktop-screws"));
  CHECK(told(work, Deed::turn, "door-open") ==
        Told{"would-tip: Fasten one fixing first, or prop the door."});
  CHECK(test::says(work.ask(job::StepDone{Deed::turn, "door-open", {}, {}}), "would-tip"));
  // Found loose and open: it is shut, or fastened; nothing else is done to it.
  unit.position = pack.position("door-open");
  CHECK(told(work, Deed::remove, "lower-rack") ==
        Told{"would-tip: Shut the door first. The unit is loose."});
  CHECK(told(work, Deed::fasten, "worktop-screws").empty());
  CHECK(told(work, Deed::turn, "in-place").empty());
  unit.position = pack.position("pulled-out");
  CHECK(told(work, Deed::turn, "pulled-out-open") ==
        Told{"covered: Take away first: lower rack.", "covered: Take away first: upper rack."});
}

TEST_CASE("tipping: a machine that is found loose and open is shut or fastened first of all") {
  const pack::Pack& pack = model().pack;
  plan::State unit = job::initial_unit(model());
  for (const char* id : {"toe-screws", "floor-bracket-screw", "worktop-screws"}) {
    unit.released.set(pack.joint(id));
  }
  unit.removed.set(pack.part("toe-panel"));
  unit.position = pack.position("door-open");
  REQUIRE(would_tip(pack, unit));
  const plan::Plan back = plan::refit(model().rules, unit);
  REQUIRE_FALSE(back.error.has_value());
  bool acted = false;
  for (const plan::Step& step : back.steps) {
    unit = model().rules.apply(unit, plan::Action{step.kind, step.subject});
    acted = acted || step.kind != plan::Kind::take_tool;
    CHECK((!acted || !would_tip(pack, unit)));
  }
  CHECK(job::is_closed(model(), unit));
}

TEST_CASE("tipping: nothing is forbidden where nothing holds, nothing opens, or all is propped") {
  pack::Pack pack = model().pack;
  REQUIRE(job::bind_plan(pack).forbidden.size() == 1);
  CHECK(job::bind_plan(pack).forbidden[0].positions ==
        std::vector<int>{pack.position("door-open")});
  pack.positions[to_size(pack.position("door-open"))].propped = true;
  CHECK(job::bind_plan(pack).forbidden.empty());
  pack = model().pack;
  for (pack::Joint& joint : pack.joints) joint.against_tipping = false;
  CHECK(job::bind_plan(pack).forbidden.empty());
}

}  // namespace kp
