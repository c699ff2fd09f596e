#pragma once

#include "geom/vec.hpp"

namespace kp::geom {

// Each function appends points to `line` after the start (which the caller has put there already)
// and ends exactly on the end point. No chord lies farther than `tolerance` from the curve.

/// Bezier curves in equal steps of the parameter; the number of steps by Wang's formula
/// (G. Wang, "The subdivision method for finding the intersection between two Bezier curves or
/// surfaces", 1984): n = sqrt(d (d - 1) / 8 * M / tolerance), M the largest second difference.
void flatten_quadratic(Contour& line, Vec start, Vec control, Vec end, double tolerance);
void flatten_cubic(Contour& line, Vec start, Vec control_1, Vec control_2, Vec end,
                   double tolerance);

/// The elliptic arc of SVG path data: out-of-range radii are mended and the centre is found as
/// SVG 1.1 appendix F.6 says. `turn` is the rotation of the x axis in degrees.
void flatten_arc(Contour& line, Vec start, double radius_x, double radius_y, double turn,
                 bool large, bool sweep, Vec end, double tolerance);

/// A whole ellipse as a closed contour, clockwise on screen from its rightmost point.
[[nodiscard]] Contour ellipse(Vec centre, double radius_x, double radius_y, double tolerance);

/// A rectangle with rounded corners, clockwise on screen; the radii are cut to half the sides.
[[nodiscard]] Contour rounded_box(double x, double y, double width, double height,
                                  double radius_x, double radius_y, double tolerance);

}  // namespace kp::geom
