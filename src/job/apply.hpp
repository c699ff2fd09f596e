#pragma once

#include "job/state.hpp"

namespace kp::job {

/// The most that one answer or correction may add to or take from the time: a day.
inline constexpr std::int64_t kMostCorrectedMs = 24LL * 3'600'000;

/// Everything that decide() and apply() may look at besides the state: both are pure.
struct Context {
  const Library* library = nullptr;
  const Settings* settings = nullptr;
};

/// Folds one record into the state. Total: it takes what decide() once accepted and never judges
/// again, except for safety, whose own fold ignores what its gate would refuse.
void apply(State& state, const Stamp& stamp, const Body& body, const Context& context);

/// The safety events that a body means, in order; their id is the record's number. Most mean none;
/// turning the unit means two, the step and the new posture.
[[nodiscard]] std::vector<safety::Event> safety_events(const State& state, const Stamp& stamp,
                                                       const Body& body, const Context& context);

}  // namespace kp::job
