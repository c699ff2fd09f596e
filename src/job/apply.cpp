#include "job/apply.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"

namespace kp::job {

namespace {

safety::Event bare(const Stamp& stamp, const State& state, safety::EventKind kind) {
  safety::Event event;
  event.kind = kind;
  event.id = static_cast<std::int64_t>(stamp.n);
  event.at = stamp.at;
  event.person = stamp.by.empty() ? state.person : stamp.by;
  return event;
}

/// Turns a body into the safety events it means. The rest of the bodies mean none.
class SafetyEvents {
 public:
  using Events = std::vector<safety::Event>;
  SafetyEvents(const State& state, const Stamp& stamp, const Context& context)
      : state_(&state), stamp_(&stamp), context_(&context) {}

  template <class T>
  Events operator()(const T&) const {
    return {};
  }

  Events operator()(const Isolation& body) const {
    safety::Event event = bare(*stamp_, *state_, body.act);
    event.means = body.means;
    event.lock = body.lock;
    event.tag = body.tag;
    event.answered = body.answered;
    event.station = body.station;
    event.volts = body.volts;
    event.function = body.function;
    event.meter = body.meter;
    event.celsius = body.celsius;
    event.people = body.people;
    event.by_supervisor = body.by_supervisor;
    event.away_seconds = body.away_seconds;
    event.note = body.note;
    if (state_->model >= 0) {
      event.connection = connection_of(pack());
      event.energies = energies_of(pack());
    }
    return {event};
  }

  Events operator()(const StepDone& body) const {
    if (state_->model < 0) {
      return {};
    }
    const int index = subject_index(pack(), state_->unit, body.deed, body.what);
    if (index < 0) {
      return {};
    }
    const safety::Demand demand = demand_of(pack(), body.deed, index);
    Events events = {step_done(demand, body.what)};
    if (body.deed == Deed::turn) {
      safety::Event posture = bare(*stamp_, *state_, safety::EventKind::posture_changed);
      posture.note = body.what;
      events.push_back(posture);
    }
    return events;
  }

  Events operator()(const PartSwapped& body) const {
    const int index = state_->model < 0 ? -1 : pack().part(body.part);
    if (index < 0) {
      return {};
    }
    return {step_done(demand_of(pack(), Deed::swap, index), body.part)};
  }

  /// A measurement with power off is hands-in work: an earlier inspection no longer holds. One with
  /// power on stands on hands being clear.
  Events operator()(const TestRecorded& body) const {
    if (state_->model < 0 || body.stands_on.empty()) {
      return {};
    }
    for (const pack::Test& test : pack().tests) {
      const safety::Demand demand = demand_of(pack(), test);
      if (test.id == body.test && (demand.hands_in || demand.running)) {
        return {step_done(demand, body.test)};
      }
    }
    return {};
  }

  Events operator()(const ProveRecorded& body) const {
    if (state_->model < 0 || body.stands_on.empty()) {
      return {};
    }
    for (const pack::ProveTest& test : pack().prove_tests) {
      if (test.id == body.test && test.when != pack::ProveWhen::after) {
        return {step_done(demand_of(test), body.test)};
      }
    }
    return {};
  }

  Events operator()(const Resumed& body) const {
    safety::Event event = bare(*stamp_, *state_, safety::EventKind::resumed);
    event.away_seconds = body.away_seconds;
    return {event};
  }

  Events operator()(const TakenOver& body) const {
    safety::Event event = bare(*stamp_, *state_, safety::EventKind::taken_over);
    event.person = body.person;
    return {event};
  }

  Events operator()(const JobEnded& body) const {
    safety::Event event = bare(*stamp_, *state_, safety::EventKind::ended);
    event.ending = ending_of(body.outcome);
    return {event};
  }

  Events operator()(const VisitBegun&) const {
    return {bare(*stamp_, *state_, safety::EventKind::reopened)};
  }

 private:
  [[nodiscard]] const pack::Pack& pack() const {
    return context_->library->models[to_size(state_->model)].pack;
  }

  [[nodiscard]] safety::Event step_done(const safety::Demand& demand,
                                        const std::string& what) const {
    safety::Event event = bare(*stamp_, *state_, safety::EventKind::step_done);
    event.contacts = demand.contacts;
    event.hands_in = demand.hands_in;
    event.running = demand.running;
    event.people = demand.people;
    event.note = what;
    return event;
  }

  const State* state_;
  const Stamp* stamp_;
  const Context* context_;
};

/// The rest of the state, body by body.
class Fold {
 public:
  Fold(State& state, const Stamp& stamp, const Context& context)
      : state_(&state), stamp_(&stamp), context_(&context) {}

  void operator()(const JobOpened& body) const {
    state_->job = body.job;
    state_->mode = body.mode;
    state_->shop = body.shop;
    state_->person = stamp_->by;
  }
  void operator()(const Resumed&) const {}
  void operator()(const ScreenChanged& body) const { state_->clock.hidden = body.hidden; }
  void operator()(const MachineIdentified& body) const {
    state_->machine = body;
    state_->model = context_->library->find(body.pack);
    if (state_->model >= 0) {
      state_->unit = initial_unit(context_->library->models[to_size(state_->model)]);
    }
    state_->targets.clear();
    state_->mend = -1;
    state_->fault.clear();
  }
  void operator()(const CustomerNoted& body) const { state_->customer = body; }
  void operator()(const ComplaintNoted& body) const { state_->complaint = body; }
  void operator()(const QuoteGiven& body) const {
    state_->quote = body;
    state_->quoted = true;
  }
  void operator()(const StageEntered& body) const {
    if (state_->stage == Stage::prove && body.stage == Stage::make_safe) {
      // Opened again: what was changed did not help, and the fault is sought anew.
      state_->targets.clear();
      state_->mend = -1;
    }
    state_->stage = body.stage;
    state_->stage_n = stamp_->n;
    change_phase(state_->clock, usual_phase(body.stage));
  }
  void operator()(const Isolation& body) const { state_->isolations.push_back({*stamp_, body}); }
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
    state_->targets.clear();
    state_->targets_n = stamp_->n;
    state_->mend = -1;
    state_->fault = body.fault;
    if (state_->model < 0) {
      return;
    }
    const pack::Pack& pack = context_->library->models[to_size(state_->model)].pack;
    state_->mend = pack.fault(body.mend);
    for (const std::string& id : body.parts) {
      const int part = pack.part(id);
      if (part >= 0) {
        state_->targets.push_back(part);
      }
    }
  }
  void operator()(const StepDone& body) const {
    state_->steps.push_back({*stamp_, body});
    // What was proved, was proved of the machine as it stood then; on the way back what was proved
    // at an open place stands.
    const bool back =
        body.deed == Deed::fasten || body.deed == Deed::set || body.deed == Deed::turn;
    forget_proofs(back);
    if (state_->model >= 0) {
      do_deed(context_->library->models[to_size(state_->model)], state_->unit, body.deed,
              body.what);
    }
  }
  void operator()(const StepBlocked& body) const { state_->blocked.push_back({*stamp_, body}); }
  void operator()(const PartSwapped& body) const {
    state_->swapped.push_back({*stamp_, body});
    state_->proved.clear();
  }
  void operator()(const ProveRecorded& body) const {
    auto& proved = state_->proved;
    proved.erase(std::remove_if(proved.begin(), proved.end(),
                                [&](const auto& one) { return one.body.test == body.test; }),
                 proved.end());
    proved.push_back({*stamp_, body});
  }
  void operator()(const PhaseStarted& body) const { change_phase(state_->clock, body.phase); }
  void operator()(const TimeCorrected& body) const {
    // decide() takes no more than a day; more than that stands only in a doctored journal.
    const std::int64_t delta = std::clamp(body.delta_ms, -kMostCorrectedMs, kMostCorrectedMs);
    state_->clock.corrections.push_back({stamp_->n, body.phase, delta, body.reason});
  }
  void operator()(const GapSettled& body) const {
    (void)settle_gap(state_->clock, body.before,
                     std::clamp<std::int64_t>(body.counted_ms, 0, kMostCorrectedMs));
  }
  void operator()(const TakenOver& body) const { state_->person = body.person; }
  void operator()(const NoteAdded& body) const { state_->notes.push_back({*stamp_, body}); }
  void operator()(const Signed& body) const { state_->signature = {*stamp_, body}; }
  void operator()(const InvoiceIssued& body) const { state_->invoice = {*stamp_, body}; }
  void operator()(const HandedOver& body) const { state_->handed_over.push_back({*stamp_, body}); }
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
    restart_clock(state_->clock);
    state_->outcome = Outcome::none;
    state_->ending = {};
    state_->invoice = {};
    state_->signature = {};
    state_->proved.clear();
  }

 private:
  /// All of them, or but for those that were made at a place in the machine.
  void forget_proofs(bool keep_placed) const {
    auto& proved = state_->proved;
    const auto placed = [this](const Recorded<ProveRecorded>& one) {
      const pack::Pack& pack = context_->library->models[to_size(state_->model)].pack;
      const int test = pack.prove_test(one.body.test);
      return test >= 0 && has_place(pack.prove_tests[to_size(test)]);
    };
    proved.erase(std::remove_if(proved.begin(), proved.end(),
                                [&](const auto& one) {
                                  return !keep_placed || state_->model < 0 || !placed(one);
                                }),
                 proved.end());
  }

  State* state_;
  const Stamp* stamp_;
  const Context* context_;
};

}  // namespace

std::vector<safety::Event> safety_events(const State& state, const Stamp& stamp, const Body& body,
                                         const Context& context) {
  return std::visit(SafetyEvents(state, stamp, context), body);
}

void apply(State& state, const Stamp& stamp, const Body& body, const Context& context) {
  advance(state.clock, stamp, context.settings->clock);
  for (const safety::Event& event : safety_events(state, stamp, body, context)) {
    state.safety = safety::apply(state.safety, event, context.settings->safety);
  }
  std::visit(Fold(state, stamp, context), body);
  state.last_n = stamp.n;
}

}  // namespace kp::job
