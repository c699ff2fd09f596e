#pragma once
// Not for callers of the layout: the display list of a scene.

#include "scene/arrange.hpp"

namespace kp::scene {

/// What is drawn of an arrangement with its callouts and axes, back to front. `placed` and
/// `arrangement.pieces` go side by side. `context` are the items that are drawn pale.
[[nodiscard]] DisplayList ink_of(const std::vector<Item>& shown, const Arrangement& arrangement,
                                 const Scene& scene, const Viewport& viewport);

/// Radius of the ring that marks this piece when it is next, 0: too large for one, it gets a halo.
[[nodiscard]] double ring_radius(const Piece& piece);

[[nodiscard]] bool marked(ItemState state);

}  // namespace kp::scene
