#include "scene/slide.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace kp::scene {

Range extent(const Box& box, Vec along) {
  const double half = (std::abs(along.x) * box.width() + std::abs(along.y) * box.height()) / 2;
  const double middle = geom::dot(box.centre(), along);
  return {middle - half, middle + half};
}

bool overlap(Range a, Range b) { return a.from < b.to - kTouch && b.from < a.to - kTouch; }

Range blocked(const Box& still, const Box& moving, Vec along, double gap) {
  constexpr double kInf = std::numeric_limits<double>::infinity();
  Range range{-kInf, kInf};
  const double low[2] = {still.min.x - gap - moving.max.x, still.min.y - gap - moving.max.y};
  const double high[2] = {still.max.x + gap - moving.min.x, still.max.y + gap - moving.min.y};
  const double step[2] = {along.x, along.y};
  for (int axis = 0; axis < 2; ++axis) {
    if (std::abs(step[axis]) < kTouch) {
      if (low[axis] >= -kTouch || high[axis] <= kTouch) {
        return {};
      }
      continue;
    }
    const double a = low[axis] / step[axis];
    const double b = high[axis] / step[axis];
    range.from = std::max(range.from, std::min(a, b));
    range.to = std::min(range.to, std::max(a, b));
  }
  return range.from < range.to - kTouch ? range : Range{};
}

double first_free(const std::vector<Range>& ranges, double from) {
  double at = from;
  // Few ranges hold any one value, so looking again after each jump beats sorting them first.
  for (bool jumped = true; jumped;) {
    jumped = false;
    for (const Range& range : ranges) {
      if (range.from < at - kTouch && range.to > at) {
        at = range.to;
        jumped = true;
      }
    }
  }
  return at;
}

Box hull_of(const std::vector<Box>& boxes) {
  Box hull;
  for (const Box& box : boxes) {
    hull.add(box);
  }
  return hull;
}

std::vector<Box> moved(std::vector<Box> boxes, Vec by) {
  for (Box& box : boxes) {
    box = box.moved(by);
  }
  return boxes;
}

}  // namespace kp::scene
