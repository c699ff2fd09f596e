#pragma once

#include "app/desk.hpp"
#include "app/step_words.hpp"

namespace kp::app {

/// The exploded view for the unit as it stands: what the present step acts on stands out, what is
/// off is a ghost, the targets are filled. `now` may be null.
[[nodiscard]] Exploded picture_of(const Desk& desk, const StepWords* now);

}  // namespace kp::app
