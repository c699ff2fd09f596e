#include <algorithm>
#include <limits>

#include "geom/hatch.hpp"

namespace kp::geom {
namespace {

constexpr int kBands = 10;

/// The part of a triangle between two levels, as its extent in x; empty where it misses them.
Box slice(Vec a, Vec b, Vec c, double from, double to) {
  Box box;
  const Vec corners[3] = {a, b, c};
  for (int i = 0; i < 3; ++i) {
    const Vec p = corners[i];
    const Vec q = corners[(i + 1) % 3];
    if (p.y >= from && p.y <= to) {
      box.add(p);
    }
    for (const double level : {from, to}) {
      if ((p.y < level && q.y > level) || (p.y > level && q.y < level)) {
        box.add(mix(p, q, (level - p.y) / (q.y - p.y)));
      }
    }
  }
  return box;
}

void add_band(std::vector<Box>& boxes, const Triangles& triangles, double from, double to) {
  std::vector<Box> row;
  for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
    const Box box = slice(triangles[i], triangles[i + 1], triangles[i + 2], from, to);
    if (!box.empty() && box.height() > 0) {
      row.push_back(box);
    }
  }
  std::sort(row.begin(), row.end(), [](const Box& a, const Box& b) { return a.min.x < b.min.x; });
  for (std::size_t i = 0; i < row.size();) {
    Box run = row[i];
    for (++i; i < row.size() && row[i].min.x <= run.max.x + 1e-9; ++i) {
      run.add(row[i]);
    }
    boxes.push_back(run);
  }
}

}  // namespace

std::vector<Box> cover(const Triangles& triangles, int most) {
  const Box whole = bounds(triangles);
  if (whole.empty()) {
    return {};
  }
  if (most <= 1 || area(triangles) > 0.85 * whole.area()) {
    return {whole};
  }
  std::vector<Box> boxes;
  for (int band = 0; band < kBands; ++band) {
    const double step = whole.height() / kBands;
    const double to = band + 1 == kBands ? whole.max.y : whole.min.y + (band + 1) * step;
    add_band(boxes, triangles, whole.min.y + band * step, to);
  }
  // Join the pair that wastes least, as long as there are too many or nothing much is lost.
  while (boxes.size() > 1) {
    double least = std::numeric_limits<double>::infinity();
    std::size_t first = 0;
    std::size_t second = 1;
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      for (std::size_t j = i + 1; j < boxes.size(); ++j) {
        Box both = boxes[i];
        both.add(boxes[j]);
        const double waste = both.area() - boxes[i].area() - boxes[j].area();
        if (waste < least) {
          least = waste;
          first = i;
          second = j;
        }
      }
    }
    const bool many = boxes.size() > static_cast<std::size_t>(most);
    if (!many && least > 0.02 * whole.area()) {
      break;
    }
    boxes[first].add(boxes[second]);
    boxes.erase(boxes.begin() + static_cast<std::ptrdiff_t>(second));
  }
  return boxes;
}

}  // namespace kp::geom
