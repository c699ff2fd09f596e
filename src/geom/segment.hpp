#pragma once

#include <optional>

#include "geom/vec.hpp"

namespace kp::geom {

/// Where the segments a-b and c-d cross each other inside both, ends left out; none where they
/// only touch or lie on one line.
[[nodiscard]] std::optional<Vec> crossing(Vec a, Vec b, Vec c, Vec d);

/// True where the closed segments share at least one point: crossing, touching or overlapping.
[[nodiscard]] bool touch(Vec a, Vec b, Vec c, Vec d);

/// The point of the segment a-b that is nearest to `point`.
[[nodiscard]] Vec nearest_on(Vec a, Vec b, Vec point);

/// Distance from the point to the polyline; closed: with the edge from the last to the first.
/// Infinite for an empty line.
[[nodiscard]] double distance(const Contour& line, bool closed, Vec point);

}  // namespace kp::geom
