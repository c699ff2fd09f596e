#include "job/decide.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/codec.hpp"
#include "job/rules.hpp"
#include "journal/format.hpp"

namespace kp::job {

namespace {

using Reasons = std::vector<safety::Reason>;

Decision refuse(Reasons reasons) { return Decision{{}, std::move(reasons)}; }
Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}
Decision accept(Body body) { return Decision{{std::move(body)}, {}}; }

/// Bodies that need no more than a look at the state.
class Decider {
 public:
  Decider(const State& state, const Stamp& now, const Context& context)
      : state_(&state), now_(&now), context_(&context) {}

  Decision operator()(const JobOpened& body) const {
    if (state_->last_n != 0) {
      return refuse("already-open", "This job is open already. Start a new one beside it.");
    }
    if (body.after_job.empty() != body.after_tip.empty()) {
      return refuse("no-tip", "Name the job that it goes on with by its id and its mark.");
    }
    JobOpened kept = body;
    kept.format = journal::kFormat;
    return accept(kept);
  }
  Decision operator()(const StandsOn& body) const { return accept(body); }
  Decision operator()(const Resumed& body) const {
    Resumed kept = body;
    kept.asks = asks(body.away_ms);
    return accept(kept);
  }
  Decision operator()(const ScreenChanged& body) const {
    ScreenChanged kept = body;
    kept.away_ms = body.hidden ? 0 : away_since(state_->hidden_since);
    kept.asks = asks(kept.away_ms);
    return accept(kept);
  }
  Decision operator()(const NoteAdded& body) const {
    return trim(body.text).empty() && !body.erased ? refuse("empty-note", "Write a word first.") : accept(body);
  }
  Decision operator()(const CustomerNoted& body) const { return accept(body); }
  Decision operator()(const MachineIdentified& body) const {
    if (context_->library->find(body.pack) < 0) {
      return refuse("unknown-pack", cat("Load the pack \"", body.pack, "\" first."));
    }
    if (!state_->steps.empty()) {
      return refuse("work-begun", "The machine is open. Close this job and begin another.");
    }
    const pack::Pack& known = context_->library->models[to_size(context_->library->find(body.pack))].pack;
    MachineIdentified kept = body;
    kept.pack_version = known.about.version;
    kept.title = known.about.title;
    kept.maker = known.about.maker;
    kept.position = known.positions.front().id;
    kept.serial = std::string(trim(body.serial));
    return accept(kept);
  }
  Decision operator()(const ComplaintNoted& body) const {
    if (state_->model < 0) {
      return refuse("no-machine", "Choose the machine first.");
    }
    if (!body.symptom.empty() && pack().symptom(body.symptom) < 0) {
      return refuse("unknown-complaint", "Choose a complaint from the list.");
    }
    if (body.symptom.empty() && trim(body.words).empty() && !body.erased) {
      return refuse("empty-complaint", "Choose a complaint, or write the customer's words.");
    }
    return accept(body);
  }
  Decision operator()(const QuoteGiven& body) const { return decide_quote(*state_, body); }
  Decision operator()(const StageEntered& body) const {
    Reasons reasons = against_stage(*state_, body.stage, *now_, *context_);
    return reasons.empty() ? accept(body) : refuse(std::move(reasons));
  }
  Decision operator()(const TestRecorded& body) const {
    return decide_test(*state_, body, *now_, *context_);
  }
  Decision operator()(const TestTakenBack& body) const {
    const bool known =
        std::any_of(state_->tests.begin(), state_->tests.end(),
                    [&](const auto& test) { return test.stamp.n == body.n; });
    return known ? accept(body) : refuse("no-such-test", "This reading is not there any more.");
  }
  Decision operator()(const TestImpossible& body) const {
    if (state_->model < 0) {
      return refuse("no-machine", "Choose the machine first.");
    }
    const auto& tests = pack().tests;
    const bool known = std::any_of(tests.begin(), tests.end(),
                                   [&](const pack::Test& test) { return test.id == body.test; });
    if (!known) {
      return refuse("unknown-test", "Choose a test from the list.");
    }
    return trim(body.reason).empty() ? refuse("no-reason", "Say why it cannot be done.")
                                     : accept(body);
  }
  Decision operator()(const TargetsChosen& body) const {
    return decide_targets(*state_, body, *now_, *context_);
  }
  Decision operator()(const StepDone& body) const {
    return decide_step(*state_, body, *now_, *context_);
  }
  Decision operator()(const StepBlocked& body) const {
    if (state_->model < 0 || subject_index(pack(), state_->unit, body.deed, body.what) < 0) {
      return refuse("no-such-step", "This step is not part of the machine.");
    }
    if (trim(body.reason).empty()) {
      return refuse("no-reason", "Say why it cannot be done.");
    }
    return accept(body);
  }
  Decision operator()(const PartSwapped& body) const {
    return decide_swap(*state_, body, *now_, *context_);
  }
  Decision operator()(const ProveRecorded& body) const {
    return decide_prove(*state_, body, *now_, *context_);
  }
  Decision operator()(const PhaseStarted& body) const {
    PhaseStarted kept = body;
    kept.away_ms = body.phase == Phase::waiting ? 0 : away_since(state_->paused_since);
    kept.asks = asks(kept.away_ms);
    return accept(kept);
  }
  Decision operator()(const TimeCorrected& body) const { return decide_time(*state_, body); }
  Decision operator()(const GapSettled& body) const { return decide_gap(*state_, body); }
  Decision operator()(const Signed& body) const { return decide_signature(*state_, body); }
  Decision operator()(const InvoiceIssued& body) const { return decide_invoice(*state_, body); }
  Decision operator()(const HandedOver& body) const { return accept(body); }
  Decision operator()(const Refused& body) const { return accept(body); }        // it has happened
  Decision operator()(const CautionShown& body) const { return accept(body); }   // so has this
  Decision operator()(const PhotoTaken& body) const { return decide_photo(*state_, body, *context_); }
  Decision operator()(const SerialNoted& body) const { return decide_serial(*state_, body); }
  Decision operator()(const TesterNamed& body) const { return decide_tester(body); }
  Decision operator()(const PartsOrdered& body) const {
    return decide_order(*state_, body, *context_);
  }
  Decision operator()(const QuoteRefused& body) const {
    return decide_quote_refused(*state_, body);
  }
  Decision operator()(const PaperIssued& body) const { return decide_paper_issued(body); }
  Decision operator()(const JobEnded& body) const {
    return decide_end(*state_, body, *now_, *context_);
  }
  Decision operator()(const VisitBegun&) const {
    if (state_->outcome == Outcome::none) {
      return refuse("not-ended", "This job is still open.");
    }
    VisitBegun next;
    next.visit = state_->visit + 1;
    return Decision{{next, StageEntered{Stage::make_safe}}, {}};
  }
  Decision operator()(const UnitAsLeft& body) const {
    return decide_left(*state_, body, *context_);
  }
  Decision operator()(const UnitAsFound& body) const {
    return decide_found(*state_, body, *context_);
  }
  /// What happens to the energies.
  template <class T>
  Decision operator()(const T& fact) const {
    return decide_fact(*state_, fact, *now_, *context_);
  }

 private:
  [[nodiscard]] std::int64_t away_since(const Stamp& since) const {
    return job::away_since(since, *now_);
  }
  [[nodiscard]] bool asks(std::int64_t away_ms) const { return asks_after(*state_, away_ms, *context_); }
  [[nodiscard]] const pack::Pack& pack() const {
    return context_->library->models[to_size(state_->model)].pack;
  }

  const State* state_;
  const Stamp* now_;
  const Context* context_;
};

/// What may still be recorded of a job that has ended.
bool may_follow_end(const Body& intent) {
  return std::holds_alternative<VisitBegun>(intent) || std::holds_alternative<Signed>(intent) ||
         std::holds_alternative<InvoiceIssued>(intent) || std::holds_alternative<QuoteGiven>(intent) ||
         std::holds_alternative<HandedOver>(intent) || std::holds_alternative<NoteAdded>(intent) ||
         std::holds_alternative<Resumed>(intent) || std::holds_alternative<StandsOn>(intent) ||
         std::holds_alternative<ScreenChanged>(intent) ||
         std::holds_alternative<TimeCorrected>(intent) ||
         std::holds_alternative<GapSettled>(intent) ||
         std::holds_alternative<CustomerNoted>(intent) ||
         std::holds_alternative<PhotoTaken>(intent) || std::holds_alternative<SerialNoted>(intent) ||
         std::holds_alternative<PartsOrdered>(intent) ||
         std::holds_alternative<QuoteRefused>(intent) ||
         std::holds_alternative<PaperIssued>(intent);
}

}  // namespace

Decision decide(const State& state, const Body& intent, const Stamp& now,
                const Context& context) {
  const bool opening = std::holds_alternative<JobOpened>(intent);
  if (!opening && state.last_n == 0) {
    return refuse("not-open", "Open a job first.");
  }
  if (!opening && state.opened.format != journal::kFormat) {
    return refuse("older-format", "This journal is kept as it is. Go on in a new job.");
  }
  if (!state.rows_known) {
    return refuse("newer-rules", "Go on with the newer program: this one does not know its rules.");
  }
  if (state.outcome != Outcome::none && !may_follow_end(intent)) {
    return refuse("ended", "This job has ended. Begin another visit to go on.");
  }
  if (!state.strange.empty()) {
    return refuse("other-pack", cat("Load the pack this job was worked with: it has no \"",
                                    state.strange.front(), "\" here."));
  }
  if (asks_unit(state, intent)) {
    return refuse("unit-unseen", "Say first whether the machine is as it was left.");
  }
  // Only what the journal gives back unchanged can be live now and the same after a restart.
  const Result<Body> body = canonical(intent);
  if (!body.has_value()) {
    return refuse("out-of-range", "Enter a number.");
  }
  Decision decision = std::visit(Decider(state, now, context), body.value());
  if (!decision.accepted() || opening || std::holds_alternative<StandsOn>(body.value())) {
    return decision;
  }
  const auto* machine = std::get_if<MachineIdentified>(&body.value());
  const StandsOn wanted =
      stands_on_of(context, machine != nullptr ? machine->pack : state.machine.pack);
  if (!(wanted == state.stands_on)) {
    decision.events.insert(decision.events.begin(), wanted);
  }
  return decision;
}

}  // namespace kp::job
