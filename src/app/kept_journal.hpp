#pragma once

#include <string>

#include "app/desk.hpp"

namespace kp::app {

/// Why a journal is shown and not gone on with.
enum class Apart {
  none,
  damaged,   ///< not whole: what stands before the damage is shown
  no_pack,   ///< its pack is not here
  newer,     ///< kinds or rows of a newer program stand in it
  fork,      ///< two devices went on with one job: the other journal is the one that goes on
  older      ///< of an older format: a new job can go on with it
};

/// The notice of it; empty where there is more to say than that.
[[nodiscard]] std::string words_of(Apart apart);

/// The page of such a journal in its own words: the machine as it was left, what was said of power
/// and water, and what can be done now. It needs no pack.
void fill_kept_journal(Snapshot& out, const Desk& desk, Apart apart);

}  // namespace kp::app
