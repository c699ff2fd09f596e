#pragma once

#include "plan/emit.hpp"
#include "plan/sequence.hpp"

namespace kp::plan {

struct ReopenResult {
  bool found = false;
  bool stopped = false;
  Cost cost = kNever;
  Cost bound = 0;
  std::uint64_t expanded = 0;
  std::vector<Event> events;
};

/// The cheapest way back when something has to be opened again first: a cover was set over a
/// joint that is still loose, say. Opening and closing may alternate.
[[nodiscard]] ReopenResult reopen(const Rules& rules, const State& state, std::uint64_t limit);

}  // namespace kp::plan
