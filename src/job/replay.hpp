#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "job/apply.hpp"
#include "journal/format.hpp"

namespace kp::job {

/// The frame of a record as the job sees it.
[[nodiscard]] Stamp stamp_of(const journal::Entry& entry);

/// A record ready to be written: the body in its frame, behind the given sum.
[[nodiscard]] journal::Entry entry_of(const Stamp& stamp, const Body& body, std::string prev);

/// The state of a journal, and why it could not be folded to its end, if so (then the job is
/// read-only): damage found by the reader, a kind that this program does not know (`unknown-kind`),
/// a record that makes no sense (`bad-payload`), a machine whose pack is not at hand
/// (`unknown-pack`: then only what stands before it is folded).
struct Replayed {
  State state;
  std::optional<Error> damage;
  int damage_line = 0;
  Findings notes;          ///< members that this program does not know, with their lines
};

[[nodiscard]] Replayed replay(const journal::Loaded& loaded, const Context& context);

}  // namespace kp::job
