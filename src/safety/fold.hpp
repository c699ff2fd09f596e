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
/// What was shown at the places of work: nothing of it counts any more.
void forget_places(State& state);
/// Somebody helps in this job; nobody without a name.
void name_helper(State& state, const std::string& name);
/// The worker's own lock holds the isolation.
[[nodiscard]] bool own_lock_holds(const State& state);

}  // namespace kp::safety
