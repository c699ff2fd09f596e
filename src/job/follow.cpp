#include "job/follow.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

bool all_swapped(const State& state, const pack::Pack& pack) {
  return std::all_of(state.targets.begin(), state.targets.end(),
                     [&](int target) { return is_renewed(state, pack, target); });
}

/// Where the machine itself stands, whatever stage was entered last.
Stage stage_of_machine(const State& state, const Model& model) {
  if (state.targets.empty()) {
    return Stage::find;   // open for the proof alone, or not at all
  }
  if (all_swapped(state, model.pack)) {
    return is_closed(model, state.unit) ? Stage::prove : Stage::close;
  }
  return are_reached(model, state) ? Stage::swap : Stage::open;
}

}  // namespace

Stage next_stage(const State& state, const Stamp& now, const Context& context) {
  if (state.model < 0 || state.outcome != Outcome::none) {
    return state.outcome != Outcome::none ? Stage::bill : state.stage;
  }
  const Model& model = context.library->models[to_size(state.model)];
  switch (state.stage) {
    case Stage::make_safe: {
      const bool safe = permit(state, model, hands_demand(), now, context).allowed;
      return safe ? stage_of_machine(state, model) : state.stage;
    }
    case Stage::open:
    case Stage::swap:
      return state.targets.empty() ? state.stage : stage_of_machine(state, model);
    case Stage::close:
      return is_closed(model, state.unit) ? Stage::prove : state.stage;
    case Stage::find:
    case Stage::arrive:
    case Stage::prove:
    case Stage::bill:
      return state.stage;
  }
  return state.stage;
}

Decision follow(const State& state, Body body, const Stamp& now, const Context& context) {
  Decision decision;
  State after = state;
  apply(after, now, body, context);
  const bool chosen = std::holds_alternative<TargetsChosen>(body);
  Stage next = next_stage(after, now, context);
  if (chosen && after.stage == Stage::find) {
    next = stage_of_machine(after, context.library->models[to_size(after.model)]);
  }
  decision.events.push_back(std::move(body));
  if (next != after.stage) {
    decision.events.emplace_back(StageEntered{next});
  }
  return decision;
}

}  // namespace kp::job
