// Rules for quote, time, signature and invoice.
#include <algorithm>

#include "base/text.hpp"
#include "job/paper.hpp"
#include "job/rules.hpp"

namespace kp::job {

namespace {

Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}
Decision accept(Body body) { return Decision{{std::move(body)}, {}}; }

constexpr const char* kIssued = "The invoice is issued. Correct it with a credit.";

bool is_issued(const State& state) { return !state.invoice.body.number.empty(); }
bool is_signed(const State& state) { return state.signature.stamp.n != 0; }

/// A paper that is missing or does not hold, as a refusal; accepted otherwise.
template <class Fact>
Decision with_paper(const Fact& body) {
  if (body.paper.kind == data::Kind::null) {
    return refuse("no-paper", "Give the paper with its lines.");
  }
  if (const Findings findings = check_paper(body); findings.faults() > 0) {
    return refuse("bad-paper", cat("Make the paper again: ", findings.all().front().what, "."));
  }
  return accept(body);
}

/// Why the time cannot be changed any more; accepted while it can.
Decision while_open(const State& state, Body body) {
  if (is_issued(state)) {
    return refuse("issued", kIssued);
  }
  if (is_signed(state)) {
    return refuse("signed", "The customer has signed. Correct it with a credit.");
  }
  return accept(std::move(body));
}

}  // namespace

Decision decide_quote(const State& state, const QuoteGiven& body) {
  if (body.low_minor < 0 || body.high_minor < body.low_minor) {
    return refuse("bad-quote", "Check the quote: the high figure is below the low one.");
  }
  if (is_issued(state)) {
    return refuse("issued", kIssued);
  }
  return with_paper(body);
}

Decision decide_time(const State& state, const TimeCorrected& body) {
  if (trim(body.reason).empty()) {
    return refuse("no-reason", "Say why the time is corrected.");
  }
  if (body.delta_ms > kMostCorrectedMs || body.delta_ms < -kMostCorrectedMs) {
    return refuse("out-of-range", "Correct by at most 24 hours.");
  }
  return while_open(state, body);
}

Decision decide_gap(const State& state, const GapSettled& body) {
  const auto& open = state.clock.open_questions;
  const auto gap = std::find_if(open.begin(), open.end(), [&](const Choice& choice) {
    return choice.before == body.before;
  });
  if (gap == open.end()) {
    return refuse("no-such-gap", "This gap has been answered already.");
  }
  if (body.counted_ms < 0 || body.counted_ms > kMostCorrectedMs) {
    return refuse("out-of-range", "Count from 0 to 24 hours.");
  }
  if (gap->wall_ms >= 0 && body.counted_ms > gap->wall_ms) {
    return refuse("longer-than-gap", cat("Count at most the gap: ", duration_text(gap->wall_ms), "."));
  }
  return while_open(state, body);
}

Decision decide_signature(const State& state, const Signed& body) {
  if (state.outcome == Outcome::none) {
    return refuse("not-ended", "End the work first.");
  }
  if (body.strokes.size() < 4 && !body.erased) {
    return refuse("no-signature", "Sign in the field.");
  }
  if (!state.clock.open_questions.empty()) {
    return refuse("open-gap", "Answer the gap in the time first.");
  }
  if (is_signed(state)) {
    return refuse("signed", "It is signed. Begin another visit to go on.");
  }
  return accept(body);
}

Decision decide_invoice(const State& state, const InvoiceIssued& body) {
  if (state.mode == Mode::practice) {
    return refuse("practice", "A practice job has no invoice.");
  }
  if (state.outcome == Outcome::none) {
    return refuse("not-ended", "End the work first.");
  }
  if (!state.clock.open_questions.empty()) {
    return refuse("open-gap", "Answer the gap in the time first.");
  }
  if (is_issued(state)) {
    return refuse("issued", kIssued);
  }
  if (trim(body.number).empty()) {
    return refuse("no-number", "Give the invoice a number.");
  }
  const auto& earlier = state.invoices;
  if (std::any_of(earlier.begin(), earlier.end(),
                  [&](const auto& one) { return one.body.number == body.number; })) {
    return refuse("number-taken", "Give the invoice a number of its own.");
  }
  if (!is_within_agreement(state, body.total_minor)) {
    return refuse("above-agreed", "Ask the customer to agree to the higher sum first.");
  }
  return with_paper(body);
}

}  // namespace kp::job
