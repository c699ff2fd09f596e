#include "geom/affine.hpp"

#include <cmath>
#include <numbers>

namespace kp::geom {
namespace {

double radians(double degrees) { return degrees * std::numbers::pi / 180.0; }

}  // namespace

Affine Affine::move(Vec by) { return {1, 0, 0, 1, by.x, by.y}; }

Affine Affine::scale(double x, double y) { return {x, 0, 0, y, 0, 0}; }

Affine Affine::rotate(double degrees) {
  const double cosine = std::cos(radians(degrees));
  const double sine = std::sin(radians(degrees));
  return {cosine, sine, -sine, cosine, 0, 0};
}

Affine Affine::skew_x(double degrees) { return {1, 0, std::tan(radians(degrees)), 1, 0, 0}; }

Affine Affine::skew_y(double degrees) { return {1, std::tan(radians(degrees)), 0, 1, 0, 0}; }

Vec Affine::apply(Vec point) const { return apply_direction(point) + Vec(e, f); }

Vec Affine::apply_direction(Vec direction) const {
  return {a * direction.x + c * direction.y, b * direction.x + d * direction.y};
}

double Affine::mean_scale() const { return std::sqrt(std::abs(determinant())); }

std::optional<Affine> Affine::inverse() const {
  const double size = determinant();
  if (size == 0 || !std::isfinite(1 / size)) {
    return std::nullopt;
  }
  return Affine{d / size,
                -b / size,
                -c / size,
                a / size,
                (c * f - d * e) / size,
                (b * e - a * f) / size};
}

Affine operator*(const Affine& outer, const Affine& inner) {
  return {outer.a * inner.a + outer.c * inner.b,
          outer.b * inner.a + outer.d * inner.b,
          outer.a * inner.c + outer.c * inner.d,
          outer.b * inner.c + outer.d * inner.d,
          outer.a * inner.e + outer.c * inner.f + outer.e,
          outer.b * inner.e + outer.d * inner.f + outer.f};
}

}  // namespace kp::geom
