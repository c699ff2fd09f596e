#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "plan/builder.hpp"

// No outside source: the findings are the project's own. Each text is compared whole.

namespace kp::plan {
namespace {

std::vector<std::string> texts(const Problem& problem) {
  std::vector<std::string> all;
  const Findings found = check(problem);
  for (const Finding& finding : found.all()) {
    all.push_back(cat(finding.code, " ", finding.pointer, ": ", finding.what, ". ", finding.remedy));
  }
  return all;
}

using Texts = std::vector<std::string>;

Problem two_parts() {
  Problem p;
  p.positions = {Position{"in its place"}, Position{"pulled out"}};
  p.turns = {Turn{0, 1, 10, {}}, Turn{1, 0, 10, {}}};
  p.tools = {Tool{"hand", 0}};
  p.parts.resize(2);
  p.parts[0].name = "Panel";
  p.parts[1].name = "Valve";
  p.joints.resize(1);
  p.joints[0].parts = {0};
  return p;
}

}  // namespace

TEST_CASE("check: a sound problem has no findings") { CHECK(texts(two_parts()).empty()); }

TEST_CASE("check: unknown indices and impossible times, all in one run") {
  Problem p = two_parts();
  p.home = 2;
  p.turns[0].to = 5;
  p.turns[1].needs_released = {1};
  p.tools[0].take_ms = -1;
  p.parts[0].behind = {{1}, {9}};
  p.parts[1].inside = 3;
  p.joints[0].tool = 4;
  p.joints[0].positions = {-1};
  CHECK(texts(p) == Texts{
                        "unknown-index /home: there is no position 2. Use 0 to 1",
                        "unknown-index /turns/0/to: there is no position 5. Use 0 to 1",
                        "unknown-index /turns/1/needs_released/0: there is no joint 1. Use 0 to 0",
                        "bad-cost /tools/0/take_ms: -1 ms is no usable time. Use 0 to 1000000000",
                        "unknown-index /parts/0/behind/1/0: there is no part 9. Use 0 to 1",
                        "unknown-index /parts/1/inside: there is no part 3. Use 0 to 1",
                        "unknown-index /joints/0/tool: there is no tool 4. Use 0 to 0",
                        "unknown-index /joints/0/positions/0: there is no position -1. Use 0 to 1",
                    });
  const Plan plan = reach(p, State{}, Targets{{0}, {}, {}});
  REQUIRE(plan.error.has_value());
  CHECK(plan.error->code == "bad-problem");
  CHECK(plan.error->text() == "/home: there is no position 2. Use 0 to 1");
}

TEST_CASE("check: what is forbidden, and what keeps a turn from ever being made") {
  Problem p = two_parts();
  p.forbidden = {Forbidden{{2}, {0, 1}}, Forbidden{}};
  p.turns[0].needs_removed = {2};
  CHECK(texts(p) == Texts{
                        "unknown-index /turns/0/needs_removed/0: there is no part 2. Use 0 to 1",
                        "unknown-index /forbidden/0/positions/0: there is no position 2. Use 0 to 1",
                        "unknown-index /forbidden/0/joints/1: there is no joint 1. Use 0 to 0",
                        "empty-forbidden /forbidden/1/joints: a position is forbidden whatever is released. Name the joints that must not all be released there",
                    });
  p = two_parts();
  p.turns[0].needs_removed = {0};
  p.parts[0].removable = false;
  CHECK(texts(p) == Texts{"position-unreachable /positions/1: pulled out is never taken: Panel does not come away. Add a change of position that leads there"});
  p = two_parts();
  p.joints[0].name = "Screw";
  p.turns[0].needs_released = {0};
  p.forbidden = {Forbidden{{1}, {0}}};
  CHECK(texts(p) == Texts{"position-unreachable /positions/1: pulled out is never taken: pulled out is forbidden with all of these released: Screw. Let a change lead there with one of them fast"});
  p = two_parts();
  p.joints[0].name = "Screw";
  p.joints[0].positions = {1};
  p.forbidden = {Forbidden{{}, {0}}};
  CHECK(texts(p) == Texts{
                        "nothing-frees /joints/0: nothing frees Screw: pulled out is forbidden with all of these released: Screw. Allow another position, or keep one of them fast",
                        "nothing-frees /parts/0: nothing frees Panel: pulled out is forbidden with all of these released: Screw. Allow another position, or keep one of them fast",
                    });
}

TEST_CASE("check: no positions at all") {
  CHECK(texts(Problem{}) == Texts{"unknown-index /home: there is no position 0. Add a position"});
}

TEST_CASE("check: carriers in a circle, and a joint that holds too much") {
  Problem p = two_parts();
  p.parts[0].inside = 1;
  p.parts[1].inside = 0;
  p.joints[0].parts = {0, 0};
  CHECK(texts(p) == Texts{
                        "carrier-circle /parts/0/inside: the part is inside itself. Name the assembly that carries the part",
                        "carrier-circle /parts/1/inside: the part is inside itself. Name the assembly that carries the part",
                        "bad-joint /joints/0/parts: a joint holds at most two different parts. Name one or two parts, or make two joints",
                    });
}

TEST_CASE("check: too many of anything") {
  Problem p;
  p.positions.resize(65);
  p.parts.resize(121);
  p.joints.resize(129);
  CHECK(texts(p) == Texts{
                        "too-large /positions: 65 positions are too many. Use at most 64",
                        "too-large /parts: 121 parts are too many. Use at most 120",
                        "too-large /joints: 129 joints are too many. Use at most 128",
                    });
}

TEST_CASE("check: more alternatives than can be weighed") {
  Problem p;
  p.positions.resize(1);
  p.parts.resize(80);
  for (int i = 1; i < 66; ++i) p.parts[0].behind.push_back({i});
  CHECK(texts(p) == Texts{"too-large /joints, /parts, /turns: a joint, part or turn has too many alternatives. Use at most 64 ways"});
}

TEST_CASE("check: parts that cover each other") {
  Problem p = two_parts();
  p.parts[0].behind = {{1}};
  p.parts[1].behind = {{0}};
  CHECK(texts(p) == Texts{
                        "cyclic-cover /parts/0: nothing frees Panel: Panel is in its own way. Let one of them come away first",
                        "cyclic-cover /parts/1: nothing frees Valve: Valve is in its own way. Let one of them come away first",
                    });
}

TEST_CASE("check: a part behind something that never comes away") {
  Problem p = two_parts();
  p.parts[0].removable = false;
  p.parts[1].behind = {{0}};
  CHECK(texts(p) == Texts{"nothing-frees /parts/1: nothing frees Valve: Panel does not come away. Let it come away, or give another way"});
}

TEST_CASE("check: positions that lead nowhere") {
  Problem p = two_parts();
  p.turns = {Turn{0, 1, 10, {}}};
  CHECK(texts(p) == Texts{"no-way-home /positions/1: no change of position leads from pulled out back to in its place. Add the change of position for the way back"});
  p.turns = {Turn{1, 0, 10, {}}};
  p.parts[1].positions = {1};
  CHECK(texts(p) == Texts{
                        "nothing-frees /parts/1: nothing frees Valve: there is no change of position that leads to: pulled out. Add a change of position, or allow another position",
                        "position-unreachable /positions/1: pulled out is never taken: there is no change of position that leads to: pulled out. Add a change of position that leads there",
                    });
}

TEST_CASE("impossible: the plan says what is in the way, down to the root") {
  Problem p = two_parts();
  p.parts.push_back(Part{});
  p.parts[2].name = "Tub";
  p.parts[2].removable = false;
  p.joints[0].name = "Hinge pin";
  p.joints[0].behind = {{2}};
  p.parts[1].behind = {{0}};
  const Plan plan = reach(p, State{}, Targets{{1}, {}, {}});
  REQUIRE(plan.error.has_value());
  CHECK(plan.error->code == "no-way");
  CHECK(plan.error->what == "Valve cannot be reached: Tub does not come away");
  using What = Blocker::What;
  CHECK(plan.in_the_way == std::vector<Blocker>{{What::part, 1}, {What::part, 0}, {What::joint, 0}, {What::part, 2}});
  CHECK(plan.steps.empty());
  CHECK_FALSE(plan.proved);
}

TEST_CASE("impossible: a point, a position, an unknown target") {
  Problem p = two_parts();
  p.parts[0].removable = false;
  Targets point;
  point.points.push_back(Point{-1, {{0}}});
  CHECK(reach(p, State{}, point).error->what == "point 0 cannot be reached: Panel does not come away");
  p.turns.clear();
  CHECK(reach(p, State{}, Targets{{}, {}, {1}}).error->what ==
        "pulled out cannot be reached: there is no change of position that leads to: pulled out");
  CHECK(reach(p, State{}, Targets{{7}, {}, {}}).error->code == "bad-target");
  CHECK(reach(p, State{}, Targets{{}, {Point{9, {}}}, {}}).error->code == "bad-target");
  CHECK(reach(p, State{}, Targets{{}, {Point{-1, {{9}}}}, {}}).error->code == "bad-target");
  CHECK(reach(p, State{}, Targets{{}, {}, {2}}).error->code == "bad-target");
}

TEST_CASE("impossible: no way back from a position that cannot be left") {
  Problem p = two_parts();
  p.turns = {Turn{0, 1, 10, {}}};
  State out;
  out.position = 1;
  const Plan plan = refit(p, out);
  REQUIRE(plan.error.has_value());
  CHECK(plan.error->code == "no-way");
  CHECK(plan.error->what == "there is no way back from here to: in its place");
}

}  // namespace kp::plan
