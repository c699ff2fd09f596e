#include <doctest/doctest.h>

#include <algorithm>

#include "job/bind_test.hpp"
#include "job/work.hpp"

// The way to where a test is made, its leads, and how far a unit may be open with power on.

namespace kp {
namespace {

using job::Stage;
using job::StepDone;
using job::TestRecorded;
using test::says;
using test::Work;

plan::State after(const Work& work, const plan::Plan& way) {
  plan::State unit = work.state.unit;
  for (const plan::Step& step : way.steps) {
    const plan::Action action{step.kind, step.subject};
    REQUIRE(work.model().rules.legal(unit, action));
    CHECK(work.model().rules.cost_ms(unit, action) == step.cost_ms);
    unit = work.model().rules.apply(unit, action);
    CHECK(unit.position == step.position);
    CHECK(unit.tool == step.tool);
  }
  return unit;
}

}  // namespace

TEST_CASE("the way to a measurement ends with its leads off, from a closed unit, whichever test it is") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  for (const pack::Test& test : work.pack().tests) {
    CAPTURE(test.id);
    if (job::wants_closed(test)) continue;
    const plan::Plan way = job::plan_to_test(work.model(), work.state.unit, test);
    REQUIRE_FALSE(way.error.has_value());
    const plan::State unit = after(work, way);
    for (const int joint : test.needs_released) CHECK(unit.released.test(joint));
    std::int64_t sum = 0;
    for (const plan::Step& step : way.steps) sum += step.cost_ms;
    CHECK(sum == way.cost_ms);
  }
}

TEST_CASE("leads that a test pulled are put back before the next one measures through them") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  const auto test = [&](const char* id) -> const pack::Test& {
    return work.pack().tests[to_size(work.pack().test(id))];
  };
  const int leads = work.pack().joint("heater-leads");
  const int plug = work.pack().joint("timer-plug");
  work.state.unit = after(work, job::plan_to_test(work.model(), work.state.unit, test("heater-ohms")));
  CHECK(work.state.unit.released.test(leads));
  // Measured with the leads off as well: they stay off.
  const plan::Plan same = job::plan_to_test(work.model(), work.state.unit, test("heater-earth-ohms"));
  CHECK(same.steps.empty());
  // The loop goes through the heater.
  const plan::Plan loop = job::plan_to_test(work.model(), work.state.unit, test("heat-loop"));
  REQUIRE_FALSE(loop.error.has_value());
  CHECK_FALSE(loop.proved);
  const plan::State there = after(work, loop);
  CHECK_FALSE(there.released.test(leads));
  CHECK(there.released.test(plug));
  // No power goes on a unit with a lead off that no live test wants off.
  CHECK(says(work.ask(safety::PowerOn{}), "lead-off"));
  CHECK(says(work.ask(safety::PowerOn{}), "cover-off"));
  // The way back of the whole unit puts them on too, with their check.
  CHECK_FALSE(after(work, plan::refit(work.model().rules, work.state.unit)).released.test(leads));
}

TEST_CASE("a lead that is off although the measurement counts on it is named, and no other") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  const auto named = [&](const char* test, const char* off) {
    plan::State unit = work.state.unit;
    unit.released.set(work.pack().joint(off));
    std::vector<std::string> out;
    for (const int joint : job::misleading_joints(work.model(), unit, work.pack().tests[to_size(work.pack().test(test))])) {
      out.push_back(work.pack().joints[to_size(joint)].id);
    }
    return out;
  };
  CHECK(named("heat-loop", "heater-leads") == std::vector<std::string>{"heater-leads"});
  CHECK(named("heat-loop", "timer-plug").empty());      // it asks for that itself
  CHECK(named("heat-loop", "valve-leads").empty());     // not on its way
  CHECK(named("heater-ohms", "heater-leads").empty());
  CHECK(named("heater-volts", "thermostat-leads") == std::vector<std::string>{"thermostat-leads"});
}

TEST_CASE("live measuring: power may be on with the panels off that the test needs, and no further") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  const int volts = work.pack().test("heater-volts");
  REQUIRE(volts >= 0);
  const pack::Test& test = work.pack().tests[to_size(volts)];
  // The cover of the supply's point of proof and the open joint are none of this test's.
  CHECK_FALSE(job::stands_for_live(work.model(), work.state.unit));
  const plan::Plan way = job::plan_to_test(work.model(), work.state.unit, test);
  REQUIRE_FALSE(way.error.has_value());
  const auto step_by_step = [&](const plan::Plan& plan) {
    for (const plan::Step& step : plan.steps) {
      if (step.kind != plan::Kind::take_tool) REQUIRE(work.take(work.done(step)));
    }
  };
  step_by_step(plan::refit(work.model().rules, work.state.unit));
  CHECK(job::stands_for_live(work.model(), work.state.unit));
  step_by_step(job::plan_to_test(work.model(), work.state.unit, test));
  CHECK(job::stands_for_live(work.model(), work.state.unit, test));
  const plan::State unit = work.state.unit;
  const job::Body back = safety::Inspected{};
  CHECK_FALSE(says(work.ask(back), "cover-off"));
  CHECK_FALSE(says(work.ask(back), "lead-off"));
  TestRecorded reading;
  reading.test = "heater-volts";
  reading.value = 115;
  CHECK(says(work.ask(reading), "nothing-on"));
  REQUIRE(work.put_back(false));
  CHECK(work.ask(reading).accepted());
  CHECK(std::get<TestRecorded>(work.ask(reading).events.front()).act == safety::Act::live_reading);
  CHECK_FALSE(work.ask(StepDone{job::Deed::release, "heater-leads", {}, {}}).accepted());
  // The motor plug pulled as well: nothing that is measured live asks for it.
  const int plug = work.pack().joint("motor-plug");
  REQUIRE(plug >= 0);
  work.state.unit.released.set(plug);
  CHECK_FALSE(job::stands_for_live(work.model(), work.state.unit));
  CHECK(says(work.ask(back), "cover-off"));
  CHECK(says(work.ask(back), "lead-off"));
  // Outside Find the machine is closed first, whatever is open.
  work.state.unit = unit;
  work.state.stage = Stage::close;
  CHECK(says(work.ask(back), "cover-off"));
}

}  // namespace kp
