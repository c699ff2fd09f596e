// Rules for how a unit was left and found, at the start of a visit.
#include <algorithm>

#include "base/text.hpp"
#include "job/rules.hpp"
#include "pack/reach.hpp"

namespace kp::job {

namespace {

Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}

/// Hands have changed the unit in this visit.
bool work_begun(const State& state) {
  const auto in_visit = [&state](const auto& one) { return one.stamp.n > state.visit_n; };
  return std::any_of(state.steps.begin(), state.steps.end(), in_visit) ||
         std::any_of(state.swapped.begin(), state.swapped.end(), in_visit) ||
         std::any_of(state.facts.begin(), state.facts.end(), [&](const auto& one) {
           return in_visit(one) && std::holds_alternative<safety::Relieved>(one.body);
         });
}

/// The first id that the pack does not know; empty: it knows them all.
std::string strange_id(const pack::Pack& pack, const UnitOpen& open) {
  if (!open.position.empty() && pack.position(open.position) < 0) {
    return open.position;
  }
  for (const std::string& id : open.loose) {
    if (pack.joint(id) < 0) {
      return id;
    }
  }
  for (const std::string& id : open.away) {
    if (pack.part(id) < 0) {
      return id;
    }
  }
  return {};
}

/// A part cannot be away while something holds it.
std::vector<safety::Reason> still_held(const pack::Pack& pack, const UnitOpen& open) {
  std::vector<safety::Reason> out;
  for (const std::string& id : open.away) {
    for (const int joint : pack::holding_joints(pack, pack.part(id))) {
      const pack::Joint& held = pack.joints[to_size(joint)];
      if (std::find(open.loose.begin(), open.loose.end(), held.id) == open.loose.end()) {
        out.push_back({"still-held", cat("Say that this is loose too: ", held.name, "."), 0});
      }
    }
  }
  return out;
}

/// Why this cannot be said of the unit now; empty: it can.
std::vector<safety::Reason> against_unit(const State& state, const UnitOpen& open,
                                         const Context& context) {
  if (state.model < 0) {
    return {{"no-machine", "Choose the machine first.", 0}};
  }
  if (work_begun(state)) {
    return {{"work-begun", "Work has begun. Record what changes as steps.", 0}};
  }
  const std::string strange =
      strange_id(context.library->models[to_size(state.model)].pack, open);
  if (!strange.empty()) {
    return {{"other-pack", cat("Load the pack that has \"", strange, "\"."), 0}};
  }
  return {};
}

/// Records that are judged by what of the unit is open.
struct AsksUnit {
  template <class T>
  bool operator()(const T&) const {
    return false;
  }
  bool operator()(const StepDone&) const { return true; }
  bool operator()(const PartSwapped&) const { return true; }
  bool operator()(const TestRecorded&) const { return true; }
  bool operator()(const ProveRecorded&) const { return true; }
  bool operator()(const safety::ReadingTaken&) const { return true; }
  bool operator()(const safety::Discharged&) const { return true; }
  bool operator()(const safety::NeutralRead&) const { return true; }
  bool operator()(const safety::Relieved&) const { return true; }
  bool operator()(const safety::OpeningsBarred&) const { return true; }
  bool operator()(const safety::PowerOn&) const { return true; }
  bool operator()(const safety::WaterOn&) const { return true; }
  bool operator()(const JobEnded& body) const {
    return body.outcome == Outcome::repaired || body.outcome == Outcome::no_fault_found;
  }
};

}  // namespace

Decision decide_left(const State& state, const UnitAsLeft& body, const Context& context) {
  if (state.opened.after_tip.empty()) {
    return refuse("no-job-before", "Begin another visit, or say how the machine was found.");
  }
  if (state.as_found.stamp.n != 0) {
    return refuse("seen", "It was said how the machine was found. That counts.");
  }
  std::vector<safety::Reason> reasons = against_unit(state, body, context);
  return reasons.empty() ? Decision{{body}, {}} : Decision{{}, std::move(reasons)};
}

Decision decide_found(const State& state, const UnitAsFound& body, const Context& context) {
  std::vector<safety::Reason> reasons = against_unit(state, body, context);
  if (reasons.empty()) {
    reasons = still_held(context.library->models[to_size(state.model)].pack, body);
  }
  if (!reasons.empty()) {
    return Decision{{}, std::move(reasons)};
  }
  UnitAsFound kept = body;
  for (std::vector<std::string>* ids : {&kept.loose, &kept.away}) {
    std::sort(ids->begin(), ids->end());
    ids->erase(std::unique(ids->begin(), ids->end()), ids->end());
  }
  if (kept.position.empty()) {
    const pack::Pack& pack = context.library->models[to_size(state.model)].pack;
    kept.position = pack.positions[to_size(state.unit.position)].id;
  }
  return Decision{{kept}, {}};
}

bool asks_unit(const State& state, const Body& intent) {
  return state.unit_unseen && std::visit(AsksUnit{}, intent);
}

}  // namespace kp::job
