#include <doctest/doctest.h>

#include <algorithm>

#include "job/bind_prove.hpp"
#include "job/bind_supply.hpp"
#include "job/work.hpp"

// Prove tests on the way back. Their order is that of section 3 of the trade's list: look, earth,
// insulation before the supply is joined, the joint, the static leak test before the panels.
// Second hand from VDE 0701 and HD 60364-6, else common practice, no source.

namespace kp {
namespace {

using job::Placing;
using pack::ProveTest;

const job::Model& machine() { return test::shipped_library().models.front(); }

const ProveTest& test_of(const char* id) {
  const int index = machine().pack.prove_test(id);
  CAPTURE(std::string(id));
  REQUIRE(index >= 0);
  return machine().pack.prove_tests[to_size(index)];
}

plan::State opened(const plan::Targets& targets) {
  plan::State unit = job::initial_unit(machine());
  const plan::Plan way = plan::reach(machine().rules, unit, targets);
  REQUIRE_FALSE(way.error.has_value());
  for (const plan::Step& step : way.steps) {
    unit = machine().rules.apply(unit, plan::Action{step.kind, step.subject});
  }
  return unit;
}

/// With these parts away; the junction cover with them, as after the proof at the supply.
plan::State opened(const std::vector<const char*>& parts) {
  plan::Targets targets;
  for (const char* part : parts) {
    targets.parts.push_back(machine().pack.part(part));
  }
  return opened(targets);
}

struct Back {
  plan::State unit;
  plan::Plan way;
  std::vector<Placing> placings;

  explicit Back(plan::State from, const std::vector<int>& done = {})
      : unit(std::move(from)),
        way(job::order_for_proofs(machine(), unit, plan::refit(machine().rules, unit))),
        placings(job::prove_schedule(machine(), unit, way, done)) {}

  [[nodiscard]] const Placing* of(const char* id) const {
    const int test = machine().pack.prove_test(id);
    const auto found = std::find_if(placings.begin(), placings.end(),
                                    [test](const Placing& one) { return one.test == test; });
    return found == placings.end() ? nullptr : &*found;
  }
  [[nodiscard]] int before(const char* id) const {
    const Placing* one = of(id);
    REQUIRE(one != nullptr);
    return one->before;
  }
  /// The step of the way back that does this, or -1.
  [[nodiscard]] int step(plan::Kind kind, int subject) const {
    for (int i = 0; i < to_int(way.steps.size()); ++i) {
      const plan::Step& one = way.steps[to_size(i)];
      if (one.kind == kind && one.subject == subject) {
        return i;
      }
    }
    return -1;
  }
  [[nodiscard]] int fastened(const char* joint) const {
    return step(plan::Kind::fasten, machine().pack.joint(joint));
  }
  [[nodiscard]] int set(const char* part) const {
    return step(plan::Kind::set, machine().pack.part(part));
  }
  [[nodiscard]] plan::State at(int moment) const {
    plan::State now = unit;
    for (int i = 0; i < moment; ++i) {
      const plan::Step& one = way.steps[to_size(i)];
      now = machine().rules.apply(now, plan::Action{one.kind, one.subject});
    }
    return now;
  }
};

/// Each test that is placed can be made at its moment; of those that are bound to a place none is
/// asked for once its place is shut, and no later moment would do.
void check_moments(const Back& back) {
  for (const Placing& one : back.placings) {
    const ProveTest& test = machine().pack.prove_tests[to_size(one.test)];
    CAPTURE(test.id);
    CHECK(one.reasons.empty() == (one.before >= 0));
    if (one.before < 0) {
      CHECK_FALSE(job::place_open(machine(), back.unit, test));
      continue;
    }
    CHECK(job::place_open(machine(), back.at(one.before), test));
    for (int later = one.before + 1; later <= to_int(back.way.steps.size()); ++later) {
      if (test.item != pack::ProveItem::b2) {
        CHECK_FALSE(job::place_open(machine(), back.at(later), test));
      }
    }
  }
}

TEST_CASE("bind prove: where the supply leads were parted, insulation comes before they are joined") {
  const Back back(opened({"junction-box"}));
  check_moments(back);
  const int joined = back.fastened("supply-leads");
  REQUIRE(joined >= 0);
  CHECK(back.before("insulation") <= joined);
  CHECK(back.before("polarity") <= joined);
  CHECK(back.before("earth") <= back.before("insulation"));
  // ... and the earth only once the box, the last internal earth, is fast.
  CHECK(back.before("earth") > back.fastened("junction-box-screws"));
  CHECK(back.before("supply-joint") > joined);
  CHECK(back.before("supply-joint") <= back.set("junction-cover"));
  CHECK(back.before("static-leak") > back.fastened("junction-cover-screw"));
  CHECK(back.before("static-leak") <= back.set("access-panel"));
  CHECK(back.before("visual-base") <= back.set("access-panel"));
  CHECK(back.before("earth-closed") == to_int(back.way.steps.size()));
  CHECK(back.before("visual") == to_int(back.way.steps.size()));
  CHECK(back.before("visual-door") == -1);
}

/// Every step can be done after the one before it, and at the end the machine is closed.
void check_sound(const Back& back) {
  plan::State unit = back.unit;
  std::int64_t cost = 0;
  for (const plan::Step& step : back.way.steps) {
    const plan::Action action{step.kind, step.subject};
    REQUIRE(machine().rules.legal(unit, action));
    cost += machine().rules.cost_ms(unit, action);
    unit = machine().rules.apply(unit, action);
    CHECK(step.position == unit.position);
    CHECK(step.tool == unit.tool);
  }
  CHECK(job::is_closed(machine(), unit));
  CHECK(cost == back.way.cost_ms);
}

TEST_CASE("bind prove: the way back leaves a moment for the insulation, whatever was out") {
  int moved = 0;
  for (const char* part : {"heater", "motor", "pump-module", "junction-box", "inlet-hose", "timer"}) {
    CAPTURE(std::string(part));
    const Back back(opened({part, "junction-cover"}));
    check_sound(back);
    const plan::Plan cheapest = plan::refit(machine().rules, back.unit);
    CHECK(back.way.cost_ms >= cheapest.cost_ms);
    CHECK(back.way.cost_ms <= cheapest.cost_ms + 60'000);  // a few tools taken again
    moved += back.way.cost_ms == cheapest.cost_ms ? 0 : 1;
    if (back.fastened("supply-leads") >= 0) {
      CHECK(back.before("insulation") >= 0);
    }
  }
  CHECK(moved >= 1);
}

TEST_CASE("bind prove: the heater, with the machine on its back") {
  const Back back(opened({"heater"}));
  check_moments(back);
  REQUIRE(back.fastened("supply-leads") >= 0);
  CHECK(back.before("insulation") >= 0);
  CHECK(back.before("insulation") <= back.fastened("supply-leads"));
  CHECK(back.before("insulation") > back.fastened("heater-leads"));
  CHECK(back.before("earth") <= back.before("insulation"));
  CHECK(back.before("static-leak") > back.fastened("water-supply-nut"));
  CHECK(back.before("static-leak") <= back.set("access-panel"));
}

TEST_CASE("bind prove: the pump motor, whose earth screw was undone") {
  const Back back(opened({"motor"}));
  check_moments(back);
  const int earth = back.fastened("motor-earth");
  REQUIRE(earth >= 0);
  CHECK(back.before("earth") > earth);
  CHECK(back.before("insulation") > earth);
  CHECK(back.before("insulation") > back.fastened("motor-plug"));
  CHECK(back.before("insulation") <= back.fastened("supply-leads"));
}

TEST_CASE("bind prove: after the proof at the supply and a part in front, no lead is parted for a test") {
  const Back back(opened({"thermal-fuse", "junction-cover"}));
  check_moments(back);
  CHECK(back.fastened("supply-leads") == -1);
  CHECK(back.before("earth") <= back.set("junction-cover"));
  CHECK(back.before("earth") >= 0);
  for (const char* id : {"insulation", "polarity"}) {
    const Placing* one = back.of(id);
    REQUIRE(one != nullptr);
    CHECK(one->before == -1);
    REQUIRE(one->reasons.size() == 1);
    CHECK(one->reasons[0].code == "still-held");
    CHECK(one->reasons[0].sentence == "Release first: Supply leads.");
  }
}

TEST_CASE("bind prove: what is done is not asked for again, and a closed machine is proved from outside") {
  std::vector<int> done;
  for (const char* id : {"earth", "insulation"}) {
    done.push_back(machine().pack.prove_test(id));
  }
  const Back back(opened({"junction-box"}), done);
  CHECK(back.of("earth") == nullptr);
  CHECK(back.of("insulation") == nullptr);
  CHECK(back.of("dry") == nullptr);  // it runs
  const Back closed(job::initial_unit(machine()));
  REQUIRE(closed.way.steps.empty());
  for (const Placing& one : closed.placings) {
    const ProveTest& test = machine().pack.prove_tests[to_size(one.test)];
    CAPTURE(test.id);
    CHECK((one.before == 0) == !job::has_place(test));
  }
}

TEST_CASE("bind prove: why a test cannot be made here") {
  const auto codes = [](const plan::State& unit, const char* id) {
    std::string out;
    for (const safety::Reason& reason : job::place_reasons(machine(), unit, test_of(id))) {
      out += cat(reason.code, ": ", reason.sentence, "\n");
    }
    return out;
  };
  plan::State unit = job::initial_unit(machine());
  CHECK(codes(unit, "earth") == "place-shut: Take away first: junction box cover.\n");
  CHECK(codes(unit, "visual").empty());
  unit = opened({"junction-box"});
  CHECK(codes(unit, "visual") == "not-closed: Close the machine before it is proved.\n");
  CHECK(codes(unit, "supply-joint") ==
        "still-loose: Fasten first: Supply leads.\nstill-loose: Fasten first: Supply cable clamp.\n");
  CHECK(codes(unit, "turns-free").find("wrong-position: Bring the unit to: Door open.") == 0);
}

TEST_CASE("bind prove: what a test asks of the gate") {
  using job::ProveDemand;
  CHECK(job::prove_demand(test_of("insulation")) == ProveDemand::hands_in);
  CHECK(job::prove_demand(test_of("static-leak")) == ProveDemand::static_water);
  CHECK(job::prove_demand(test_of("door-stops")) == ProveDemand::running);
  CHECK(job::prove_demand(test_of("shown")) == ProveDemand::free);
}

TEST_CASE("check order: the machine that ships, a test that no way back reaches, an unknown supply") {
  pack::Pack pack = machine().pack;
  CHECK(job::check_order(pack).all().empty());
  // Its place is open only with the box cover off, and it wants the cover's screw fast.
  ProveTest& earth = pack.prove_tests[to_size(pack.prove_test("earth"))];
  earth.needs_fastened.push_back(pack.joint("junction-cover-screw"));
  pack.supply.volts = 400;
  const Findings found = job::check_order(pack);
  CHECK(found.faults() == 2);
  CHECK(found.has("prove-never"));
  CHECK(found.has("supply-range"));
  pack.supply.volts_low = 360;
  pack.supply.volts_high = 440;
  CHECK_FALSE(job::check_order(pack).has("supply-range"));
}

TEST_CASE("bind supply: the pack's own band, or the published one") {
  pack::Supply supply;
  supply.volts = 120;
  REQUIRE(job::house_band(supply).has_value());
  CHECK(job::house_band(supply)->line_neutral.low == 104);   // ANSI C84.1 range B, from memory
  CHECK(job::house_band(supply)->line_neutral.high == 127);
  supply.system = pack::System::split;
  CHECK(job::house_band(supply)->line_line.low == 208);
  CHECK(job::house_band(supply)->line_line.high == 254);
  supply.volts_low = 110;
  supply.volts_high = 125;
  CHECK(job::house_band(supply)->line_neutral.low == 110);
  CHECK(job::house_band(supply)->line_line.high == 250);
}

}  // namespace
}  // namespace kp
