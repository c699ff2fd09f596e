#include "scene/column.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::scene {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

/// Of one entry, for the rows within its reach: the least cost of the entries so far with this one
/// at the row or above, the row at which it stands then, and where the entry before it stands.
struct Layer {
  int first = 0;
  std::vector<double> cost;
  std::vector<int> row;
  std::vector<int> before;

  [[nodiscard]] int last() const { return first + to_int(cost.size()) - 1; }
  /// Beyond the last row nothing gets cheaper; before the first nothing is possible.
  [[nodiscard]] double cost_at(int at) const {
    return at < first ? kInf : cost[to_size(std::min(at, last()) - first)];
  }
  [[nodiscard]] int row_at(int at) const {
    return at < first ? -1 : row[to_size(std::min(at, last()) - first)];
  }
};

}  // namespace

std::vector<std::optional<double>> spread_column(
    const std::vector<ColumnEntry>& entries, const Column& column,
    const std::function<double(std::size_t, double)>& cost) {
  std::vector<std::optional<double>> out(entries.size());
  std::vector<std::size_t> kept;
  std::vector<Layer> layers;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const double half = entries[i].height / 2;
    const double low = std::max(column.top + half, entries[i].anchor - column.reach);
    const double high = std::min(column.bottom - half, entries[i].anchor + column.reach);
    const int from = static_cast<int>(std::ceil((low - column.top) / column.step - 1e-9));
    const int to = static_cast<int>(std::floor((high - column.top) / column.step + 1e-9));
    if (to < from) {
      continue;
    }
    const int lead = kept.empty()
                         ? 0
                         : static_cast<int>(std::ceil(
                               (entries[kept.back()].height / 2 + half) / column.step - 1e-9));
    Layer layer;
    layer.first = from;
    for (int row = from; row <= to; ++row) {
      const double base = kept.empty() ? 0 : layers.back().cost_at(row - lead);
      const double sum = base < kInf ? base + cost(i, column.top + row * column.step) : kInf;
      const bool better = row == from || sum < layer.cost.back();
      layer.cost.push_back(better ? sum : layer.cost.back());
      layer.row.push_back(better ? row : layer.row.back());
      layer.before.push_back(kept.empty() ? -1 : layers.back().row_at(row - lead));
    }
    if (layer.cost.back() < kInf) {
      kept.push_back(i);
      layers.push_back(std::move(layer));
    }
  }
  int row = layers.empty() ? 0 : layers.back().row.back();
  for (std::size_t i = kept.size(); i-- > 0;) {
    out[kept[i]] = column.top + row * column.step;
    row = layers[i].before[to_size(row - layers[i].first)];
  }
  return out;
}

}  // namespace kp::scene
