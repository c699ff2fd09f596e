#pragma once

#include <limits>

#include "geom/vec.hpp"

namespace kp::geom {

/// An axis-parallel rectangle; empty until something is added.
struct Box {
  Vec min{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()};
  Vec max{-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};

  [[nodiscard]] static Box of(double left, double top, double right, double bottom);
  [[nodiscard]] static Box around(Vec centre, double half_width, double half_height);

  [[nodiscard]] bool empty() const { return min.x > max.x || min.y > max.y; }
  [[nodiscard]] double width() const { return empty() ? 0 : max.x - min.x; }
  [[nodiscard]] double height() const { return empty() ? 0 : max.y - min.y; }
  [[nodiscard]] double area() const { return width() * height(); }
  /// (0, 0) for an empty box.
  [[nodiscard]] Vec centre() const;

  void add(Vec point);
  void add(const Box& other);

  /// Grown by `margin` on every side; a negative margin shrinks.
  [[nodiscard]] Box grown(double margin) const;
  [[nodiscard]] Box moved(Vec by) const;
  /// Every coordinate times `factor`, about the origin.
  [[nodiscard]] Box scaled(double factor) const;
  /// The border counts as inside.
  [[nodiscard]] bool contains(Vec point) const;
  [[nodiscard]] bool contains(const Box& other) const;
  /// True where the interiors share more than a border.
  [[nodiscard]] bool overlaps(const Box& other) const;
  /// Distance from the point to the box, 0 inside.
  [[nodiscard]] double distance(Vec point) const;
};

/// Left and right changed, about the y axis.
[[nodiscard]] Box mirrored(const Box& box);

/// The smallest box around the points.
[[nodiscard]] Box bounds(const Contour& points);

/// True where the segment from a to b touches the box, its border included.
[[nodiscard]] bool meets(const Box& box, Vec a, Vec b);

}  // namespace kp::geom
