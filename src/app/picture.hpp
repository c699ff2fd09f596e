#pragma once

#include "app/desk.hpp"
#include "app/step_words.hpp"

namespace kp::app {

/// The exploded view for the unit as it stands: what the present step acts on stands out, what is
/// off is a ghost, the targets are filled. `now` may be null.
[[nodiscard]] Exploded picture_of(const Desk& desk, const StepWords* now);

/// Where a test is made: the probes' places are lit, or the part that is looked at is filled.
[[nodiscard]] Exploded picture_of(const Desk& desk, const pack::Test& test);

}  // namespace kp::app
