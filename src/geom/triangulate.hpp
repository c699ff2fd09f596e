#pragma once

#include <vector>

#include "geom/polygon.hpp"
#include "geom/vec.hpp"

namespace kp::geom {

/// Three points a triangle, clockwise on screen. Needed because the screen's drawing library
/// fills convex shapes only.
using Triangles = std::vector<Vec>;

/// Covers the filled area of the contours once, whatever they are: holes, islands, contours that
/// cross themselves or one another. Simple contours are cut by ears (holes joined by bridges), so
/// that no triangle's corner lies on another's edge; contours that cross or touch one another go
/// to `sweep_triangles`.
/// Triangles without area are left out.
[[nodiscard]] Triangles triangulate(const std::vector<Contour>& contours, FillRule rule);

/// The same area as horizontal trapezoids, each two triangles: a sweep over all corners and
/// crossings. Slower and with more triangles, but with no case to fail on.
[[nodiscard]] Triangles sweep_triangles(const std::vector<Contour>& contours, FillRule rule);

/// Sum of the triangles' areas.
[[nodiscard]] double area(const Triangles& triangles);

/// True where two edges of the contours cross inside both.
[[nodiscard]] bool crosses_itself(const std::vector<Contour>& contours);

}  // namespace kp::geom
