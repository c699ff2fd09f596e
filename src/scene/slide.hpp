#pragma once
// Not for callers of the layout: boxes that slide past boxes.

#include <vector>

#include "geom/box.hpp"

namespace kp::scene {

using geom::Box;
using geom::Vec;

struct Range {
  double from = 0;
  double to = 0;
  [[nodiscard]] bool empty() const { return !(from < to); }
};

/// Lengths smaller than this do not count: boxes may touch.
inline constexpr double kTouch = 1e-9;

/// The box's shadow on a line of that direction (length 1).
[[nodiscard]] Range extent(const Box& box, Vec along);
[[nodiscard]] bool overlap(Range a, Range b);

/// The values of t for which `moving` + t * along lies closer than `gap` to `still`, on both axes.
[[nodiscard]] Range blocked(const Box& still, const Box& moving, Vec along, double gap);

/// The least t >= from that is in none of the ranges.
[[nodiscard]] double first_free(const std::vector<Range>& ranges, double from);

[[nodiscard]] Box hull_of(const std::vector<Box>& boxes);
[[nodiscard]] std::vector<Box> moved(std::vector<Box> boxes, Vec by);

}  // namespace kp::scene
