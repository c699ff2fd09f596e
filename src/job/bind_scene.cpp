#include "job/bind_scene.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "job/bind_plan.hpp"

namespace kp::job {

namespace {

scene::Vec unit_vector(double x, double y) {
  const double length = std::sqrt(x * x + y * y);
  return length < 1e-9 ? scene::Vec{0, 0} : scene::Vec{x / length, y / length};
}

std::vector<int> covers_of(const pack::Access& behind) {
  // The first alternative is the way that the pack's author puts first; the picture shows one.
  return behind.empty() ? std::vector<int>{} : behind.front().parts;
}

scene::ItemState state_of(const State& state, int part, int now_item, bool taking_off) {
  if (state.unit.removed.test(part)) {
    return part == now_item ? scene::ItemState::moving : scene::ItemState::removed;
  }
  if (part == now_item) {
    return taking_off ? scene::ItemState::next : scene::ItemState::moving;
  }
  const bool target = std::find(state.targets.begin(), state.targets.end(), part) !=
                      state.targets.end();
  return target ? scene::ItemState::target : scene::ItemState::at_rest;
}

scene::Item joint_item(const pack::Pack& pack, int index, const DrawingOf& drawing_of) {
  const pack::Joint& joint = pack.joints[to_size(index)];
  scene::Item item;
  item.id = kJointItem + index;
  item.name = lower(joint.name);
  item.drawing = joint.drawing.empty() ? nullptr : drawing_of(joint.drawing);
  item.home = scene::Vec{joint.x, joint.y};
  item.state = scene::ItemState::next;
  item.count = joint.count;
  item.fastener = true;
  item.layer = 100;
  for (const int part : joint.parts) {
    const pack::Part& held = pack.parts[to_size(part)];
    if (!held.removable) {
      continue;
    }
    if (item.holds.empty()) {
      item.away = unit_vector(held.away_x, held.away_y);
    }
    item.holds.push_back(part);
  }
  return item;
}

}  // namespace

int item_of(const pack::Pack& pack, Deed deed, std::string_view what) {
  if (what.empty() || deed == Deed::turn) {
    return -1;
  }
  if (deed == Deed::release || deed == Deed::fasten) {
    const int joint = pack.joint(what);
    return joint < 0 ? -1 : kJointItem + joint;
  }
  return pack.part(what);
}

std::vector<scene::Item> bind_scene(const Model& model, const State& state, Deed deed,
                                    std::string_view what, const DrawingOf& drawing_of) {
  std::vector<scene::Item> out;
  const pack::Pack& pack = model.pack;
  const int now_item = item_of(pack, deed, what);
  for (int index = 0; index < to_int(pack.parts.size()); ++index) {
    const pack::Part& part = pack.parts[to_size(index)];
    scene::Item item;
    item.id = index;
    item.name = lower(part.name);
    item.drawing = drawing_of(part.drawing);
    item.home = scene::Vec{part.home_x, part.home_y};
    item.away = part.removable ? unit_vector(part.away_x, part.away_y) : scene::Vec{0, 0};
    item.carrier = part.inside;
    item.state = state_of(state, index, now_item, deed != Deed::set);
    item.covered_by = covers_of(part.behind);
    item.context = !part.removable;
    out.push_back(std::move(item));
  }
  if (now_item >= kJointItem) {
    out.push_back(joint_item(pack, now_item - kJointItem, drawing_of));
  }
  return out;
}

void add_probes(const pack::Pack& pack, const pack::Test& test, std::vector<scene::Item>& items) {
  for (const auto& [index, letter] : {std::pair{test.point_a, "A"}, std::pair{test.point_b, "B"}}) {
    if (index < 0) {
      continue;
    }
    const pack::TestPoint& point = pack.circuit.points[to_size(index)];
    for (scene::Item& item : items) {
      if (item.id != point.part || item.drawing == nullptr) {
        continue;
      }
      const scene::Vec at = point.at ? scene::Vec(point.at->first, point.at->second)
                                     : item.drawing->box.centre();
      item.probes.push_back({at, letter});
    }
  }
}

}  // namespace kp::job
