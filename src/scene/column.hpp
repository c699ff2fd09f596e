#pragma once
// Not for callers of the layout: words one above the other beside a picture.

#include <functional>
#include <optional>
#include <vector>

namespace kp::scene {

/// Words that belong to a height of the picture.
struct ColumnEntry {
  double anchor = 0;
  double height = 0;
};

struct Column {
  double top = 0;
  double bottom = 0;
  double step = 2;    ///< raster of heights
  double reach = 1e6; ///< no words stand farther than this from their anchor
};

/// Heights for the middles of the words, in the order given, without overlap, within the column:
/// those with the least sum of cost(entry, height) on the raster (dynamic programming, so the
/// least there is). An entry for which no height is left gets none. Infinite cost forbids a height.
[[nodiscard]] std::vector<std::optional<double>> spread_column(
    const std::vector<ColumnEntry>& entries, const Column& column,
    const std::function<double(std::size_t, double)>& cost);

}  // namespace kp::scene
