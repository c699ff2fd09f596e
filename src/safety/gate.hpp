#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "safety/ask.hpp"
#include "safety/policy.hpp"
#include "safety/rules.hpp"

namespace kp::safety {

/// Why something is refused: a stable code in kebab-case, one sentence that says what to do, and
/// the row of the gate's table, 0 where no row speaks.
struct Reason {
  std::string code;
  std::string sentence;
  int row = 0;
};

struct Verdict {
  bool allowed = false;
  std::vector<Reason> reasons;           ///< all of them; empty when allowed
  std::vector<std::int64_t> stands_on;   ///< records of the proofs; never empty for a hands-in act
};

/// What the gate decides by: the shop's policy and the rows in force.
struct Law {
  Policy policy;
  Rules rows = rules();
};

/// The gate, default-deny: an act is allowed when the table has rows for it and every one holds.
/// `now` by both clocks; a wall time before the newest record is clock doubt and refuses.
[[nodiscard]] Verdict permit(const State& state, const Ask& ask, Now now, const Law& law);

/// One guard alone; pushes the records it stands on. Pure.
[[nodiscard]] bool holds(Guard guard, const State& state, const Ask& ask, Now now,
                         const Policy& policy, std::vector<std::int64_t>& stands_on);

/// Whether the proofs hold now: state, worker, gap and age.
[[nodiscard]] bool supply_dead(const State& state, Now now, const Policy& policy);
[[nodiscard]] bool group_dead(const State& state, const std::string& group, Now now,
                              const Policy& policy);
[[nodiscard]] bool water_off(const State& state, Now now, const Policy& policy);
/// Shut again after a static leak test without a drop: what opens no wet joint needs no relief. To
/// relieve would open a joint that has just been tested.
[[nodiscard]] bool water_tight(const State& state, Now now, const Policy& policy);

/// Completes what a person says with what the gate finds: the judgement of a reading and whether it
/// proves the place. Everything else goes through unchanged.
[[nodiscard]] Fact completed(const State& state, Fact fact, const Place& place, const Policy& policy);

}  // namespace kp::safety
