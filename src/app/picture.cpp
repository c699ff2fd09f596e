#include "app/picture.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_scene.hpp"

namespace kp::app {

namespace {

/// As many items as a phone's upper part shows at a size that tells them apart.
constexpr int kMostItems = 8;
/// A body that stays is shown pale for orientation, unless it is so tall that it would only make
/// the rest small; in drawing units.
constexpr double kTallestContext = 80;

/// What the view is about: the present step's thing with the parts that it holds, else the targets.
std::vector<int> seeds_of(const Desk& desk, const StepWords* now) {
  std::vector<int> seeds;
  const pack::Pack& pack = *desk.pack();
  const int item = now == nullptr ? -1 : job::item_of(pack, now->deed, now->what);
  if (item >= job::kJointItem) {
    seeds.push_back(item);
    for (const int part : pack.joints[to_size(item - job::kJointItem)].parts) {
      if (pack.parts[to_size(part)].removable) {
        seeds.push_back(part);
      }
    }
  } else if (item >= 0) {
    seeds.push_back(item);
  }
  if (seeds.empty()) {
    seeds = desk.state->targets;
  }
  return seeds;
}

/// The parts that a test touches.
std::vector<int> seeds_of(const pack::Pack& pack, const pack::Test& test) {
  std::vector<int> seeds;
  for (const int point : {test.point_a, test.point_b}) {
    if (point >= 0) {
      seeds.push_back(pack.circuit.points[to_size(point)].part);
    }
  }
  if (seeds.empty()) {
    seeds.push_back(test.part);
  }
  return seeds;
}

std::vector<scene::Item> items_of(const Desk& desk, const StepWords* now) {
  return job::bind_scene(*desk.model(), *desk.state, now == nullptr ? job::Deed::turn : now->deed,
                         now == nullptr ? std::string_view() : std::string_view(now->what),
                         [&](std::string_view id) -> const scene::Drawing* {
                           const auto found = desk.content->drawings.find(id);
                           return found == desk.content->drawings.end() ? nullptr : &found->second;
                         });
}

/// What belongs to the seeds, without the bodies that would only make the rest small.
Exploded around(const Desk& desk, const std::vector<scene::Item>& all, const std::vector<int>& seeds) {
  Exploded out;
  out.items = scene::neighbourhood(all, seeds, kMostItems);
  out.items.erase(std::remove_if(out.items.begin(), out.items.end(),
                                 [](const scene::Item& item) {
                                   return item.context && item.drawing != nullptr &&
                                          item.drawing->box.height() > kTallestContext;
                                 }),
                  out.items.end());
  out.progress = 1;
  out.about = desk.action(Verb::show_sheet, "item-");
  std::vector<std::string> names;
  for (const scene::Item& item : out.items) {
    if (!item.context) {
      names.push_back(item.name);
    }
  }
  out.name = cat("Exploded view: ", join(names, ", "));
  return out;
}

}  // namespace

Exploded picture_of(const Desk& desk, const StepWords* now) {
  return around(desk, items_of(desk, now), seeds_of(desk, now));
}

Exploded picture_of(const Desk& desk, const pack::Test& test) {
  const pack::Pack& pack = *desk.pack();
  const std::vector<int> seeds = seeds_of(pack, test);
  std::vector<scene::Item> all = items_of(desk, nullptr);
  for (scene::Item& item : all) {
    // A body that never comes off is shown with the others where a probe goes to it.
    const bool seed = std::find(seeds.begin(), seeds.end(), item.id) != seeds.end();
    item.context = item.context && !seed;
    if (item.state == scene::ItemState::target) {
      item.state = scene::ItemState::at_rest;
    }
    if (seed && test.point_a < 0 && item.state == scene::ItemState::at_rest) {
      item.state = scene::ItemState::target;
    }
  }
  job::add_probes(pack, test, all);
  Exploded out = around(desk, all, seeds);
  out.caption = test.point_a < 0 ? cat("Where to look: ", pack.parts[to_size(test.part)].name)
                                 : std::string("Where the probes go");
  for (const auto& [point, letter] : {std::pair{test.point_a, "A"}, std::pair{test.point_b, "B"}}) {
    if (point >= 0) {
      out.name += cat(". Probe ", letter, ": ", pack.circuit.points[to_size(point)].title);
    }
  }
  return out;
}

}  // namespace kp::app
