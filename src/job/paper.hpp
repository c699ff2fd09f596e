#pragma once

#include <cstdint>

#include "base/findings.hpp"
#include "job/event.hpp"
#include "job/state.hpp"

namespace kp::job {

/// What does not hold in the paper that a fact carries: the reader's findings, sums that do not add
/// up, and `paper-differs` where the fact says another number, sum or currency than its paper. A fact
/// without a paper (format 1) gives the note `paper-missing`.
[[nodiscard]] Findings check_paper(const QuoteGiven& fact);
[[nodiscard]] Findings check_paper(const InvoiceIssued& fact);

/// What was invoiced in this job since the customer agreed last, tax included, in minor units.
[[nodiscard]] std::int64_t billed_under_agreement(const State& state);

/// Whether this sum, tax included, may be invoiced without asking again.
[[nodiscard]] bool is_within_agreement(const State& state, std::int64_t gross_minor);

/// The number of this visit's invoice: the job's, and the visit's behind it, so that no two of a job
/// are the same.
[[nodiscard]] std::string invoice_number(const State& state);

}  // namespace kp::job
