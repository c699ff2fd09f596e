#pragma once

#include <string_view>

#include "base/findings.hpp"
#include "journal/format.hpp"

namespace kp::journal {

/// Everything that can be said against a journal that has been read, by line. `expected_tip` is
/// the sum that a printed record carries; empty where there is none.
///
/// Faults: the damage by its own code; `wrong-tip` where the last line is not the one of the
/// record; `steady-clock-back` where the steady clock ran backwards within one life.
/// Warnings: `torn-tail`; `life-returned` where a run of the program writes again after another
/// one (two had the journal at once). Notes: `wall-clock-back`.
[[nodiscard]] Findings verify(const Loaded& loaded, std::string_view expected_tip = {});

}  // namespace kp::journal
