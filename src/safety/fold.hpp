#pragma once
// Parts of the fold: locks and groups of conductors in a state.

#include <string>

#include "safety/fact.hpp"

namespace kp::safety {

/// One lock a number: the same lock hung again is the same lock.
void put_lock(State& state, const Stamp& stamp, const std::string& id, const std::string& owner,
              bool foreign);
void drop_lock(State& state, const std::string& id);
/// What was shown of a group, begun where nothing was.
[[nodiscard]] GroupProof& group_in(State& state, const std::string& id);
/// The worker's own lock holds the isolation.
[[nodiscard]] bool own_lock_holds(const State& state);

}  // namespace kp::safety
