#include "job/owed_tests.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_prove.hpp"

namespace kp::job {

namespace {

std::uint32_t last_power_on(const State& state) {
  std::uint32_t n = 0;
  for (const auto& fact : state.facts) {
    n = std::holds_alternative<safety::PowerOn>(fact.body) ? fact.stamp.n : n;
  }
  return n;
}

bool parts_conductor(const pack::Pack& pack, const StepDone& step) {
  const int joint = pack.joint(step.what);
  const int part = pack.part(step.what);
  return std::any_of(pack.circuit.elements.begin(), pack.circuit.elements.end(),
                     [&](const pack::Element& element) {
                       const bool lead = step.deed == Deed::release && joint >= 0 &&
                                         element.joint == joint;
                       const bool out = step.deed == Deed::remove && part >= 0 &&
                                        element.part == part;
                       return lead || out;
                     });
}

/// A resistance to earth was kept that is below what a good one has.
bool leaks(const pack::Pack& pack, const State& state) {
  return std::any_of(state.tests.begin(), state.tests.end(), [&](const auto& kept) {
    const int index = pack.test(kept.body.test);
    if (index < 0 || kept.body.open_loop || kept.body.looked) {
      return false;
    }
    const pack::Test& test = pack.tests[to_size(index)];
    return test.unit == "MΩ" && kept.body.value < test.low;
  });
}

bool settled(const State& state, const std::string& test) {
  return std::any_of(state.proved.begin(), state.proved.end(), [&](const auto& one) {
    return one.body.test == test && (one.body.passed || !one.body.left_out.empty());
  });
}

bool asked_by(WorkClass work, pack::ProveItem item) {
  switch (item) {
    case pack::ProveItem::b2:
    case pack::ProveItem::b3:
      return work != WorkClass::covers;
    default:
      return false;
  }
}

}  // namespace

WorkClass work_class(const Model& model, const State& state) {
  if (state.safety.frame_first || leaks(model.pack, state)) {
    return WorkClass::doubtful;
  }
  const std::uint32_t since = last_power_on(state);
  const bool parted = std::any_of(state.steps.begin(), state.steps.end(), [&](const auto& step) {
    return step.stamp.n > since && parts_conductor(model.pack, step.body);
  });
  return parted ? WorkClass::conductors : WorkClass::covers;
}

std::vector<int> tests_owed(const Model& model, const State& state) {
  const bool repaired = !state.swapped.empty() || state.stage == Stage::prove;
  const WorkClass work = work_class(model, state);
  std::vector<int> out;
  const auto& tests = model.pack.prove_tests;
  for (int index = 0; index < to_int(tests.size()); ++index) {
    const pack::ProveTest& test = tests[to_size(index)];
    const bool asked = repaired || asked_by(work, test.item);
    if (test.when == pack::ProveWhen::before_power && asked && !settled(state, test.id)) {
      out.push_back(index);
    }
  }
  return out;
}

std::vector<std::string> left_out_for(const Model& model, const State& state,
                                      const pack::ProveTest& test) {
  const bool parted = asked_by(work_class(model, state), test.item);
  const bool seen = test.item == pack::ProveItem::b1 && !test.behind.empty() &&
                    place_open(model, state.unit, test);
  std::vector<std::string> out;
  for (const pack::LeaveOut why : test.leave_out) {
    if (why != pack::LeaveOut::untouched || (!parted && !seen)) {
      out.push_back(pack::leave_out_words()[to_size(static_cast<int>(why))]);
    }
  }
  return out;
}

std::int64_t wait_left_ms(const State& state, const pack::ProveTest& test, const Stamp& now) {
  if (test.wait_seconds == 0) {
    return 0;
  }
  Stamp since;
  const auto take = [&](const Stamp& stamp) {
    since = stamp.n > since.n ? stamp : since;
  };
  for (const auto& one : state.proved) {
    take(one.stamp);
  }
  for (const auto& fact : state.facts) {
    if (std::holds_alternative<safety::PowerOn>(fact.body) ||
        std::holds_alternative<safety::WaterOn>(fact.body)) {
      take(fact.stamp);
    }
  }
  const std::int64_t passed = since.life == now.life ? now.mono_ms - since.mono_ms
                                                     : now.at.utc_ms - since.at.utc_ms;
  return std::max<std::int64_t>(0, std::int64_t{test.wait_seconds} * 1000 - passed);
}

}  // namespace kp::job
