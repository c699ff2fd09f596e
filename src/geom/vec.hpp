#pragma once
// geom: plane geometry. Points, boxes, transforms, curves, polygons, triangles, hatching.
// It knows numbers only: no parts, no colours, no screen. Lengths are in the caller's unit; the
// y axis points down, as on a screen and in SVG, so a positive signed area turns clockwise to the
// eye.

#include <vector>

#include <glm/vec2.hpp>

namespace kp::geom {

using Vec = glm::dvec2;

/// A polyline; as a contour it is closed and the first point is not repeated at the end.
using Contour = std::vector<Vec>;

/// z component of the cross product: > 0 where b lies clockwise (on screen) from a.
[[nodiscard]] constexpr double cross(Vec a, Vec b) { return a.x * b.y - a.y * b.x; }
[[nodiscard]] constexpr double dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y; }
[[nodiscard]] constexpr Vec quarter_turn(Vec a) { return Vec(-a.y, a.x); }
[[nodiscard]] double length(Vec a);
/// The direction of a with length 1; (0, 0) stays (0, 0).
[[nodiscard]] Vec unit(Vec a);
[[nodiscard]] constexpr Vec mix(Vec a, Vec b, double share) { return a + (b - a) * share; }

}  // namespace kp::geom
