#include "job/apply.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_safety.hpp"

namespace kp::job {

namespace {

Unit unit_of(const UnitOpen& open) {
  Unit out;
  out.position = open.position;
  out.loose.insert(open.loose.begin(), open.loose.end());
  out.away.insert(open.away.begin(), open.away.end());
  return out;
}

/// The records of a job, one after the other.
class Fold {
 public:
  Fold(State& state, const Stamp& stamp) : state_(&state), stamp_(&stamp) {}

  void operator()(const JobOpened& body) const {
    state_->opened = body;
    state_->job = body.job;
    state_->mode = body.mode;
    state_->shop = body.shop;
    state_->visit_n = stamp_->n;
  }
  void operator()(const StandsOn& body) const {
    state_->stands_on = body;
    state_->law = law_of(body, state_->rows_known);
    state_->clock_rule = {body.clock_agree_ms, body.clock_gap_ms};
  }
  void operator()(const Resumed&) const { state_->hidden_since = {}; }
  void operator()(const ScreenChanged& body) const {
    state_->clock.hidden = body.hidden;
    state_->hidden_since = body.hidden ? *stamp_ : Stamp{};
  }
  void operator()(const MachineIdentified& body) const {
    state_->machine = body;
    state_->as_left = {};
    state_->as_left.position = body.position;
    state_->left = state_->as_left;
    state_->target_ids.clear();
    state_->mend_id.clear();
    state_->fault.clear();
  }
  void operator()(const CustomerNoted& body) const { state_->customer = body; }
  void operator()(const ComplaintNoted& body) const { state_->complaint = body; }
  void operator()(const QuoteGiven& body) const {
    state_->quote = body;
    state_->quote_n = stamp_->n;
    state_->quoted = true;
    if (body.accepted) {
      state_->agreed = Recorded<QuoteGiven>{*stamp_, body};
    }
  }
  void operator()(const StageEntered& body) const {
    if (state_->stage == Stage::prove && body.stage == Stage::make_safe) {
      // Opened again: what was changed did not help, and the fault is sought anew.
      state_->target_ids.clear();
      state_->mend_id.clear();
    }
    state_->stage = body.stage;
    state_->stage_n = stamp_->n;
    change_phase(state_->clock, usual_phase(body.stage));
  }
  void operator()(const TestRecorded& body) const {
    state_->tests.push_back({*stamp_, body});
    // Who did it after all could do it.
    auto& given_up = state_->impossible;
    given_up.erase(std::remove_if(given_up.begin(), given_up.end(),
                                  [&](const auto& one) { return one.body.test == body.test; }),
                   given_up.end());
  }
  void operator()(const TestImpossible& body) const {
    state_->impossible.push_back({*stamp_, body});
  }
  void operator()(const TestTakenBack& body) const {
    auto& tests = state_->tests;
    tests.erase(std::remove_if(tests.begin(), tests.end(),
                               [&](const auto& test) { return test.stamp.n == body.n; }),
                tests.end());
  }
  void operator()(const TargetsChosen& body) const {
    state_->target_ids = body.parts;
    state_->targets_n = stamp_->n;
    state_->mend_id = body.mend;
    state_->fault = body.fault;
  }
  void operator()(const StepDone& body) const {
    state_->steps.push_back({*stamp_, body});
    Unit& unit = state_->as_left;
    if (!body.tool.empty()) {
      unit.tool = body.tool;
    }
    switch (body.deed) {
      case Deed::turn:
        unit.position = body.what;
        return;
      case Deed::release:
        unit.loose.insert(body.what);
        forget_proofs();
        return;
      case Deed::remove:
      case Deed::swap:
        unit.away.insert(body.what);
        forget_proofs();
        return;
      case Deed::set:
        unit.away.erase(body.what);
        return;
      case Deed::fasten:
        unit.loose.erase(body.what);
        return;
    }
  }
  void operator()(const StepBlocked& body) const { state_->blocked.push_back({*stamp_, body}); }
  void operator()(const PartSwapped& body) const {
    state_->swapped.push_back({*stamp_, body});
    forget_proofs();
  }
  void operator()(const ProveRecorded& body) const {
    auto& proved = state_->proved;
    proved.erase(std::remove_if(proved.begin(), proved.end(),
                                [&](const auto& one) { return one.body.test == body.test; }),
                 proved.end());
    proved.push_back({*stamp_, body});
  }
  void operator()(const PhaseStarted& body) const {
    change_phase(state_->clock, body.phase);
    state_->paused_since = body.phase == Phase::waiting ? *stamp_ : Stamp{};
  }
  void operator()(const TimeCorrected& body) const {
    // decide() takes no more than a day; more than that stands only in a doctored journal.
    const std::int64_t delta = std::clamp(body.delta_ms, -kMostCorrectedMs, kMostCorrectedMs);
    state_->clock.corrections.push_back({stamp_->n, body.phase, delta, body.reason});
  }
  void operator()(const GapSettled& body) const {
    (void)settle_gap(state_->clock, body.before,
                     std::clamp<std::int64_t>(body.counted_ms, 0, kMostCorrectedMs));
  }
  void operator()(const NoteAdded& body) const { state_->notes.push_back({*stamp_, body}); }
  void operator()(const Signed& body) const { state_->signature = {*stamp_, body}; }
  void operator()(const InvoiceIssued& body) const {
    state_->invoice = {*stamp_, body};
    state_->invoices.push_back(state_->invoice);
  }
  void operator()(const HandedOver& body) const { state_->handed_over.push_back({*stamp_, body}); }
  void operator()(const Refused& body) const { state_->refused.push_back({*stamp_, body}); }
  void operator()(const CautionShown& body) const { state_->cautions.push_back({*stamp_, body}); }
  void operator()(const PhotoTaken& body) const { state_->photos.push_back({*stamp_, body}); }
  void operator()(const SerialNoted& body) const { state_->machine.serial = body.serial; }
  void operator()(const TesterNamed& body) const { state_->testers.push_back({*stamp_, body}); }
  void operator()(const PartsOrdered& body) const { state_->ordered.push_back({*stamp_, body}); }
  void operator()(const QuoteRefused& body) const {
    state_->quotes_refused.push_back({*stamp_, body});
  }
  void operator()(const PaperIssued& body) const { state_->papers.push_back({*stamp_, body}); }
  void operator()(const JobEnded& body) const {
    state_->ending = body;
    state_->outcome = body.outcome;
    stop_clock(state_->clock);
  }
  void operator()(const VisitBegun&) const {
    if (!state_->invoice.body.number.empty()) {
      state_->billed = {to_int(state_->clock.segments.size()),
                        to_int(state_->clock.corrections.size()),
                        to_int(state_->swapped.size()), state_->visit};
    }
    ++state_->visit;
    state_->person = stamp_->by;
    restart_clock(state_->clock);
    state_->outcome = Outcome::none;
    state_->ending = {};
    state_->invoice = {};
    state_->signature = {};
    state_->visit_n = stamp_->n;
    state_->paused_since = {};
    state_->left = state_->as_left;
    state_->unit_unseen = true;
    state_->as_found = {};
    forget_proofs();
  }
  void operator()(const UnitAsLeft& body) const {
    state_->as_left = unit_of(body);
    state_->left = state_->as_left;
    state_->unit_unseen = true;
    state_->as_found = {};
  }
  void operator()(const UnitAsFound& body) const {
    state_->as_left = unit_of(body);
    state_->unit_unseen = false;
    state_->as_found = {*stamp_, body};
    if (state_->as_left != state_->left) {
      forget_proofs();
    }
  }
  void operator()(const safety::HandedOn& body) const {
    state_->person = body.person;
    keep(body);
  }
  void operator()(const safety::Relieved& body) const {
    state_->as_left.loose.insert(body.joints.begin(), body.joints.end());
    keep(body);
  }
  template <class T>
  void operator()(const T& fact) const {
    keep(fact);
  }

 private:
  void keep(const safety::Fact& fact) const { state_->facts.push_back({*stamp_, fact}); }
  /// What was proved, was proved of the machine as it stood then.
  void forget_proofs() const { state_->proved.clear(); }

  State* state_;
  const Stamp* stamp_;
};

class Changes {
 public:
  std::vector<safety::Change> operator()(const StepDone& body) const {
    return {safety::Worked{body.act, body.deed == Deed::turn, body.what}};
  }
  std::vector<safety::Change> operator()(const PartSwapped& body) const {
    return {safety::Worked{body.act, false, {}}};
  }
  std::vector<safety::Change> operator()(const TestRecorded& body) const {
    return {safety::Worked{body.act, false, {}}};
  }
  std::vector<safety::Change> operator()(const ProveRecorded& body) const {
    std::vector<safety::Change> done = {safety::Worked{
        body.act, false, {}, body.act == safety::Act::static_test && body.passed}};
    return body.left_out.empty() ? done : std::vector<safety::Change>{};
  }
  std::vector<safety::Change> operator()(const Resumed& body) const {
    return {safety::Away{body.away_ms, body.asks}};
  }
  std::vector<safety::Change> operator()(const ScreenChanged& body) const {
    return {safety::Away{body.away_ms, body.asks}};
  }
  std::vector<safety::Change> operator()(const PhaseStarted& body) const {
    return {safety::Away{body.away_ms, body.asks}};
  }
  std::vector<safety::Change> operator()(const JobEnded& body) const {
    return {safety::VisitEnded{ending_of(body.outcome)}};
  }
  std::vector<safety::Change> operator()(const VisitBegun&) const {
    return {safety::VisitReopened{}};
  }
  template <class T>
  std::vector<safety::Change> operator()(const T& body) const {
    if constexpr (std::is_convertible_v<T, safety::Fact>) {
      return {safety::Fact(body)};
    } else {
      return {};
    }
  }
};

int index_of(const State& state, int index, const std::string& id, std::vector<std::string>& strange) {
  if (index < 0 && state.model >= 0) {
    strange.push_back(id);
  }
  return index;
}

}  // namespace

bool fact_of(const Body& body, safety::Fact& out) {
  return std::visit(
      [&out](const auto& one) {
        using T = std::decay_t<decltype(one)>;
        if constexpr (std::is_convertible_v<T, safety::Fact>) {
          out = one;
          return true;
        } else {
          return false;
        }
      },
      body);
}

Body body_of(const safety::Fact& fact) {
  return std::visit([](const auto& one) { return Body(one); }, fact);
}

safety::Stamp safety_stamp(const Stamp& stamp) {
  return {static_cast<std::int64_t>(stamp.n), stamp.at, stamp.mono_ms, stamp.by};
}
safety::Now now_of(const Stamp& stamp) { return {stamp.at.utc_ms, stamp.mono_ms}; }

std::vector<safety::Change> changes_of(const Body& body) { return std::visit(Changes{}, body); }

void fold(State& state, const Stamp& stamp, const Body& body) {
  advance(state.clock, stamp, state.clock_rule);
  for (const safety::Change& change : changes_of(body)) {
    safety::apply(state.safety, change, safety_stamp(stamp));
  }
  std::visit(Fold(state, stamp), body);
  state.person = state.person.empty() ? stamp.by : state.person;   // the first who gave a name
  state.last_n = stamp.n;
}

void bind(State& state, const Library& library) {
  state.model = state.machine.pack.empty() ? -1 : library.find(state.machine.pack);
  state.unit = {};
  state.targets.clear();
  state.mend = -1;
  state.strange.clear();
  if (state.model < 0) {
    return;
  }
  const Model& model = library.models[to_size(state.model)];
  const pack::Pack& pack = model.pack;
  const Unit& unit = state.as_left;
  const int home = model.problem.home;
  state.unit.position =
      unit.position.empty()
          ? home
          : std::max(0, index_of(state, pack.position(unit.position), unit.position, state.strange));
  if (!unit.tool.empty()) {
    state.unit.tool = pack.tool(unit.tool);
  }
  for (const std::string& id : unit.loose) {
    const int joint = index_of(state, pack.joint(id), id, state.strange);
    if (joint >= 0) {
      state.unit.released.set(joint);
    }
  }
  for (const std::string& id : unit.away) {
    const int part = index_of(state, pack.part(id), id, state.strange);
    if (part >= 0) {
      state.unit.removed.set(part);
    }
  }
  for (const std::string& id : state.target_ids) {
    const int part = index_of(state, pack.part(id), id, state.strange);
    if (part >= 0) {
      state.targets.push_back(part);
    }
  }
  state.mend = state.mend_id.empty() ? -1 : pack.fault(state.mend_id);
}

void apply(State& state, const Stamp& stamp, const Body& body, const Context& context) {
  fold(state, stamp, body);
  bind(state, *context.library);
}

}  // namespace kp::job
