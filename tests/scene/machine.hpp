#pragma once
// Scenes made of the drawings in assets/parts: the pump module as a technician opens it.

#include <string>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"

namespace kp::test {

struct Row {
  const char* drawing;
  const char* name;
  scene::Vec home;
  scene::Vec away;
};

inline scene::Item item_of(const std::vector<scene::Drawing>& drawings, int id, const Row& row) {
  scene::Item item;
  item.id = id;
  item.name = row.name;
  item.home = row.home;
  item.away = row.away;
  for (const scene::Drawing& drawing : drawings) {
    if (drawing.name == row.drawing) {
      item.drawing = &drawing;
    }
  }
  return item;
}

/// Ids: 0 hub cap, 1 arm, 2 screen, 3 tub floor, 4 springs, 5 housing, 6 plate, 7 chopper,
/// 8 sump, 9 motor, 10 mount. The unit lies on its back: what is under the floor comes down.
inline std::vector<scene::Item> pump_module(const std::vector<scene::Drawing>& drawings) {
  using scene::Vec;
  const Vec up(0, -1);
  const Vec down(0, 1);
  const Row rows[] = {
      {"hub-cap", "hub cap", Vec(0, -72), up},
      {"lower-arm", "lower arm", Vec(0, -54), up},
      {"screen", "screen", Vec(0, -22), up},
      {"tub-floor", "tub floor", Vec(0, 0), Vec(0, 0)},
      {"saddle-spring", "saddle", Vec(92, 40), down},
      {"housing", "housing", Vec(0, 30), down},
      {"separator-plate", "plate", Vec(0, 40), down},
      {"chopper", "chopper", Vec(0, 46), down},
      {"sump", "sump", Vec(0, 72), down},
      {"motor", "motor", Vec(0, 120), down},
      {"motor-mount", "motor mount", Vec(0, 160), down},
  };
  std::vector<scene::Item> items;
  for (const Row& row : rows) {
    items.push_back(item_of(drawings, static_cast<int>(items.size()), row));
  }
  items[0].state = scene::ItemState::removed;
  items[1].state = scene::ItemState::removed;
  items[4].state = scene::ItemState::next;
  items[4].fastener = true;
  items[4].count = 3;
  items[4].holds = {3, 5};
  items[2].covered_by = {1};
  items[1].covered_by = {0};
  for (int i = 5; i < 10; ++i) {
    items[static_cast<std::size_t>(i)].covered_by = {i + 1};
  }
  return items;
}

}  // namespace kp::test
