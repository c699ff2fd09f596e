#include "scene/column.hpp"

#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::scene {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

/// For each row: the least cost of the entries so far with the last one at this row or above, the
/// row at which that one stands, and where the entry before it stands then.
struct Layer {
  std::vector<double> cost;
  std::vector<int> row;
  std::vector<int> before;
};

}  // namespace

std::vector<std::optional<double>> spread_column(
    const std::vector<ColumnEntry>& entries, const Column& column,
    const std::function<double(std::size_t, double)>& cost) {
  const int rows = std::max(1, static_cast<int>((column.bottom - column.top) / column.step) + 1);
  std::vector<std::optional<double>> out(entries.size());
  std::vector<std::size_t> kept;
  std::vector<Layer> layers;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const double height = entries[i].height;
    const int lead = kept.empty()
                         ? 0
                         : static_cast<int>(std::ceil((entries[kept.back()].height + height) / 2 /
                                                          column.step -
                                                      1e-9));
    Layer layer;
    for (int row = 0; row < rows; ++row) {
      const double y = column.top + row * column.step;
      double sum = kInf;
      int before = -1;
      if (y - height / 2 >= column.top - 1e-9 && y + height / 2 <= column.bottom + 1e-9 &&
          row >= lead) {
        const double base = kept.empty() ? 0 : layers.back().cost[to_size(row - lead)];
        sum = base < kInf ? base + cost(i, y) : kInf;
        before = kept.empty() ? -1 : layers.back().row[to_size(row - lead)];
      }
      const bool better = row == 0 || sum < layer.cost.back();
      layer.cost.push_back(better ? sum : layer.cost.back());
      layer.row.push_back(better ? row : layer.row.back());
      layer.before.push_back(before);
    }
    if (layer.cost.back() < kInf) {
      kept.push_back(i);
      layers.push_back(std::move(layer));
    }
  }
  int row = layers.empty() ? 0 : layers.back().row.back();
  for (std::size_t i = kept.size(); i-- > 0;) {
    out[kept[i]] = column.top + row * column.step;
    row = layers[i].before[to_size(row)];
  }
  return out;
}

}  // namespace kp::scene
