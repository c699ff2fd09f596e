#pragma once

#include <cstdint>
#include <string>

#include "bill/invoice.hpp"
#include "bill/quote.hpp"
#include "bill/service.hpp"
#include "job/apply.hpp"

namespace kp::job {

/// The work as the bill takes it: segments with the clock's remarks, corrections, parts, customer,
/// machine, quote, outcome. What the invoice of an earlier visit covers is left out.
[[nodiscard]] bill::WorkRecord bind_work(const State& state, const Context& context);
/// The same for all visits of the job, whatever was billed.
[[nodiscard]] bill::WorkRecord bind_all_work(const State& state, const Context& context);

/// What the customer is quoted: the plan to the parts and back from the unit as it stands, and the
/// parts at the pack's prices.
[[nodiscard]] bill::QuoteRequest bind_quote(const State& state, const Context& context,
                                            const std::vector<int>& parts, Moment now);

/// The record that must stand up if anyone is hurt later: isolations with readings and times, what
/// was removed and refitted, checks, tests, parts, outcome. `tip` is the journal's last sum.
[[nodiscard]] bill::ServiceRecord bind_record(const State& state, const Context& context,
                                              const bill::RateCard& card, const std::string& tip,
                                              Moment now);

}  // namespace kp::job
