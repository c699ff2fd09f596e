// Rules for isolation, proving, ending and for entering a stage.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/follow.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

using Reasons = std::vector<safety::Reason>;

Decision refuse(Reasons reasons) { return Decision{{}, std::move(reasons)}; }
Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence)}}};
}

const ProveRecorded* result_of(const State& state, const std::string& test) {
  for (const auto& one : state.proved) {
    if (one.body.test == test) {
      return &one.body;
    }
  }
  return nullptr;
}

/// What is still owed of the tests up to this stage. A test whose place is shut, and which may be
/// left out, is not.
Reasons open_proofs(const State& state, const Model& model, pack::ProveWhen last) {
  Reasons out;
  for (const pack::ProveTest& test : model.pack.prove_tests) {
    const ProveRecorded* result = result_of(state, test.id);
    const bool left_out = result == nullptr && has_place(test) && !test.leave_out.empty() &&
                          !place_open(model, state.unit, test);
    if (static_cast<int>(test.when) > static_cast<int>(last) || left_out) {
      continue;
    }
    if (result == nullptr) {
      out.push_back({"proof-open", cat("Do this test first: ", test.title, ".")});
    } else if (!result->passed) {
      out.push_back({"proof-failed", cat("Mend this and test again: ", test.title, ".")});
    }
  }
  return out;
}

/// What other bodies mean; as an isolation it would go round their rules.
bool is_of_another_record(safety::EventKind act) {
  return act == safety::EventKind::step_done || act == safety::EventKind::ended ||
         act == safety::EventKind::taken_over || act == safety::EventKind::resumed ||
         act == safety::EventKind::reopened || act == safety::EventKind::posture_changed;
}

/// Both are back for the run.
bool is_on(const safety::State& state) {
  return state.power == safety::PowerState::live_for_test &&
         state.water == safety::WaterState::on_for_test;
}

bool in_service(Outcome outcome) {
  return outcome == Outcome::repaired || outcome == Outcome::no_fault_found;
}

}  // namespace

Decision decide_isolation(const State& state, const Isolation& body, const Stamp& now,
                          const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const Model& model = context.library->models[to_size(state.model)];
  if (is_of_another_record(body.act)) {
    return refuse("wrong-record", "This cannot be recorded as an isolation.");
  }
  const bool puts_back = body.act == safety::EventKind::power_restored ||
                         body.act == safety::EventKind::water_restored;
  // While the fault is sought, a panel may stay off for a measurement with the power on, hands clear.
  const bool may_be_on = is_closed(model, state.unit) ||
                         (state.stage == Stage::find && stands_for_live(model, state.unit));
  if (puts_back && !may_be_on) {
    return refuse("not-closed", "Close the machine before power or water goes back.");
  }
  if (body.act == safety::EventKind::power_restored && state.stage == Stage::prove) {
    const Reasons open = open_proofs(state, model, pack::ProveWhen::before_power);
    if (!open.empty()) {
      return refuse(open);
    }
  }
  if (!std::isfinite(body.volts) || !std::isfinite(body.celsius)) {
    return refuse("out-of-range", "Enter a number.");
  }
  if (body.act == safety::EventKind::reading) {
    const safety::StationRange range =
        safety::range_of(body.station, safety::bounded(context.settings->safety));
    if (body.volts < range.field_low || body.volts > range.field_high) {
      return refuse("out-of-range",
                    cat("Enter a reading from ", number_text(range.field_low), " to ",
                        number_text(range.field_high), " V."));
    }
  }
  return follow(state, body, now, context);
}

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
  const Reasons shut = place_reasons(model, state.unit, *test);
  if (!shut.empty()) {
    return refuse(shut);
  }
  ProveRecorded kept = body;
  kept.stands_on.clear();
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
  if (test->when != pack::ProveWhen::after) {
    const safety::Verdict verdict = safety::permit(state.safety, demand_of(*test), now.at.utc_ms,
                                                   context.settings->safety);
    if (!verdict.allowed) {
      return refuse(verdict.reasons);
    }
    for (const std::int64_t event : verdict.stands_on) {
      kept.stands_on.push_back(static_cast<std::uint32_t>(event));
    }
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
      reasons.push_back({"not-closed", "Close the machine first."});
    }
    if (body.outcome == Outcome::repaired && state.swapped.empty()) {
      reasons.push_back({"nothing-done", "Nothing was swapped. End as no fault found."});
    }
    const Reasons open = open_proofs(state, model, pack::ProveWhen::after);
    reasons.insert(reasons.end(), open.begin(), open.end());
  } else if (trim(body.note).empty()) {
    reasons.push_back({"no-reason", "Write what is missing or what is dangerous."});
  }
  const safety::Verdict verdict = safety::may_end(state.safety, ending_of(body.outcome),
                                                  now.at.utc_ms, context.settings->safety);
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
    return {{"issued", "The invoice is issued. Begin another visit."}};
  }
  if (static_cast<int>(stage) <= static_cast<int>(state.stage)) {
    return out;
  }
  if (state.model < 0) {
    out.push_back({"no-machine", "Choose the machine first."});
  }
  if (state.complaint.symptom.empty() && state.complaint.words.empty()) {
    out.push_back({"no-complaint", "Note the complaint first."});
  }
  if (!out.empty() || stage == Stage::make_safe) {
    return out;
  }
  const Model& model = context.library->models[to_size(state.model)];
  const bool hands_in = stage == Stage::find || stage == Stage::open || stage == Stage::swap ||
                        (stage == Stage::close && !is_closed(model, state.unit));
  if (hands_in) {
    out = safety::permit(state.safety, safety::Demand{}, now.at.utc_ms, context.settings->safety)
              .reasons;
  }
  if ((stage == Stage::open || stage == Stage::swap) && state.targets.empty()) {
    out.push_back({"no-part", "Choose the part to reach first."});
  }
  if (stage == Stage::swap && !are_reached(model, state)) {
    out.push_back({"not-reached", "Open the machine down to the part first."});
  }
  if (stage == Stage::prove && !is_closed(model, state.unit)) {
    out.push_back({"not-closed", "Close the machine first."});
  }
  if (stage == Stage::bill && state.outcome == Outcome::none) {
    out.push_back({"not-ended", "Say first how the job ends."});
  }
  return out;
}

}  // namespace kp::job
