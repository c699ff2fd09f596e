#pragma once

#include "safety/guide.hpp"

namespace kp::safety {

/// A thing to do with its words, cautions and nothing else filled in.
[[nodiscard]] Todo todo_of(TodoKind kind, const State& state);
/// The words of one reading.
[[nodiscard]] Todo reading_of(const Place& place, const Wanted& wanted, const State& state);

}  // namespace kp::safety
