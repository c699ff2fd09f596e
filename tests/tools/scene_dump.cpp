// Writes scenes of the drawings in assets/parts as SVG, for looking at them.
// Usage: scene_dump FOLDER

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"
#include "scene/paint.hpp"
#include "scene/symbols.hpp"
#include "support/svg_canvas.hpp"

namespace {

using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::Vec;
using kp::scene::Viewport;

void write(const std::filesystem::path& path, const kp::scene::DisplayList& list, double width,
           double height, bool night = false, const kp::scene::View& view = {}) {
  kp::test::SvgCanvas canvas(width, height, night);
  kp::scene::paint(list, view, canvas);
  std::ofstream(path, std::ios::binary) << canvas.file();
}

void show(const std::filesystem::path& folder, const std::string& name,
          const std::vector<Item>& items, const Viewport& viewport, double progress = 1,
          bool night = false) {
  const kp::scene::Scene scene = layout(items, progress, viewport);
  kp::scene::View view;
  const double top = std::min(0.0, scene.content.min.y - 8);
  view.shift = Vec(0, -top);
  write(folder / (name + ".svg"), scene.list, std::max(viewport.width, scene.content.max.x + 8),
        std::max(viewport.height, scene.content.max.y + 8) - top, night, view);
  std::printf("%-18s scale %.2f %s unlabelled %d\n", name.c_str(), scene.scale,
              scene.scrolls ? "scrolls" : "fits", static_cast<int>(scene.unlabelled.size()));
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::puts("usage: scene_dump FOLDER");
    return 2;
  }
  const std::filesystem::path folder = argv[1];
  const std::vector<kp::scene::Drawing> drawings = kp::test::part_drawings();
  Viewport phone;
  Viewport small;
  small.width = 320;
  small.height = 440;
  Viewport desk;
  desk.width = 680;
  desk.height = 700;
  std::vector<Item> items = kp::test::pump_module(drawings);
  show(folder, "phone", items, phone);
  show(folder, "phone-night", items, phone, 1, true);
  show(folder, "phone-home", items, phone, 0);
  show(folder, "phone-half", items, phone, 0.5);
  show(folder, "small", items, small);
  show(folder, "desk", items, desk);
  items[4].state = ItemState::removed;
  items[2].state = ItemState::removed;
  items[5].state = ItemState::next;
  items[8].state = ItemState::target;
  show(folder, "phone-next", items, phone);
  items[5].state = ItemState::removed;
  items[6].state = ItemState::removed;
  items[7].state = ItemState::next;
  show(folder, "phone-chopper", items, phone);
  std::vector<Item> all;
  for (const kp::scene::Drawing& drawing : drawings) {
    Item item;
    item.id = static_cast<int>(all.size());
    item.name = drawing.title;
    item.drawing = &drawing;
    item.home = Vec(100 * static_cast<double>(item.id % 3 - 1), 12.0 * item.id / 3);
    item.away = Vec(0, item.id % 2 == 0 ? 1 : -1);
    all.push_back(item);
  }
  show(folder, "all", all, phone);
  all.resize(24);
  desk.side = kp::scene::CalloutSide::both;
  show(folder, "both", all, desk);
  kp::scene::DisplayList signs;
  using kp::scene::Isolation;
  double y = 30;
  for (const Isolation state : {Isolation::passing, Isolation::cut_off, Isolation::proved}) {
    switch_symbol(signs, Vec(60, y), 68, state);
    valve_symbol(signs, Vec(160, y), 68, state);
    y += 44;
  }
  warning_sign(signs, Vec(230, 20), 17.5);
  warning_sign(signs, Vec(260, 20), 40);
  write(folder / "signs.svg", signs, 300, 150);
  return 0;
}
