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

}  // namespace

Exploded picture_of(const Desk& desk, const StepWords* now) {
  Exploded out;
  const auto drawing_of = [&](std::string_view id) -> const scene::Drawing* {
    const auto found = desk.content->drawings.find(id);
    return found == desk.content->drawings.end() ? nullptr : &found->second;
  };
  const std::vector<scene::Item> all =
      job::bind_scene(*desk.model(), *desk.state, now == nullptr ? job::Deed::turn : now->deed,
                      now == nullptr ? std::string_view() : std::string_view(now->what),
                      drawing_of);
  out.items = scene::neighbourhood(all, seeds_of(desk, now), kMostItems);
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

}  // namespace kp::app
