#include <algorithm>

#include "safety/fold.hpp"

namespace kp::safety {

void put_lock(State& state, const Stamp& stamp, const std::string& id, const std::string& owner,
              bool foreign) {
  for (Lock& lock : state.locks) {
    if (lock.id == id) {
      lock.put_on = stamp;
      return;
    }
  }
  state.locks.push_back(Lock{id, owner, stamp, foreign});
}

void drop_lock(State& state, const std::string& id) {
  state.locks.erase(std::remove_if(state.locks.begin(), state.locks.end(),
                                   [&](const Lock& lock) { return lock.id == id; }),
                    state.locks.end());
}

GroupProof& group_in(State& state, const std::string& id) {
  for (GroupProof& one : state.groups) {
    if (one.id == id) {
      return one;
    }
  }
  state.groups.push_back(GroupProof{id, {}, {}, 0});
  return state.groups.back();
}

void forget_places(State& state) {
  state.groups.clear();
  state.neutral_quiet = {};
}

void name_helper(State& state, const std::string& name) {
  const auto& known = state.helpers;
  if (!name.empty() && std::find(known.begin(), known.end(), name) == known.end()) {
    state.helpers.push_back(name);
  }
}

bool own_lock_holds(const State& state) {
  return !state.lock.empty() && state.held.holds() &&
         std::any_of(state.locks.begin(), state.locks.end(), [&](const Lock& lock) {
           return lock.id == state.lock && lock.owner == state.worker;
         });
}

bool act_of(const Fact& fact, Act& out) {
  return std::visit(
      [&out](const auto& one) {
        using T = std::decay_t<decltype(one)>;
        if constexpr (requires { T::kAct; }) {
          out = T::kAct;
          if constexpr (std::is_same_v<T, WaterOn>) {
            out = one.still ? Act::water_static : Act::water_on;
          }
          return true;
        } else {
          return false;
        }
      },
      fact);
}

}  // namespace kp::safety
