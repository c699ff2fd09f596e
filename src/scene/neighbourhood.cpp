#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "scene/layout.hpp"

namespace kp::scene {
namespace {

bool has(const std::vector<int>& ids, int id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

/// How closely an item belongs to the chosen ones; lower is closer.
double distance_to(const Item& item, const Item& chosen) {
  double away = geom::length(item.home - chosen.home);
  if (has(item.covered_by, chosen.id) || has(chosen.covered_by, item.id)) {
    return away * 0.05;
  }
  const bool kin = item.carrier == chosen.id || chosen.carrier == item.id ||
                   (item.carrier >= 0 && item.carrier == chosen.carrier);
  const bool on_axis = item.away == chosen.away && item.away != Vec(0, 0) &&
                       std::abs(geom::cross(item.home - chosen.home, item.away)) < 1.5;
  if (kin) {
    away *= 0.3;
  }
  return on_axis ? away * 0.4 : away;
}

}  // namespace

std::vector<Item> neighbourhood(const std::vector<Item>& items, const std::vector<int>& seeds,
                                int most, const std::vector<int>& before) {
  std::vector<int> chosen;
  const bool rests = !before.empty() && std::all_of(seeds.begin(), seeds.end(), [&](int seed) {
    return has(before, seed);
  });
  for (const Item& item : items) {
    if (!item.context && has(rests ? before : seeds, item.id)) {
      chosen.push_back(item.id);
    }
  }
  const std::vector<int> anchors = chosen;
  while (!rests && to_int(chosen.size()) < most) {
    const Item* best = nullptr;
    double least = 0;
    for (const Item& item : items) {
      // A set of fasteners is only shown where it is the work itself.
      if (item.context || item.fastener || has(chosen, item.id)) {
        continue;
      }
      for (const Item& other : items) {
        if (!has(anchors, other.id)) {
          continue;
        }
        const double away = distance_to(item, other);
        if (best == nullptr || away < least) {
          best = &item;
          least = away;
        }
      }
    }
    if (best == nullptr) {
      break;
    }
    chosen.push_back(best->id);
  }
  std::vector<Item> out;
  for (const Item& item : items) {
    if (item.context || has(chosen, item.id)) {
      out.push_back(item);
    }
  }
  return out;
}

}  // namespace kp::scene
