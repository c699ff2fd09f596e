#include "geom/segment.hpp"

#include <algorithm>
#include <limits>

namespace kp::geom {
namespace {

double side(Vec a, Vec b, Vec point) { return cross(b - a, point - a); }

bool opposite(double x, double y) { return (x > 0 && y < 0) || (x < 0 && y > 0); }

bool within(Vec a, Vec b, Vec point) {
  return point.x >= std::min(a.x, b.x) && point.x <= std::max(a.x, b.x) &&
         point.y >= std::min(a.y, b.y) && point.y <= std::max(a.y, b.y);
}

}  // namespace

std::optional<Vec> crossing(Vec a, Vec b, Vec c, Vec d) {
  const double of_c = side(a, b, c);
  const double of_d = side(a, b, d);
  if (!opposite(of_c, of_d) || !opposite(side(c, d, a), side(c, d, b))) {
    return std::nullopt;
  }
  return mix(c, d, of_c / (of_c - of_d));
}

bool touch(Vec a, Vec b, Vec c, Vec d) {
  const double of_c = side(a, b, c);
  const double of_d = side(a, b, d);
  const double of_a = side(c, d, a);
  const double of_b = side(c, d, b);
  if (opposite(of_c, of_d) && opposite(of_a, of_b)) {
    return true;
  }
  return (of_c == 0 && within(a, b, c)) || (of_d == 0 && within(a, b, d)) ||
         (of_a == 0 && within(c, d, a)) || (of_b == 0 && within(c, d, b));
}

Vec nearest_on(Vec a, Vec b, Vec point) {
  const Vec along = b - a;
  const double size = dot(along, along);
  if (size == 0) {
    return a;
  }
  return a + along * std::clamp(dot(point - a, along) / size, 0.0, 1.0);
}

double distance(const Contour& line, bool closed, Vec point) {
  double best = std::numeric_limits<double>::infinity();
  if (line.size() == 1) {
    return length(line.front() - point);
  }
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    best = std::min(best, length(nearest_on(line[i], line[i + 1], point) - point));
  }
  if (closed && line.size() > 2) {
    best = std::min(best, length(nearest_on(line.back(), line.front(), point) - point));
  }
  return best;
}

}  // namespace kp::geom
