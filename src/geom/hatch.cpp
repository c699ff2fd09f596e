#include "geom/hatch.hpp"

#include <algorithm>
#include <cmath>

namespace kp::geom {
namespace {

struct Hit {
  double along = 0;
  int turn = 0;
};

/// Where the level crosses the contours, from left to right.
std::vector<Hit> hits_at(const std::vector<Contour>& contours, double level) {
  std::vector<Hit> hits;
  for (const Contour& contour : contours) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      const Vec a = contour[i];
      const Vec b = contour[(i + 1) % contour.size()];
      if ((a.y <= level) != (b.y <= level)) {
        hits.push_back({mix(a, b, (level - a.y) / (b.y - a.y)).x, b.y > a.y ? 1 : -1});
      }
    }
  }
  std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) {
    return a.along < b.along || (a.along == b.along && a.turn < b.turn);
  });
  return hits;
}

}  // namespace

std::vector<Vec> hatch(const std::vector<Contour>& contours, FillRule rule, Vec direction,
                       double spacing) {
  std::vector<Vec> out;
  const Vec along = unit(direction);
  if (spacing <= 0 || along == Vec(0, 0)) {
    return out;
  }
  const Vec across = quarter_turn(along);
  // In a frame that lays the lines level.
  std::vector<Contour> level;
  for (const Contour& contour : contours) {
    Contour here;
    for (const Vec& point : contour) {
      here.emplace_back(dot(point, along), dot(point, across));
    }
    level.push_back(std::move(here));
  }
  const Box box = bounds(level);
  if (box.empty()) {
    return out;
  }
  const int first = static_cast<int>(std::ceil(box.min.y / spacing));
  const int last = static_cast<int>(std::floor(box.max.y / spacing));
  for (int row = first; row <= last; ++row) {
    const double height = row * spacing;
    int turns = 0;
    double from = 0;
    for (const Hit& hit : hits_at(level, height)) {
      const bool was = filled(turns, rule);
      turns += hit.turn;
      const bool is = filled(turns, rule);
      if (!was && is) {
        from = hit.along;
      } else if (was && !is && hit.along > from) {
        out.push_back(along * from + across * height);
        out.push_back(along * hit.along + across * height);
      }
    }
  }
  return out;
}

std::vector<Contour> dashes(const Contour& line, bool closed, const std::vector<double>& pattern) {
  Contour path = line;
  if (closed && line.size() > 1) {
    path.push_back(line.front());
  }
  double whole = 0;
  for (const double part : pattern) {
    whole += std::max(part, 0.0);
  }
  if (pattern.empty() || whole <= 0 || path.size() < 2) {
    return {path};
  }
  std::vector<Contour> out;
  std::size_t part = 0;
  double left = std::max(pattern[0], 0.0);
  bool on = true;
  Contour here{path.front()};
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    const double size = length(path[i + 1] - path[i]);
    double done = 0;
    while (size - done > left) {
      done += left;
      const Vec at = mix(path[i], path[i + 1], done / size);
      if (on) {
        here.push_back(at);
        out.push_back(here);
      }
      here.assign(1, at);
      on = !on;
      part = (part + 1) % pattern.size();
      left = std::max(pattern[part], 0.0);
    }
    left -= size - done;
    if (on) {
      here.push_back(path[i + 1]);
    }
  }
  if (on && here.size() > 1) {
    out.push_back(here);
  }
  return out;
}

}  // namespace kp::geom
