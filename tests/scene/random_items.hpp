#pragma once
// Random machines: items of random size, place, direction, cover and state.

#include <cmath>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "geom/shapes.hpp"
#include "scene/layout.hpp"
#include "support/random.hpp"

namespace kp::test {

/// A palette of simple drawings: boxes, bars, rings and rough shapes.
inline std::vector<scene::Drawing> random_drawings(Random& random, int count) {
  std::vector<scene::Drawing> out;
  for (int i = 0; i < count; ++i) {
    const double width = 12 + 120 * random.unit();
    const double height = 10 + 60 * random.unit();
    const std::string name = "shape " + std::to_string(i);
    if (random.chance(0.5)) {
      const scene::Vec half(width / 2, height / 2);
      out.push_back(scene::drawing_of(
          name, {{-half, scene::Vec(half.x, -half.y), half, scene::Vec(-half.x, half.y)}}));
    } else {
      out.push_back(scene::drawing_of(
          name, {star(random, scene::Vec(0, 0), width / 2, random.between(4, 14))}));
    }
  }
  return out;
}

inline std::vector<scene::Item> random_items(Random& random,
                                             const std::vector<scene::Drawing>& drawings,
                                             int count, bool fasteners = true) {
  const scene::Vec ways[] = {scene::Vec(0, -1), scene::Vec(0, 1),  scene::Vec(0, 1),
                             scene::Vec(1, 0),  scene::Vec(-1, 0), scene::Vec(0, 0)};
  std::vector<scene::Item> items;
  for (int i = 0; i < count; ++i) {
    scene::Item item;
    item.id = 100 + i;
    item.name = "part number " + std::to_string(i);
    item.drawing = &drawings[to_size(random.between(0, to_int(drawings.size()) - 1))];
    item.home = scene::Vec(random.between(-6, 6) * 20, random.between(-8, 8) * 20);
    item.away = ways[random.between(0, 5)];
    item.state = static_cast<scene::ItemState>(random.between(0, 4));
    item.layer = random.between(0, 3);
    if (i > 0 && random.chance(0.4)) {
      item.covered_by.push_back(100 + random.between(0, i - 1));
    }
    if (i > 4 && random.chance(0.2)) {
      item.carrier = 100 + random.between(0, 3);
    }
    if (fasteners && random.chance(0.15)) {
      item.fastener = true;
      item.count = random.between(1, 4);
      item.away = ways[random.between(0, 4)];
      item.holds.push_back(100 + random.between(0, i));
    }
    items.push_back(item);
  }
  return items;
}

}  // namespace kp::test
