#pragma once

#include <string>
#include <vector>

#include "job/replay.hpp"

namespace kp::job {

/// A record against the rules, with the gate's reasons.
struct Disbelief {
  std::uint32_t n = 0;
  std::string kind;
  std::vector<safety::Reason> reasons;
};

struct Again {
  /// The records could be decided again: the pack and all rows that they stand on are here.
  bool decided = false;
  std::string why_not;                    ///< where not
  std::vector<Disbelief> not_believable;  ///< against the rules they were recorded under; the first counts
  std::vector<Disbelief> today;           ///< only today's rules ask for more
};

/// Decides every record of a journal again: once under the policy, rows and pack that it names, and
/// once under today's. What was accepted against the recorded rules is not believable from there on,
/// nor is a record that says first nothing of what it stands on, or that a clock could not have written.
[[nodiscard]] Again decide_again(const journal::Loaded& loaded, const Library& library,
                          const Settings& today);

}  // namespace kp::job
