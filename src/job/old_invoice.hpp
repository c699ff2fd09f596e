#pragma once

#include <vector>

#include "bill/old_invoice.hpp"
#include "job/apply.hpp"
#include "journal/format.hpp"

namespace kp::job {

/// The invoices of a journal of format 1, of all its visits, in their order: number, total and
/// currency as they were recorded. `state` is that of the same journal. Empty where the journal is
/// of another format.
[[nodiscard]] std::vector<bill::OldInvoice> old_invoices(const journal::Loaded& loaded,
                                                         const State& state,
                                                         const Context& context);

}  // namespace kp::job
