#pragma once
// Not for callers of the layout: what stands in the way of leaders and words.

#include "scene/arrange.hpp"

namespace kp::scene {

inline constexpr double kClear = 3;  ///< px kept free on both sides of a leader

/// The x of the piece's silhouette farthest to the right (sign 1) or left (-1) at that height;
/// false where the piece does not reach it.
[[nodiscard]] bool edge_at(const Piece& piece, double y, double sign, double& x);

/// True where the line keeps clear of every piece but this one. A line that may pass through
/// rings keeps clear of the fasteners in them only.
[[nodiscard]] bool way_is_clear(const Arrangement& arrangement, const Contour& line, int item,
                                int copy, bool through_rings);

/// True where words in this box lie on no silhouette, on no line of a drawing and not on the
/// main axis.
[[nodiscard]] bool room_is_clear(const Arrangement& arrangement, const Box& words);

}  // namespace kp::scene
