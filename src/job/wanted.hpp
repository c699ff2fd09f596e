#pragma once

#include <optional>
#include <string>

#include "job/apply.hpp"

namespace kp::job {

/// What hands want to do with an intent: its demand, and the id of its subject in the pack.
struct Wanted {
  safety::Demand demand;
  std::string what;
};

/// Nothing for what wants no hands in, and where the pack or the subject is not known.
[[nodiscard]] std::optional<Wanted> wanted_of(const State& state, const Body& intent,
                                              const Context& context);

}  // namespace kp::job
