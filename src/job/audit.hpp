#pragma once

#include "base/findings.hpp"
#include "journal/format.hpp"
#include "journal/judgement.hpp"

namespace kp::job {

/// What the records of a journal say against it, beyond form and chain.
struct Audit {
  Findings findings;         ///< with the record as the line
  journal::Further further;  ///< for journal::judge()
};

/// Reads every record by its kind: kinds, members, words and rows of the gate that this program does
/// not know are warnings and make the journal newer; a record that is none of its kind, and a paper in it whose
/// sums do not add up, are faults and make it altered. Asks no pack and refuses nothing.
[[nodiscard]] Audit audit(const journal::Loaded& loaded);

}  // namespace kp::job
