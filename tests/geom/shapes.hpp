#pragma once
// Shapes with known answers, and random ones, for the tests of geom and scene.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geom/polygon.hpp"
#include "support/random.hpp"

namespace kp::test {

inline geom::Contour square(double x, double y, double size) {
  return {geom::Vec(x, y), geom::Vec(x + size, y), geom::Vec(x + size, y + size),
          geom::Vec(x, y + size)};
}

inline geom::Contour reversed(geom::Contour contour) {
  std::reverse(contour.begin(), contour.end());
  return contour;
}

/// A star-shaped polygon around the centre: simple by construction, mostly not convex.
inline geom::Contour star(Random& random, geom::Vec centre, double radius, int corners) {
  geom::Contour out;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * std::numbers::pi * (i + 0.8 * random.unit()) / corners;
    const double reach = radius * (0.35 + 0.65 * random.unit());
    out.push_back(centre + geom::Vec(reach * std::cos(angle), reach * std::sin(angle)));
  }
  return out;
}

}  // namespace kp::test
