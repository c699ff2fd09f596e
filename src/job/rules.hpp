#pragma once

#include "job/decide.hpp"

namespace kp::job {

// The rules of decide() that need the machine, the gate or the pack, one for each body. Each takes
// what decide() takes and answers as it does.

[[nodiscard]] Decision decide_fact(const State& state, safety::Fact fact, const Stamp& now,
                                   const Context& context);
[[nodiscard]] Decision decide_test(const State& state, const TestRecorded& body, const Stamp& now,
                                   const Context& context);
[[nodiscard]] Decision decide_targets(const State& state, const TargetsChosen& body,
                                      const Stamp& now, const Context& context);
[[nodiscard]] Decision decide_step(const State& state, const StepDone& body, const Stamp& now,
                                   const Context& context);
[[nodiscard]] Decision decide_swap(const State& state, const PartSwapped& body, const Stamp& now,
                                   const Context& context);
[[nodiscard]] Decision decide_prove(const State& state, const ProveRecorded& body,
                                    const Stamp& now, const Context& context);
[[nodiscard]] Decision decide_end(const State& state, const JobEnded& body, const Stamp& now,
                                  const Context& context);

[[nodiscard]] Decision decide_left(const State& state, const UnitAsLeft& body,
                                   const Context& context);
[[nodiscard]] Decision decide_found(const State& state, const UnitAsFound& body,
                                    const Context& context);

/// The record is judged by what of the unit is open, and nobody has said in this visit how it was
/// found.
[[nodiscard]] bool asks_unit(const State& state, const Body& intent);

/// The law of the settings, as the next facts are decided by it.
[[nodiscard]] safety::Law law_now(const Context& context);

/// How long ago a record was made, by the greater of both clocks; they compare within one life only.
/// No record: 0.
[[nodiscard]] std::int64_t away_since(const Stamp& since, const Stamp& now);
/// Dark, paused and closed are one thing: over the policy's limit somebody must say what happened,
/// where anything was isolated or shut.
[[nodiscard]] bool asks_after(const State& state, std::int64_t away_ms, const Context& context);

/// The gate's answer for a demand as the job stands.
[[nodiscard]] safety::Verdict permit(const State& state, const Model& model,
                                     const safety::Demand& demand, const Stamp& now,
                                     const Context& context);

// The rules of what is billed, in decide_papers.cpp.
[[nodiscard]] Decision decide_quote(const State& state, const QuoteGiven& body);
[[nodiscard]] Decision decide_time(const State& state, const TimeCorrected& body);
[[nodiscard]] Decision decide_gap(const State& state, const GapSettled& body);
[[nodiscard]] Decision decide_signature(const State& state, const Signed& body);
[[nodiscard]] Decision decide_invoice(const State& state, const InvoiceIssued& body);

// The rules of what is written down beside the work, in decide_beside.cpp.
[[nodiscard]] Decision decide_photo(const State& state, const PhotoTaken& body,
                                    const Context& context);
[[nodiscard]] Decision decide_serial(const State& state, const SerialNoted& body);
[[nodiscard]] Decision decide_tester(const TesterNamed& body);
[[nodiscard]] Decision decide_order(const State& state, const PartsOrdered& body,
                                    const Context& context);
[[nodiscard]] Decision decide_quote_refused(const State& state, const QuoteRefused& body);
[[nodiscard]] Decision decide_paper_issued(const PaperIssued& body);

/// The stage that the machine's state calls for after these records, or the present one.
[[nodiscard]] Stage next_stage(const State& state, const Stamp& now, const Context& context);

}  // namespace kp::job
