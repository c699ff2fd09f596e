#include "job/bind_bill.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/paper.hpp"
#include "job/personal.hpp"

namespace kp::job {

namespace {

bill::Outcome bind_outcome(Outcome outcome) {
  switch (outcome) {
    case Outcome::waiting_for_parts:
      return bill::Outcome::waiting_for_parts;
    case Outcome::not_to_be_used:
      return bill::Outcome::not_to_be_used;
    case Outcome::no_fault_found:
      return bill::Outcome::no_fault_found;
    case Outcome::none:
    case Outcome::repaired:
      return bill::Outcome::repaired;
  }
  return bill::Outcome::repaired;
}

bill::SegmentKind bind_phase(Phase phase) {
  static_assert(kPhases == bill::kSegmentKinds);
  return static_cast<bill::SegmentKind>(static_cast<int>(phase));
}

bill::Party bind_customer(const State& state) {
  bill::Party party;
  party.name = shown(state.customer.name, state.customer.erased);
  for (const std::string& line : split(state.customer.address, '\n')) {
    if (!trim(line).empty()) {
      party.address.emplace_back(trim(line));
    }
  }
  party.phone = state.customer.contact;
  return party;
}

bill::Machine bind_machine(const State& state, const Context& context) {
  bill::Machine machine;
  machine.model = state.machine.plate;
  machine.serial = state.machine.serial;
  // As it was recorded; a journal of format 1 has the pack's words only.
  machine.maker = state.machine.maker;
  machine.title = state.machine.title;
  if (state.model >= 0 && machine.title.empty()) {
    const pack::About& about = context.library->models[to_size(state.model)].pack.about;
    machine.maker = about.maker;
    machine.title = about.title;
  }
  return machine;
}

std::string complaint_words(const State& state, const Context& context) {
  std::string out = shown(state.complaint.words, state.complaint.erased);
  if (state.model >= 0) {
    const pack::Pack& pack = context.library->models[to_size(state.model)].pack;
    const int symptom = pack.symptom(state.complaint.symptom);
    if (symptom >= 0) {
      const std::string& title = pack.symptoms[to_size(symptom)].title;
      return out.empty() ? title : cat(title, ": ", out);
    }
  }
  return out.empty() ? state.complaint.symptom : out;
}

bill::PartUsed bind_part(const pack::Pack& pack, int index) {
  const pack::Part& part = pack.parts[to_size(index)];
  bill::PartUsed used;
  used.stock = part.stock;
  used.name = part.name;
  used.cost_minor = part.price_minor;
  return used;
}

template <class T>
std::vector<T> rest_of(const std::vector<T>& all, int from) {
  const std::size_t first = std::min(to_size(from), all.size());
  return {all.begin() + static_cast<std::ptrdiff_t>(first), all.end()};
}

bill::WorkRecord work_after(const State& state, const Context& context, const Billed& billed) {
  bill::WorkRecord work;
  work.job = state.job;
  work.customer = bind_customer(state);
  work.machine = bind_machine(state, context);
  work.complaint = complaint_words(state, context);
  work.technician = state.person;
  work.call_outs = state.visit - billed.visits;
  work.outcome = bind_outcome(state.outcome);
  for (const Segment& segment : rest_of(state.clock.segments, billed.segments)) {
    bill::Segment out;
    out.kind = bind_phase(segment.phase);
    out.start = segment.start;
    out.end = segment.end;
    out.counted_ms = segment.counted_ms;
    for (const Choice& choice : segment.choices) {
      out.flag += cat(out.flag.empty() ? "" : "; ", choice_text(choice));
      out.unanswered = out.unanswered ||
                       std::any_of(state.clock.open_questions.begin(),
                                   state.clock.open_questions.end(), [&](const Choice& open) {
                                     return open.before == choice.before;
                                   });
    }
    work.segments.push_back(std::move(out));
  }
  for (const Correction& correction : rest_of(state.clock.corrections, billed.corrections)) {
    bill::TimeCorrection out;
    out.kind = bind_phase(correction.phase);
    out.seconds = correction.delta_ms / 1000;
    out.reason = correction.reason;
    out.by = state.person;
    work.corrections.push_back(std::move(out));
  }
  const pack::Pack* pack =
      state.model < 0 ? nullptr : &context.library->models[to_size(state.model)].pack;
  for (const auto& swap : rest_of(state.swapped, billed.parts)) {
    if (!swap.body.mended.empty()) {
      continue;  // no part was sold
    }
    bill::PartUsed used;
    const int index = pack == nullptr ? -1 : pack->part(swap.body.part);
    used.name = !swap.body.name.empty() ? swap.body.name
                : index >= 0            ? pack->parts[to_size(index)].name
                                        : swap.body.part;
    used.stock = swap.body.stock;
    used.note = swap.body.note;
    used.cost_minor = swap.body.price_minor;
    work.parts.push_back(std::move(used));
  }
  if (state.agreed) {
    const QuoteGiven& agreed = state.agreed->body;
    work.quote = bill::QuoteGiven{agreed.low_minor, agreed.high_minor, state.agreed->stamp.at,
                                  shown(state.customer.name, state.customer.erased), billed_under_agreement(state)};
  }
  for (const auto& note : state.notes) {
    work.note += cat(work.note.empty() ? "" : "\n", shown(note.body.text, note.body.erased));
  }
  return work;
}

}  // namespace

bill::WorkRecord bind_work(const State& state, const Context& context) {
  return work_after(state, context, state.billed);
}

bill::WorkRecord bind_all_work(const State& state, const Context& context) {
  return work_after(state, context, Billed{});
}

bill::QuoteRequest bind_quote(const State& state, const Context& context,
                              const std::vector<int>& parts, Moment now) {
  bill::QuoteRequest request;
  request.number = state.job;
  request.at = now;
  request.customer = bind_customer(state);
  request.machine = bind_machine(state, context);
  request.complaint = complaint_words(state, context);
  request.technician = state.person;
  if (state.model < 0) {
    return request;
  }
  const Model& model = context.library->models[to_size(state.model)];
  plan::Targets targets;
  targets.parts = parts;
  const plan::Plan in = plan::reach(model.rules, state.unit, targets);
  plan::State opened = state.unit;
  for (const plan::Step& step : in.steps) {
    opened = model.rules.apply(opened, plan::Action{step.kind, step.subject});
  }
  const plan::Plan back = plan::refit(model.rules, opened);
  request.plan_seconds = (in.cost_ms + back.cost_ms + 999) / 1000;
  for (const int part : parts) {
    request.parts.push_back(bind_part(model.pack, part));
  }
  return request;
}

}  // namespace kp::job
