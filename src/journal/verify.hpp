#pragma once

#include "base/findings.hpp"
#include "journal/format.hpp"

namespace kp::journal {

/// Everything that can be said against a journal that has been read, by line.
///
/// Faults: the damage by its own code; `broken-tail` where the last line has its end and is no JSON;
/// `steady-clock-back` where the steady clock ran backwards within one life; `part-altered`,
/// `part-of-none`, `bad-part` where what lies beside the chain is not what it says; and, alone, what says
/// that it is no journal: `empty-file`, `not-a-journal`, `utf-16`.
/// Warnings: `torn-tail`; `life-returned` where a run of the program writes again after another
/// one (two had the journal at once). Notes: `wall-clock-back`, `byte-order-mark`, `cr-lf`,
/// `parts-erased` with how many.
[[nodiscard]] Findings verify(const Loaded& loaded);

}  // namespace kp::journal
