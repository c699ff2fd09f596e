#pragma once
// Not for callers of the layout: where the letters of lit probe points stand.

#include "scene/arrange.hpp"

namespace kp::scene {

inline constexpr double kBadge = 10;  ///< px: radius of the disc with the letter

/// The probe points of the items, each with a place for its letter: near the point, away from the
/// item's middle where that is free, clear of other letters, of other points, of words and their
/// leaders, and in the window, as far as there is such a place. Items that are removed have none.
[[nodiscard]] std::vector<Badge> badges_of(const std::vector<Item>& shown,
                                           const Arrangement& arrangement,
                                           const std::vector<Callout>& callouts,
                                           const Viewport& viewport);

}  // namespace kp::scene
