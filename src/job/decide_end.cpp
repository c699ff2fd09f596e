// Rules for isolation, proving, ending and for entering a stage.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/follow.hpp"
#include "job/owed_tests.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

using Reasons = std::vector<safety::Reason>;

Decision refuse(Reasons reasons) { return Decision{{}, std::move(reasons)}; }
Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}

const ProveRecorded* result_of(const State& state, const std::string& test) {
  for (const auto& one : state.proved) {
    if (one.body.test == test) {
      return &one.body;
    }
  }
  return nullptr;
}

Reasons open_proofs(const State& state, const pack::Pack& pack) {
  Reasons out;
  for (const pack::ProveTest& test : pack.prove_tests) {
    const ProveRecorded* result = result_of(state, test.id);
    if (result == nullptr) {
      out.push_back({"proof-open", cat("Do this test first: ", test.title, "."), 0});
    } else if (!result->passed && result->left_out.empty()) {
      out.push_back({"proof-failed", cat("Mend this and test again: ", test.title, "."), 0});
    }
  }
  return out;
}

/// Both are back for the run.
bool is_on(const safety::State& state) {
  return state.power == safety::Power::on && state.water == safety::Water::run;
}

bool in_service(Outcome outcome) {
  return outcome == Outcome::repaired || outcome == Outcome::no_fault_found;
}

}  // namespace

namespace {

Decision decide_left_out(const State& state, const pack::ProveTest& test, ProveRecorded kept,
                         const Stamp& now, const Context& context) {
  const std::vector<std::string> codes =
      left_out_for(context.library->models[to_size(state.model)], state, test);
  if (std::find(codes.begin(), codes.end(), kept.left_out) == codes.end()) {
    return refuse("no-reason", "This test is not left out for that reason. Do it.");
  }
  kept.passed = false;
  kept.value = 0;
  kept.act = safety::Act::look_outside;
  return follow(state, kept, now, context);
}

}  // namespace

Decision decide_prove(const State& state, const ProveRecorded& body, const Stamp& now,
                      const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  const auto& tests = model.pack.prove_tests;
  const auto test = std::find_if(tests.begin(), tests.end(),
                                 [&](const pack::ProveTest& one) { return one.id == body.test; });
  if (test == tests.end()) {
    return refuse("unknown-test", "Choose a test from the list.");
  }
  ProveRecorded kept = body;
  kept.stands_on.clear();
  if (!body.left_out.empty()) {
    return decide_left_out(state, *test, kept, now, context);
  }
  const Reasons place = test->when == pack::ProveWhen::before_power
                            ? place_reasons(model, state.unit, *test)
                            : Reasons{};
  if (!place.empty()) {
    return refuse(place);
  }
  if (test->when != pack::ProveWhen::before_power && !is_closed(model, state.unit)) {
    return refuse("not-closed", "Close the machine before it is proved.");
  }
  if (!test->unit.empty()) {
    if (!std::isfinite(body.value) || body.value < test->field_low ||
        body.value > test->field_high) {
      return refuse("out-of-range", cat("Enter a reading from ", number_text(test->field_low),
                                        " to ", number_text(test->field_high), " ", test->unit,
                                        "."));
    }
    kept.unit = test->unit;
    kept.passed = (!test->has_low || body.value >= test->low) &&
                  (!test->has_high || body.value <= test->high);
  }
  if (test->when == pack::ProveWhen::running && !is_on(state.safety)) {
    return refuse("not-running", "Put water and power back for this test.");
  }
  if (wait_left_ms(state, *test, now) > 0) {
    return refuse("too-early", cat("Wait ", duration_words(test->wait_seconds),
                                   " from when it began, by the clock."));
  }
  const safety::Demand demand = demand_of(model, state, *test);
  const safety::Verdict verdict = permit(state, model, demand, now, context);
  if (!verdict.allowed) {
    return refuse(verdict.reasons);
  }
  kept.act = demand.act;
  for (const std::int64_t event : verdict.stands_on) {
    kept.stands_on.push_back(static_cast<std::uint32_t>(event));
  }
  return follow(state, kept, now, context);
}

Decision decide_end(const State& state, const JobEnded& body, const Stamp& now,
                    const Context& context) {
  if (body.outcome == Outcome::none) {
    return refuse("no-outcome", "Say how the job ends.");
  }
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  Reasons reasons;
  if (in_service(body.outcome)) {
    if (!is_closed(model, state.unit)) {
      reasons.push_back({"not-closed", "Close the machine first.", 0});
    }
    if (body.outcome == Outcome::repaired && state.swapped.empty()) {
      reasons.push_back({"nothing-done", "Nothing was swapped. End as no fault found.", 0});
    }
    const Reasons open = open_proofs(state, model.pack);
    reasons.insert(reasons.end(), open.begin(), open.end());
  } else if (trim(body.note).empty()) {
    reasons.push_back({"no-reason", "Write what is missing or what is dangerous.", 0});
  }
  safety::Demand demand;
  demand.act = in_service(body.outcome) ? safety::Act::end_in_service : safety::Act::leave;
  const safety::Verdict verdict = permit(state, model, demand, now, context);
  reasons.insert(reasons.end(), verdict.reasons.begin(), verdict.reasons.end());
  if (!reasons.empty()) {
    return refuse(std::move(reasons));
  }
  return follow(state, body, now, context);
}

std::vector<safety::Reason> against_stage(const State& state, Stage stage, const Stamp& now,
                                          const Context& context) {
  Reasons out;
  if (!state.invoice.body.number.empty() && stage != Stage::bill) {
    return {{"issued", "The invoice is issued. Begin another visit.", 0}};
  }
  if (static_cast<int>(stage) <= static_cast<int>(state.stage)) {
    return out;
  }
  if (state.model < 0) {
    out.push_back({"no-machine", "Choose the machine first.", 0});
  }
  if (!state.complaint.said()) {
    out.push_back({"no-complaint", "Note the complaint first.", 0});
  }
  if (!out.empty() || stage == Stage::make_safe) {
    return out;
  }
  const Model& model = context.library->models[to_size(state.model)];
  const bool hands_in = stage == Stage::find || stage == Stage::open || stage == Stage::swap ||
                        (stage == Stage::close && !is_closed(model, state.unit));
  if (hands_in) {
    out = permit(state, model, hands_demand(), now, context).reasons;
  }
  if ((stage == Stage::open || stage == Stage::swap) && state.targets.empty()) {
    out.push_back({"no-part", "Choose the part to reach first.", 0});
  }
  if (stage == Stage::swap && !are_reached(model, state)) {
    out.push_back({"not-reached", "Open the machine down to the part first.", 0});
  }
  if (stage == Stage::prove && !is_closed(model, state.unit)) {
    out.push_back({"not-closed", "Close the machine first.", 0});
  }
  if (stage == Stage::bill && state.outcome == Outcome::none) {
    out.push_back({"not-ended", "Say first how the job ends.", 0});
  }
  return out;
}

}  // namespace kp::job
