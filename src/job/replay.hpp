#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/apply.hpp"
#include "journal/format.hpp"

namespace kp::job {

/// The frame of a record as the job sees it.
[[nodiscard]] Stamp stamp_of(const journal::Entry& entry);

/// A record ready to be written: the body in its frame, behind the given sum.
[[nodiscard]] journal::Entry entry_of(const Stamp& stamp, const Body& body, std::string prev);

/// The state of a journal, and why it could not be folded to its end, if so (then the job is
/// read-only): damage found by the reader, a kind that this program does not know.
struct Replayed {
  State state;
  std::optional<Error> damage;
  int damage_line = 0;
};

[[nodiscard]] Replayed replay(const journal::Loaded& loaded, const Context& context);

}  // namespace kp::job
