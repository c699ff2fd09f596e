#include <doctest/doctest.h>

#include "plan/builder.hpp"

// No outside source: what a part inside an assembly means is the project's own definition, stated
// in plan/rules.hpp.

namespace kp::plan {
namespace {

// A module (0) with a motor (1) and a cover (2) inside, hung in a tub (3) that stays.
enum { kModule, kMotor, kCover, kTub };
enum { kHanger, kMotorScrews, kCoverClips, kPlug };

Problem module() {
  Problem p;
  p.positions.resize(1);
  p.parts.resize(4);
  p.parts[kModule].name = "Module";
  p.parts[kMotor].inside = kModule;
  p.parts[kMotor].behind = {{kCover}};
  p.parts[kCover].inside = kModule;
  p.parts[kTub].name = "Tub";
  p.parts[kTub].removable = false;
  p.joints.resize(4);
  p.joints[kHanger].parts = {kModule, kTub};
  p.joints[kMotorScrews].parts = {kMotor};
  p.joints[kCoverClips].parts = {kCover, kModule};
  p.joints[kPlug].parts = {kMotor, kTub};
  return p;
}

Rules rules_of(const Problem& problem) {
  Result<Rules> rules = Rules::make(problem);
  REQUIRE(rules.has_value());
  return std::move(rules.value());
}

State with(std::initializer_list<int> released, std::initializer_list<int> removed) {
  State state;
  for (const int j : released) state.released.set(j);
  for (const int p : removed) state.removed.set(p);
  return state;
}

bool ties(const Rules& rules, int part, int joint) { return rules.ties(part).test(joint); }

}  // namespace

TEST_CASE("rules: a joint ties an assembly only where it leads outside") {
  const Rules rules = rules_of(module());
  CHECK(ties(rules, kModule, kHanger));
  CHECK(ties(rules, kModule, kPlug));
  CHECK_FALSE(ties(rules, kModule, kMotorScrews));
  CHECK_FALSE(ties(rules, kModule, kCoverClips));
  CHECK(ties(rules, kMotor, kMotorScrews));
  CHECK(ties(rules, kMotor, kPlug));
  CHECK(ties(rules, kCover, kCoverClips));
  CHECK_FALSE(ties(rules, kMotor, kHanger));
}

TEST_CASE("rules: the module comes out with what is inside it") {
  const Rules rules = rules_of(module());
  CHECK_FALSE(rules.legal(with({kHanger}, {}), Action{Kind::remove, kModule}));
  CHECK(rules.legal(with({kHanger, kPlug}, {}), Action{Kind::remove, kModule}));
}

TEST_CASE("rules: a cover inside the module still covers on the bench") {
  const Rules rules = rules_of(module());
  const State bench = with({kHanger, kPlug, kMotorScrews}, {kModule});
  CHECK_FALSE(rules.legal(bench, Action{Kind::remove, kMotor}));
  const State open = with({kHanger, kPlug, kMotorScrews, kCoverClips}, {kModule, kCover});
  CHECK(rules.legal(open, Action{Kind::remove, kMotor}));
}

TEST_CASE("rules: a thing outside counts the cover as away when its carrier is out") {
  Problem p = module();
  p.joints.push_back(Joint{});
  p.joints[4].parts = {kTub};
  p.joints[4].behind = {{kCover}};
  const Rules rules = rules_of(p);
  CHECK_FALSE(rules.legal(State{}, Action{Kind::release, 4}));
  CHECK(rules.legal(with({kHanger, kPlug}, {kModule}), Action{Kind::release, 4}));
  CHECK(rules.legal(with({kCoverClips}, {kCover}), Action{Kind::release, 4}));
}

TEST_CASE("rules: reachable only once the module is out") {
  Problem p = module();
  p.parts[kCover].behind = {{kModule}};
  const Plan plan = reach(p, State{}, Targets{{kMotor}, {}, {}});
  REQUIRE_FALSE(plan.error.has_value());
  const State end = test::after(rules_of(p), State{}, plan);
  CHECK(end.removed.test(kModule));
  CHECK(end.removed.test(kCover));
  CHECK(end.removed.test(kMotor));
}

TEST_CASE("rules: a joint is fastened only with its own parts in place") {
  const Rules rules = rules_of(module());
  const State state = with({kHanger, kPlug}, {kModule});
  CHECK_FALSE(rules.legal(state, Action{Kind::fasten, kHanger}));
  CHECK_FALSE(rules.legal(state, Action{Kind::fasten, kPlug}));
  CHECK(rules.legal(with({kHanger, kPlug}, {}), Action{Kind::fasten, kHanger}));
  CHECK(rules.legal(with({kHanger, kPlug, kCoverClips}, {kModule}), Action{Kind::fasten, kCoverClips}));
}

TEST_CASE("rules: a state that cannot be is refused with its reason") {
  const Problem p = module();
  const Plan plan = refit(p, with({kHanger}, {kModule}));
  REQUIRE(plan.error.has_value());
  CHECK(plan.error->code == "bad-state");
  CHECK(plan.error->what == "Module is away but joint 3 is fastened");
  State nowhere;
  nowhere.position = 7;
  CHECK(reach(p, nowhere, Targets{{kMotor}, {}, {}}).error->code == "bad-state");
  State no_tool;
  no_tool.tool = 0;
  CHECK(reach(p, no_tool, Targets{{kMotor}, {}, {}}).error->code == "bad-state");
}

TEST_CASE("rules: a point on a part is covered by what is carried with it") {
  Problem p = module();
  Targets on_motor;
  on_motor.points.push_back(Point{kMotor, {{kCover}}});
  Targets on_tub;
  on_tub.points.push_back(Point{kTub, {{kCover}}});
  p.parts[kCover].cost_ms = 100;
  const Rules rules = rules_of(p);
  const State end = test::after(rules, State{}, reach(rules, State{}, on_motor));
  CHECK(end.removed.test(kCover));
  const State other = test::after(rules, State{}, reach(rules, State{}, on_tub));
  CHECK(other.removed.test(kModule));
  CHECK_FALSE(other.removed.test(kCover));
}

TEST_CASE("rules: hands finish one part before they start the next") {
  // Two joints on each of two parts; the order within one tool and position is free, so each part
  // is lifted away as soon as its own joints are off.
  Problem p;
  p.positions.resize(1);
  p.parts.resize(2);
  p.joints.resize(4);
  p.joints[0].parts = {0};
  p.joints[1].parts = {1};
  p.joints[2].parts = {0};
  p.joints[3].parts = {1};
  const Plan plan = reach(p, State{}, Targets{{0, 1}, {}, {}});
  std::vector<Action> order;
  for (const Step& step : plan.steps) order.push_back(Action{step.kind, step.subject});
  const std::vector<Action> expected{{Kind::release, 0}, {Kind::release, 2}, {Kind::remove, 0},
                                     {Kind::release, 1}, {Kind::release, 3}, {Kind::remove, 1}};
  CHECK(order == expected);
}

}  // namespace kp::plan
