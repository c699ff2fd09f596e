#include "geom/polygon.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "geom/segment.hpp"

namespace kp::geom {

bool filled(int winding, FillRule rule) {
  return rule == FillRule::nonzero ? winding != 0 : winding % 2 != 0;
}

double signed_area(const Contour& contour) {
  if (contour.size() < 3) {
    return 0;
  }
  // About the first point, so that far-off shapes lose no digits.
  double twice = 0;
  for (std::size_t i = 1; i + 1 < contour.size(); ++i) {
    twice += cross(contour[i] - contour[0], contour[i + 1] - contour[0]);
  }
  return twice / 2;
}

double path_length(const Contour& line, bool closed) {
  double sum = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    sum += length(line[i + 1] - line[i]);
  }
  if (closed && line.size() > 1) {
    sum += length(line.front() - line.back());
  }
  return sum;
}

int winding(const Contour& contour, Vec point) {
  int turns = 0;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Vec a = contour[i];
    const Vec b = contour[(i + 1) % contour.size()];
    const bool below = a.y <= point.y;
    if (below == (b.y <= point.y)) {
      continue;
    }
    const double side = cross(b - a, point - a);
    if (below && side > 0) {
      ++turns;
    } else if (!below && side < 0) {
      --turns;
    }
  }
  return turns;
}

int winding(const std::vector<Contour>& contours, Vec point) {
  int turns = 0;
  for (const Contour& contour : contours) {
    turns += winding(contour, point);
  }
  return turns;
}

bool contains(const std::vector<Contour>& contours, FillRule rule, Vec point) {
  return filled(winding(contours, point), rule);
}

double distance(const std::vector<Contour>& contours, FillRule rule, Vec point) {
  if (contains(contours, rule, point)) {
    return 0;
  }
  double best = std::numeric_limits<double>::infinity();
  for (const Contour& contour : contours) {
    best = std::min(best, distance(contour, true, point));
  }
  return best;
}

bool meets(const std::vector<Contour>& contours, FillRule rule, Vec a, Vec b) {
  for (const Contour& contour : contours) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      if (touch(a, b, contour[i], contour[(i + 1) % contour.size()])) {
        return true;
      }
    }
  }
  return contains(contours, rule, a);
}

Contour convex_hull(Contour points) {
  std::sort(points.begin(), points.end(), [](Vec a, Vec b) {
    return a.x < b.x || (a.x == b.x && a.y < b.y);
  });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) {
    return points;
  }
  Contour hull;
  const auto add = [&hull](Vec point, std::size_t floor) {
    while (hull.size() > floor + 1 &&
           cross(hull.back() - hull[hull.size() - 2], point - hull.back()) <= 0) {
      hull.pop_back();
    }
    hull.push_back(point);
  };
  for (const Vec& point : points) {
    add(point, 0);
  }
  const std::size_t lower = hull.size() - 1;
  for (std::size_t i = points.size() - 1; i-- > 0;) {
    add(points[i], lower);
  }
  hull.pop_back();
  return hull;
}

bool convex(const Contour& contour) {
  if (contour.size() < 3) {
    return false;
  }
  int sign = 0;
  double turned = 0;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Vec in = contour[(i + 1) % contour.size()] - contour[i];
    const Vec out = contour[(i + 2) % contour.size()] - contour[(i + 1) % contour.size()];
    const double turn = cross(in, out);
    if (turn != 0) {
      const int here = turn > 0 ? 1 : -1;
      if (sign != 0 && here != sign) {
        return false;
      }
      sign = here;
    } else if (dot(in, out) < 0) {
      return false;
    }
    turned += std::atan2(turn, dot(in, out));
  }
  // A star polygon turns one way only, but more than once around: its turning is 4 pi and more.
  return sign != 0 && std::abs(turned) < 7.0;
}

Contour without_repeats(const Contour& contour) {
  Contour out;
  out.reserve(contour.size());
  for (const Vec& point : contour) {
    if (out.empty() || out.back() != point) {
      out.push_back(point);
    }
  }
  while (out.size() > 1 && out.front() == out.back()) {
    out.pop_back();
  }
  return out;
}

Contour simplify(const Contour& line, bool closed, double tolerance) {
  const std::size_t least = closed ? 4 : 3;
  if (line.size() < least) {
    return line;
  }
  // A closed line is opened at its first point and at the point farthest from it.
  Contour open = line;
  std::vector<bool> keep(line.size() + 1, false);
  std::vector<std::pair<std::size_t, std::size_t>> spans;
  if (closed) {
    open.push_back(line.front());
    std::size_t far = 1;
    for (std::size_t i = 1; i < line.size(); ++i) {
      if (length(line[i] - line[0]) > length(line[far] - line[0])) {
        far = i;
      }
    }
    keep[far] = true;
    spans.emplace_back(0, far);
    spans.emplace_back(far, open.size() - 1);
  } else {
    spans.emplace_back(0, open.size() - 1);
  }
  keep[0] = true;
  keep[open.size() - 1] = true;
  while (!spans.empty()) {
    const auto [from, to] = spans.back();
    spans.pop_back();
    double worst = tolerance;
    std::size_t at = from;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double off = length(nearest_on(open[from], open[to], open[i]) - open[i]);
      if (off > worst) {
        worst = off;
        at = i;
      }
    }
    if (at != from) {
      keep[at] = true;
      spans.emplace_back(from, at);
      spans.emplace_back(at, to);
    }
  }
  Contour out;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (keep[i]) {
      out.push_back(line[i]);
    }
  }
  return closed && out.size() < 3 ? line : out;
}

Box bounds(const std::vector<Contour>& contours) {
  Box box;
  for (const Contour& contour : contours) {
    box.add(bounds(contour));
  }
  return box;
}

}  // namespace kp::geom
