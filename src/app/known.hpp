#pragma once

#include <string>

#include "safety/strip.hpp"

namespace kp::app {

/// What a window knows of the job that it shows. Whatever is not `known` is shown as live.
enum class Knowledge {
  known,        ///< the state on the screen is that of the whole journal, and its writer lives
  stale,        ///< lines were written that are not read yet, or may have been
  damaged,      ///< the journal cannot be read, or not to its end
  apart,        ///< another version of the program wrote it, or its pack is not here
  silent,       ///< another window writes the job and is not heard, or none does
  clock_doubt,  ///< the clock stands before the last record
  unsaved       ///< a record that ends a proof is not kept, or not yet
};

/// Why the strip is taken as live, in one sentence for its evidence; empty for `known`.
[[nodiscard]] std::string reason_of(Knowledge knowledge);

/// The strip as it may be shown. What is not known is live and open, with the reason first in the
/// evidence of both sides; what the journal says of a proof stays behind it.
[[nodiscard]] safety::Strip strip_as_known(safety::Strip strip, Knowledge knowledge);

/// Whether a side that is green before is not so after.
[[nodiscard]] bool loses_green(const safety::Strip& before, const safety::Strip& after);

}  // namespace kp::app
