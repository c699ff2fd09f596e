#pragma once

#include <optional>

#include "geom/vec.hpp"

namespace kp::geom {

/// x' = a x + c y + e, y' = b x + d y + f: the six numbers of SVG 1.1, section 7.4.
struct Affine {
  double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;

  [[nodiscard]] static Affine move(Vec by);
  [[nodiscard]] static Affine scale(double x, double y);
  /// Clockwise on screen (y down), in degrees, about the origin.
  [[nodiscard]] static Affine rotate(double degrees);
  [[nodiscard]] static Affine skew_x(double degrees);
  [[nodiscard]] static Affine skew_y(double degrees);

  [[nodiscard]] Vec apply(Vec point) const;
  /// The same without the shift.
  [[nodiscard]] Vec apply_direction(Vec direction) const;
  [[nodiscard]] double determinant() const { return a * d - b * c; }
  /// Mean change of length: the square root of the change of area.
  [[nodiscard]] double mean_scale() const;
  /// None where the transform flattens the plane.
  [[nodiscard]] std::optional<Affine> inverse() const;
};

/// First `inner`, then `outer`.
[[nodiscard]] Affine operator*(const Affine& outer, const Affine& inner);

}  // namespace kp::geom
