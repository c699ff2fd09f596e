#include <doctest/doctest.h>

#include "base/text.hpp"
#include "job/bind_bill.hpp"
#include "job/bind_scene.hpp"
#include "job/bind_test.hpp"
#include "job/work.hpp"

// What becomes of a pack in the engines that know no packs.

namespace kp {
namespace {

using job::Deed;
using job::Stage;
using test::Work;

TEST_CASE("bind plan: every joint, part, position and change keeps its place and its figures") {
  const job::Model& model = test::shipped_library().models.front();
  const pack::Pack& pack = model.pack;
  const plan::Problem& problem = model.problem;
  REQUIRE(problem.joints.size() == pack.joints.size());
  REQUIRE(problem.parts.size() == pack.parts.size());
  REQUIRE(problem.positions.size() == pack.positions.size());
  REQUIRE(problem.turns.size() == pack.changes.size());
  REQUIRE(problem.tools.size() == pack.tools.size());
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    const pack::Joint& from = pack.joints[i];
    const plan::Joint& to = problem.joints[i];
    CAPTURE(from.id);
    CHECK(to.cost_ms == std::int64_t{1000} * from.count * from.seconds_each);
    CHECK(to.parts == from.parts);
    CHECK(to.positions == from.positions);
    CHECK(to.needs_released == from.needs_released);
    CHECK(to.tool == (from.tool == 0 ? -1 : from.tool));  // the hand is free with any tool in it
    REQUIRE(to.behind.size() == from.behind.size());
    for (std::size_t k = 0; k < from.behind.size(); ++k) {
      CHECK(to.behind[k].parts == from.behind[k].parts);
      CHECK(to.behind[k].positions == from.behind[k].positions);
    }
  }
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    CHECK(problem.turns[i].needs_released == pack.changes[i].needs_released);
    CHECK(problem.turns[i].needs_removed == pack.changes[i].needs_removed);
  }
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    CHECK(problem.parts[i].cost_ms == std::int64_t{1000} * pack.parts[i].seconds);
    CHECK(problem.parts[i].inside == pack.parts[i].inside);
    CHECK(problem.parts[i].removable == pack.parts[i].removable);
  }
  CHECK(plan::check(problem).all().empty());
}

TEST_CASE("bind plan: every part that comes out is reached by a proved plan, and closed again") {
  const job::Model& model = test::shipped_library().models.front();
  for (int part = 0; part < to_int(model.pack.parts.size()); ++part) {
    if (!model.pack.parts[to_size(part)].removable) {
      continue;
    }
    CAPTURE(model.pack.parts[to_size(part)].id);
    plan::State unit = job::initial_unit(model);
    plan::Targets targets;
    targets.parts = {part};
    const plan::Plan in = plan::reach(model.rules, unit, targets);
    REQUIRE_FALSE(in.error.has_value());
    CHECK(in.proved);
    CHECK_FALSE(job::are_away(unit, {part}));
    for (std::size_t i = 0; i < in.steps.size(); ++i) {
      CHECK_FALSE(job::are_away(unit, {part}));
      unit = model.rules.apply(unit, plan::Action{in.steps[i].kind, in.steps[i].subject});
    }
    // What the planner calls reached is what the job calls reached, at the last step and no sooner.
    CHECK(job::are_away(unit, {part}));
    CHECK(plan::reach(model.rules, unit, targets).steps.empty());
    const plan::Plan back = plan::refit(model.rules, unit);
    CHECK(back.proved);
    for (const plan::Step& step : back.steps) {
      unit = model.rules.apply(unit, plan::Action{step.kind, step.subject});
    }
    CHECK(job::is_closed(model, unit));
  }
}

TEST_CASE("bind plan: a part that came out with its module is not reached yet") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::TargetsChosen{{"motor"}, "hums"}).accepted());
  const int motor = work.pack().part("motor");
  const int module = work.pack().part("pump-module");
  bool carried = false;
  while (work.state.stage == Stage::open) {
    const job::StepDone step = work.next_step(false).front();
    REQUIRE(work.take(step));
    if (work.state.unit.removed.test(module) && !work.state.unit.removed.test(motor)) {
      carried = true;
      CHECK(work.state.stage == Stage::open);
      CHECK_FALSE(job::are_away(work.state.unit, {motor}));
      CHECK(test::says(work.ask(job::PartSwapped{"motor", "X", 1, "", {}}), "still-in"));
    }
  }
  CHECK(carried);
  CHECK(work.state.stage == Stage::swap);
  CHECK(work.state.unit.removed.test(motor));
}

TEST_CASE("bind plan: the springs are unhooked when nothing hangs on the module any more") {
  const job::Model& model = test::shipped_library().models.front();
  plan::Targets targets;
  targets.parts = {model.pack.part("saddle-spring")};
  const plan::Plan in = plan::reach(model.rules, job::initial_unit(model), targets);
  std::vector<std::string> loose;
  bool unhooked = false;
  for (const plan::Step& step : in.steps) {
    if (step.kind != plan::Kind::release) {
      continue;
    }
    const std::string& id = model.pack.joints[to_size(step.subject)].id;
    if (id == "saddle-hooks") {
      unhooked = true;
      for (const char* first : {"motor-plug", "motor-earth", "drain-hose-pump"}) {
        CAPTURE(first);
        CHECK(std::find(loose.begin(), loose.end(), first) != loose.end());
      }
    }
    loose.push_back(id);
  }
  CHECK(unhooked);
}

TEST_CASE("bind plan: without its inner panel the door is open to hands only while it is open") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  plan::State& unit = work.state.unit;
  const auto codes = [&](Deed deed, const char* what) {
    std::string out;
    for (const auto& reason : job::in_the_way(work.model(), unit, deed, what)) {
      out += reason.code + " ";
    }
    return out;
  };
  CHECK(codes(Deed::release, "timer-plug") == "covered ");
  unit.removed.set(work.pack().part("door-inner-panel"));
  unit.position = work.pack().position("door-open");
  CHECK(codes(Deed::release, "timer-plug") == "");
  unit.position = work.pack().position("in-place");
  CHECK(codes(Deed::release, "timer-plug") == "wrong-position ");
  unit.removed.set(work.pack().part("door-outer-panel"));
  CHECK(codes(Deed::release, "timer-plug") == "");
}

TEST_CASE("bind plan: what is blocked is gone round, wherever the unit stands, until it is done") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  // The buttons come out by either panel (the timer only by the outer one: on a lowered door its
  // screws face the floor).
  REQUIRE(work.tell(job::TargetsChosen{{"push-buttons"}, "stuck"}).accepted());
  const auto uses = [&](const char* joint) {
    const plan::Plan plan = job::plan_in(work.model(), work.state);
    return std::any_of(plan.steps.begin(), plan.steps.end(), [&](const plan::Step& step) {
      return step.kind == plan::Kind::release &&
             work.pack().joints[to_size(step.subject)].id == joint;
    });
  };
  const char* first = uses("outer-panel-screws") ? "outer-panel-screws" : "inner-panel-screws";
  const char* second = uses("outer-panel-screws") ? "inner-panel-screws" : "outer-panel-screws";
  REQUIRE(work.tell(job::StepBlocked{Deed::release, first, "heads worn"}).accepted());
  REQUIRE(work.tell(job::StepBlocked{Deed::release, first, "heads worn"}).accepted());
  CHECK_FALSE(uses(first));
  CHECK(uses(second));
  REQUIRE(work.tell(job::StepBlocked{Deed::release, second, "heads worn"}).accepted());
  // Both are blocked: the way still leads through one of them, and says what it costs.
  CHECK(uses(first));
  CHECK(job::plan_in(work.model(), work.state).cost_ms > 4 * 3'600'000);
}

TEST_CASE("bind plan: a blocked change of position is blocked from everywhere") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::TargetsChosen{{"motor"}, "hums"}).accepted());
  const std::int64_t before = job::plan_in(work.model(), work.state).cost_ms;
  work.state.unit.position = work.pack().position("pulled-out");
  REQUIRE(work.tell(job::StepBlocked{Deed::turn, "on-back", "no room"}).accepted());
  work.state.unit.position = 0;
  CHECK(job::plan_in(work.model(), work.state).cost_ms >= before + 4 * 3'600'000);
}

TEST_CASE("bind scene: one item a part, in the state of the job, and the joint of the step") {
  Work work;
  work.arrive();
  REQUIRE(work.tell(job::TargetsChosen{{"thermal-fuse"}, "open"}).accepted());
  // Up to the next cover on the way to the point of proof.
  for (int i = 0; i < 20 && work.state.safety.tried == safety::Tried::no; ++i) {
    REQUIRE(work.do_first(safety::make_safe(
        work.state.safety, job::ask_of(work.model(), work.state, job::hands_demand(), work.by),
        work.clock(), work.law(), job::supply_place(work.model(), work.state))));
  }
  const scene::Drawing square;
  const job::DrawingOf drawing_of = [&](std::string_view) { return &square; };
  const auto items = [&](Deed deed, const char* what) {
    return job::bind_scene(work.model(), work.state, deed, what, drawing_of);
  };
  const int panel = work.pack().part("toe-panel");
  const int fuse = work.pack().part("thermal-fuse");
  auto all = items(Deed::release, "toe-screws");
  REQUIRE(all.size() == work.pack().parts.size() + 1);
  CHECK(all.back().id == job::kJointItem + work.pack().joint("toe-screws"));
  CHECK(all.back().fastener);
  CHECK(all.back().count == 2);
  CHECK(all[to_size(fuse)].state == scene::ItemState::target);
  CHECK(all[to_size(panel)].state == scene::ItemState::at_rest);
  CHECK(all[to_size(work.pack().part("frame"))].context);
  all = items(Deed::remove, "toe-panel");
  CHECK(all.size() == work.pack().parts.size());
  CHECK(all[to_size(panel)].state == scene::ItemState::next);
  REQUIRE(work.tell(job::StepDone{Deed::release, "toe-screws", {}, {}}).accepted());
  REQUIRE(work.tell(job::StepDone{Deed::remove, "toe-panel", {}, {}}).accepted());
  all = items(Deed::release, "access-screws");
  CHECK(all[to_size(panel)].state == scene::ItemState::removed);
  CHECK(job::item_of(work.pack(), Deed::turn, "door-open") == -1);
  CHECK(job::item_of(work.pack(), Deed::remove, "no-such-part") == -1);
  CHECK(job::bind_scene(work.model(), work.state, Deed::release, "no-such", drawing_of).size() ==
        work.pack().parts.size());
}

TEST_CASE("bind bill: the quote has the time of the plan both ways and the part's price") {
  Work work;
  work.arrive();
  const int fuse = work.pack().part("thermal-fuse");
  const bill::QuoteRequest quote =
      job::bind_quote(work.state, work.context(), {fuse}, work.wall);
  plan::Targets targets;
  targets.parts = {fuse};
  const plan::Plan in = plan::reach(work.model().rules, work.state.unit, targets);
  plan::State open = work.state.unit;
  for (const plan::Step& step : in.steps) {
    open = work.model().rules.apply(open, plan::Action{step.kind, step.subject});
  }
  const plan::Plan back = plan::refit(work.model().rules, open);
  CHECK(quote.plan_seconds == (in.cost_ms + back.cost_ms + 999) / 1000);
  REQUIRE(quote.parts.size() == 1);
  CHECK(quote.parts[0].cost_minor == work.pack().parts[to_size(fuse)].price_minor);
  CHECK(quote.complaint == "Dishes wet and cold: Plates stay cold.");
  CHECK(quote.customer.address == std::vector<std::string>{"4 Quay Lane"});
}

TEST_CASE("bind record: a proof that was made twice stands in the record twice, with its readings") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(safety::Doubted{safety::Doubt::lock_found_off}).accepted());
  REQUIRE(work.open_gate());
  while (!job::is_closed(work.model(), work.state.unit)) {
    REQUIRE(work.take(work.next_step(true).front()));
  }
  REQUIRE(work.put_back());
  const bill::ServiceRecord record =
      job::bind_record(work.state, work.context(), {}, work.tip, work.wall);
  std::vector<bill::IsolationTaken> power;
  for (const auto& isolation : record.isolations) {
    if (isolation.energy == bill::EnergyKind::electricity) {
      power.push_back(isolation);
    }
  }
  REQUIRE(power.size() == 2);
  for (const auto& one : power) {
    CHECK(one.evidence.size() >= 5);
    CHECK(one.proved.has_value());
    CHECK(one.how.find("L-Ada") != std::string::npos);
    for (const auto& reading : one.evidence) {
      CAPTURE(reading.value);
      CHECK(reading.pass);
    }
  }
  CHECK(power[0].proved.value().utc_ms < power[1].proved.value().utc_ms);
  CHECK(power[1].restored.has_value());
}

}  // namespace
}  // namespace kp
