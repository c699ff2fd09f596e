#pragma once

#include <vector>

#include "plan/opening.hpp"
#include "plan/plan.hpp"

namespace kp::plan {

/// One thing that happens, without the tools: those follow from the work.
struct Event {
  enum class What { turn, open, close };
  What what = What::open;
  int index = 0;  ///< of a turn, or an item
};

/// Puts the jobs of each batch in an order that suits hands: a part is lifted away as soon as it
/// is free, and the joints of one part are released one after the other, the part first that
/// needs the fewest more.
[[nodiscard]] std::vector<Event> arrange(const Rules& rules, const Sequence& sequence,
                                         const std::vector<Batch>& batches);

/// Steps with tools, costs and reasons from events. Ends the program where an event cannot be
/// done: a wrong plan must not leave this room.
void emit(const Rules& rules, const State& start, const std::vector<Event>& events, Plan& plan);

}  // namespace kp::plan
