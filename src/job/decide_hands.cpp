// Rules for what hands do: tests, steps and swaps. All of it stands before the gate.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/follow.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

using Reasons = std::vector<safety::Reason>;

Decision refuse(Reasons reasons) { return Decision{{}, std::move(reasons)}; }
Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}

std::vector<std::uint32_t> as_records(const std::vector<std::int64_t>& events) {
  std::vector<std::uint32_t> out;
  out.reserve(events.size());
  for (const std::int64_t event : events) {
    out.push_back(static_cast<std::uint32_t>(event));
  }
  return out;
}

/// The tool that a deed takes in hand; the bare hand holds any tool meanwhile.
std::string tool_of(const pack::Pack& pack, Deed deed, int index) {
  const bool on_joint = deed == Deed::release || deed == Deed::fasten;
  const int tool = on_joint ? pack.joints[to_size(index)].tool : 0;
  return tool > 0 ? pack.tools[to_size(tool)].id : std::string();
}

/// The checks that the way back demands and that the confirmation does not name.
Reasons missing_checks(const pack::Pack& pack, const StepDone& body, int index) {
  Reasons out;
  const bool fasten = body.deed == Deed::fasten;
  if (!fasten && body.deed != Deed::set) {
    return out;
  }
  const std::vector<int>& wanted = fasten ? pack.joints[to_size(index)].refit_checks
                                          : pack.parts[to_size(index)].refit_checks;
  for (const int check : wanted) {
    const pack::RefitCheck& refit = pack.refit_checks[to_size(check)];
    if (std::find(body.checks.begin(), body.checks.end(), refit.id) == body.checks.end()) {
      out.push_back({"check-open", cat("Check first: ", refit.title, "."), 0});
    }
  }
  return out;
}

}  // namespace

Decision decide_test(const State& state, const TestRecorded& body, const Stamp& now,
                     const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  const pack::Pack& pack = model.pack;
  const auto found = std::find_if(pack.tests.begin(), pack.tests.end(),
                                  [&](const pack::Test& test) { return test.id == body.test; });
  if (found == pack.tests.end()) {
    return refuse("unknown-test", "Choose a test from the list.");
  }
  TestRecorded kept = body;
  kept.stands_on.clear();
  kept.unit = found->unit;
  if (!body.looked && !body.open_loop &&
      (!std::isfinite(body.value) || body.value < found->field_low ||
       body.value > found->field_high)) {
    return refuse("out-of-range", cat("Enter a reading from ", number_text(found->field_low),
                                      " to ", number_text(found->field_high), " ", found->unit,
                                      "."));
  }
  const safety::Demand demand = demand_of(model, state, *found);
  const safety::Verdict verdict = permit(state, model, demand, now, context);
  Reasons reasons = verdict.reasons;
  if (!safety::hands_in(demand.act) && found->live() &&
      state.safety.power != safety::Power::on) {
    reasons.push_back({"power-off", "Put the power back on in the release order first.", 0});
  }
  // No way to it at all (the door of a loose machine stays shut) is a way that is not open.
  const plan::Plan way = plan_to_test(model, state.unit, *found);
  if (way.error.has_value() || !way.steps.empty()) {
    reasons.push_back({"covered", "Open the way to this test first.", 0});
  }
  if (!reasons.empty()) {
    return refuse(std::move(reasons));
  }
  kept.act = demand.act;
  kept.stands_on = as_records(verdict.stands_on);
  return follow(state, kept, now, context);
}

Decision decide_targets(const State& state, const TargetsChosen& body, const Stamp& now,
                        const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  if (body.parts.empty()) {
    return refuse("no-part", "Choose the part to reach.");
  }
  const int fault = model.pack.fault(body.mend);
  const bool mends = !body.mend.empty();
  if (mends && (fault < 0 || model.pack.faults[to_size(fault)].mend.empty() ||
                body.parts != std::vector<std::string>{
                                  model.pack.parts[to_size(model.pack.faults[to_size(fault)].part)].id})) {
    return refuse("unknown-mend", "This is not mended in its place. Choose the part.");
  }
  for (const std::string& id : body.parts) {
    const int part = model.pack.part(id);
    if (part < 0 || (!mends && !model.pack.parts[to_size(part)].removable)) {
      return refuse("not-removable", cat("\"", id, "\" does not come out. Choose another part."));
    }
  }
  return follow(state, body, now, context);
}

Decision decide_step(const State& state, const StepDone& body, const Stamp& now,
                     const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  if (body.deed == Deed::swap) {
    return refuse("use-swap", "Record a swap with its part number.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  const int index = subject_index(model.pack, state.unit, body.deed, body.what);
  if (index < 0) {
    return refuse("no-such-step", cat("\"", body.what, "\" is not part of this machine."));
  }
  const safety::Demand demand = demand_of(model, state, body.deed, index);
  const safety::Verdict verdict = permit(state, model, demand, now, context);
  Reasons reasons = verdict.reasons;
  const Reasons blocked = in_the_way(model, state.unit, body.deed, body.what);
  reasons.insert(reasons.end(), blocked.begin(), blocked.end());
  const Reasons checks = missing_checks(model.pack, body, index);
  reasons.insert(reasons.end(), checks.begin(), checks.end());
  if (!verdict.allowed || !reasons.empty()) {
    return refuse(std::move(reasons));
  }
  StepDone kept = body;
  kept.stands_on = as_records(verdict.stands_on);
  kept.act = demand.act;
  kept.people = demand.people;
  kept.tool = tool_of(model.pack, body.deed, index);
  return follow(state, kept, now, context);
}

Decision decide_swap(const State& state, const PartSwapped& body, const Stamp& now,
                     const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  const int part = model.pack.part(body.part);
  if (part < 0) {
    return refuse("unknown-part", "Choose a part of this machine.");
  }
  if (body.price_minor < 0) {
    return refuse("out-of-range", "Enter a price of 0 or more.");
  }
  if (!body.mended.empty()) {
    const int fault = model.pack.fault(body.mended);
    if (fault < 0 || fault != state.mend || model.pack.faults[to_size(fault)].part != part) {
      return refuse("unknown-mend", "Choose first what is mended.");
    }
    if (!are_reached(model, state)) {
      return refuse("covered", cat("Open the machine down to the ", model.pack.parts[to_size(part)].name, " first."));
    }
  } else if (!are_away(state.unit, {part})) {
    return refuse("still-in", cat("Take the ", model.pack.parts[to_size(part)].name, " out first."));
  }
  const safety::Demand demand = demand_of(model, state, Deed::swap, part);
  const safety::Verdict verdict = permit(state, model, demand, now, context);
  if (!verdict.allowed) {
    return refuse(verdict.reasons);
  }
  PartSwapped kept = body;
  kept.name = model.pack.parts[to_size(part)].name;
  kept.act = demand.act;
  kept.stands_on = as_records(verdict.stands_on);
  return follow(state, kept, now, context);
}

}  // namespace kp::job
