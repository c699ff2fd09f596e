#pragma once

#include <vector>

#include "geom/polygon.hpp"
#include "geom/triangulate.hpp"
#include "geom/vec.hpp"

namespace kp::geom {

/// Parallel lines cut to the filled area: two points a segment. The lines run along `direction`
/// (any length but zero), `spacing` apart, and one of them would pass through the origin, so
/// that the hatching of neighbours meets.
[[nodiscard]] std::vector<Vec> hatch(const std::vector<Contour>& contours, FillRule rule,
                                     Vec direction, double spacing);

/// Cuts a line into dashes: lengths on, off, on, off ... from its start; each dash is a polyline
/// with the corners that fall into it. No pattern, or one without length: the line itself.
[[nodiscard]] std::vector<Contour> dashes(const Contour& line, bool closed,
                                          const std::vector<double>& pattern);

/// Few boxes that together hold all of the triangles, at most `most` of them: for asking quickly
/// whether two shapes meet. An area that fills its bounds well gets one.
[[nodiscard]] std::vector<Box> cover(const Triangles& area, int most);

}  // namespace kp::geom
