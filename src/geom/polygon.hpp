#pragma once

#include <vector>

#include "geom/box.hpp"
#include "geom/vec.hpp"

namespace kp::geom {

/// What counts as inside (SVG 1.1, section 11.3, fill-rule).
enum class FillRule { nonzero, even_odd };

[[nodiscard]] bool filled(int winding, FillRule rule);

/// Shoelace formula; positive where the contour turns clockwise on screen.
[[nodiscard]] double signed_area(const Contour& contour);
/// Length of the line; closed: with the edge back to the first point.
[[nodiscard]] double path_length(const Contour& line, bool closed);

/// How many times the contour winds around the point, clockwise on screen positive. On the border
/// the answer is that of one of the two sides.
[[nodiscard]] int winding(const Contour& contour, Vec point);
[[nodiscard]] int winding(const std::vector<Contour>& contours, Vec point);
[[nodiscard]] bool contains(const std::vector<Contour>& contours, FillRule rule, Vec point);

/// Distance to the filled area: 0 inside.
[[nodiscard]] double distance(const std::vector<Contour>& contours, FillRule rule, Vec point);
/// True where the segment touches the area's border or lies in it.
[[nodiscard]] bool meets(const std::vector<Contour>& contours, FillRule rule, Vec a, Vec b);

/// The convex hull, clockwise on screen, without points on its edges (Andrew's monotone chain).
[[nodiscard]] Contour convex_hull(Contour points);
[[nodiscard]] bool convex(const Contour& contour);

/// Fewer points: none that is dropped lies farther than `tolerance` from the result
/// (Ramer, Douglas and Peucker). Closed contours keep at least three points.
[[nodiscard]] Contour simplify(const Contour& line, bool closed, double tolerance);

/// Without repeated neighbours; the last point never repeats the first.
[[nodiscard]] Contour without_repeats(const Contour& contour);

[[nodiscard]] Box bounds(const std::vector<Contour>& contours);

}  // namespace kp::geom
