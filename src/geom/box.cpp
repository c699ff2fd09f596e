#include "geom/box.hpp"

#include <algorithm>
#include <cmath>

namespace kp::geom {

double length(Vec a) { return std::sqrt(dot(a, a)); }

Vec unit(Vec a) {
  const double size = length(a);
  return size > 0 ? a / size : Vec(0, 0);
}

Box Box::of(double left, double top, double right, double bottom) {
  Box box;
  box.min = Vec(left, top);
  box.max = Vec(right, bottom);
  return box;
}

Box Box::around(Vec centre, double half_width, double half_height) {
  const Vec half(half_width, half_height);
  Box box;
  box.min = centre - half;
  box.max = centre + half;
  return box;
}

Vec Box::centre() const { return empty() ? Vec(0, 0) : (min + max) * 0.5; }

void Box::add(Vec point) {
  min = Vec(std::min(min.x, point.x), std::min(min.y, point.y));
  max = Vec(std::max(max.x, point.x), std::max(max.y, point.y));
}

void Box::add(const Box& other) {
  if (!other.empty()) {
    add(other.min);
    add(other.max);
  }
}

Box Box::grown(double margin) const {
  Box box = *this;
  box.min -= Vec(margin, margin);
  box.max += Vec(margin, margin);
  return box;
}

Box Box::moved(Vec by) const {
  Box box = *this;
  box.min += by;
  box.max += by;
  return box;
}

Box Box::scaled(double factor) const {
  if (empty()) {
    return *this;
  }
  Box box;
  box.add(min * factor);
  box.add(max * factor);
  return box;
}

bool Box::contains(Vec point) const {
  return point.x >= min.x && point.x <= max.x && point.y >= min.y && point.y <= max.y;
}

bool Box::contains(const Box& other) const {
  return other.empty() || (contains(other.min) && contains(other.max));
}

bool Box::overlaps(const Box& other) const {
  return min.x < other.max.x && other.min.x < max.x && min.y < other.max.y && other.min.y < max.y;
}

double Box::distance(Vec point) const {
  const double dx = std::max({min.x - point.x, 0.0, point.x - max.x});
  const double dy = std::max({min.y - point.y, 0.0, point.y - max.y});
  return length(Vec(dx, dy));
}

Box mirrored(const Box& box) {
  return Box::of(-box.max.x, box.min.y, -box.min.x, box.max.y);
}

Box bounds(const Contour& points) {
  Box box;
  for (const Vec& point : points) {
    box.add(point);
  }
  return box;
}

bool meets(const Box& box, Vec a, Vec b) {
  if (box.empty()) {
    return false;
  }
  // The part of the segment between the two pairs of sides (Liang and Barsky 1984).
  double from = 0;
  double to = 1;
  const double start[2] = {a.x, a.y};
  const double step[2] = {b.x - a.x, b.y - a.y};
  const double low[2] = {box.min.x, box.min.y};
  const double high[2] = {box.max.x, box.max.y};
  for (int axis = 0; axis < 2; ++axis) {
    if (step[axis] == 0) {
      if (start[axis] < low[axis] || start[axis] > high[axis]) {
        return false;
      }
      continue;
    }
    const double first = (low[axis] - start[axis]) / step[axis];
    const double second = (high[axis] - start[axis]) / step[axis];
    from = std::max(from, std::min(first, second));
    to = std::min(to, std::max(first, second));
  }
  return from <= to;
}

}  // namespace kp::geom
