#include "scene/layout.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "scene/arrange.hpp"
#include "scene/callouts.hpp"
#include "scene/cast.hpp"
#include "scene/ink.hpp"
#include "scene/probes.hpp"

namespace kp::scene {
namespace {

/// Paint order: by layer, then by input.
std::vector<int> orders_of(const std::vector<Item>& shown) {
  std::vector<int> order(shown.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    order[i] = static_cast<int>(i);
  }
  std::stable_sort(order.begin(), order.end(), [&shown](int a, int b) {
    return shown[to_size(a)].layer < shown[to_size(b)].layer;
  });
  std::vector<int> place(shown.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    place[to_size(order[i])] = static_cast<int>(i);
  }
  return place;
}

void place_items(const std::vector<Item>& shown, const Arrangement& arrangement, Scene& scene) {
  const std::vector<int> orders = orders_of(shown);
  for (const Piece& piece : arrangement.pieces) {
    const Item& item = shown[to_size(piece.item)];
    Placed placed;
    placed.id = item.id;
    placed.copy = piece.copy;
    placed.drawing = piece.drawing;
    placed.state = item.state;
    placed.at = piece.at;
    placed.scale = piece.scale;
    placed.mirrored = piece.mirrored;
    placed.box = piece.ink;
    placed.order = orders[to_size(piece.item)];
    const bool acted_on = item.state == ItemState::next || item.state == ItemState::moving;
    placed.ring = acted_on ? ring_radius(piece) : 0;
    scene.items.push_back(placed);
  }
}

/// The items that are shown: those of a rank are left out, the highest first, until the picture
/// is large enough to be read.
std::vector<Item> pick_items(const std::vector<Item>& items, const Viewport& viewport) {
  std::vector<Item> shown;
  for (const Item& item : items) {
    if (!item.context) {
      shown.push_back(item);
    }
  }
  for (;;) {
    auto last = shown.end();
    for (auto it = shown.begin(); it != shown.end(); ++it) {
      if (it->rank > 0 && (last == shown.end() || it->rank > last->rank)) {
        last = it;
      }
    }
    if (last == shown.end()) {
      return shown;
    }
    const bool many = to_int(shown.size()) > viewport.good_count;
    const double scale = many ? std::max(viewport.good_scale, viewport.least_scale)
                              : viewport.least_scale;
    if (fits_at(shown, items, scale, viewport)) {
      return shown;
    }
    shown.erase(last);
  }
}

/// Context is drawn where the first shown item that stays, or the picture's middle, puts home.
void place_context(const std::vector<Item>& items, const std::vector<Item>& shown,
                   const Arrangement& arrangement, Scene& scene) {
  Vec origin = arrangement.content.centre();
  double least = -1;
  for (const Piece& piece : arrangement.pieces) {
    const Item& item = shown[to_size(piece.item)];
    const Vec here = piece.at - item.home * arrangement.scale;
    if (!item.fastener && piece.copy == 0 && (least < 0 || item.away == Vec(0, 0))) {
      origin = here;
      least = 0;
      if (item.away == Vec(0, 0)) {
        break;
      }
    }
  }
  for (const Item& item : items) {
    if (!item.context) {
      continue;
    }
    Placed placed;
    placed.id = item.id;
    placed.drawing = item.drawing == nullptr ? &no_drawing() : item.drawing;
    placed.state = item.state;
    placed.scale = arrangement.scale;
    placed.at = origin + item.home * arrangement.scale;
    placed.box = placed.drawing->box.scaled(placed.scale).moved(placed.at);
    placed.order = -1;
    placed.context = true;
    scene.items.push_back(placed);
  }
}

/// What a chain line needs of an item: where it stands across the line, and from where to where
/// along it.
struct Stand {
  double across = 0;
  double from = 0;
  double to = 0;
  bool ghost = false;
};

/// One chain line through the items of an axis: between the middles of its first and its last,
/// hidden where it passes behind them; ghosts show what is behind, so there it ends before.
void add_axis(std::vector<Stand> row, bool level, Scene& scene) {
  std::stable_sort(row.begin(), row.end(), [](const Stand& a, const Stand& b) {
    return a.from + a.to < b.from + b.to;
  });
  std::size_t first = 0;
  std::size_t last = row.size() - 1;
  while (first < last && row[first].ghost && row[first + 1].ghost) {
    ++first;
  }
  while (last > first && row[last].ghost && row[last - 1].ghost) {
    --last;
  }
  const double start = row[first].ghost ? row[first].to : (row[first].from + row[first].to) / 2;
  const double end = row[last].ghost ? row[last].from : (row[last].from + row[last].to) / 2;
  if (end > start + 1) {
    const double across = row[first].across;
    scene.axes.push_back(level ? AxisLine{Vec(start, across), Vec(end, across)}
                               : AxisLine{Vec(across, start), Vec(across, end)});
  }
}

/// Level axes join items that come out sideways, upright ones those that come up or down; what
/// stays belongs to either where something moves.
void find_axes(const std::vector<Item>& shown, const Arrangement& arrangement, bool level,
               Scene& scene) {
  std::vector<bool> used(arrangement.pieces.size(), false);
  const auto across = [level](const Piece& piece) { return level ? piece.at.y : piece.at.x; };
  const auto moves = [&shown, level](const Piece& piece) {
    const Vec away = shown[to_size(piece.item)].away;
    return away != Vec(0, 0) && std::abs(level ? away.y : away.x) < 1e-6;
  };
  const auto stays = [&shown](const Piece& piece) {
    return shown[to_size(piece.item)].away == Vec(0, 0);
  };
  for (std::size_t i = 0; i < arrangement.pieces.size(); ++i) {
    if (used[i] || !moves(arrangement.pieces[i])) {
      continue;
    }
    std::vector<Stand> row;
    for (std::size_t j = 0; j < arrangement.pieces.size(); ++j) {
      const Piece& piece = arrangement.pieces[j];
      if (used[j] || shown[to_size(piece.item)].fastener || !(moves(piece) || stays(piece)) ||
          std::abs(across(piece) - across(arrangement.pieces[i])) >= kAligned) {
        continue;
      }
      used[j] = true;
      row.push_back({across(piece), level ? piece.ink.min.x : piece.ink.min.y,
                     level ? piece.ink.max.x : piece.ink.max.y,
                     shown[to_size(piece.item)].state == ItemState::removed});
    }
    if (row.size() > 1) {
      add_axis(std::move(row), level, scene);
    }
  }
}

void add_callouts(const std::vector<Item>& shown, const Arrangement& arrangement,
                  const Viewport& viewport, bool exploded, Scene& scene) {
  CalloutPlan plan;
  std::vector<int> still;
  if (exploded) {
    plan = plan_callouts(arrangement, viewport);
    for (const int item : plan.unlabelled) {
      if (marked(shown[to_size(item)].state)) {
        still.push_back(item);
      }
    }
  } else {
    for (std::size_t i = 0; i < shown.size(); ++i) {
      if (marked(shown[i].state)) {
        still.push_back(static_cast<int>(i));
      }
    }
  }
  for (Callout& callout : callouts_over(arrangement, viewport, still, plan.callouts)) {
    plan.callouts.push_back(std::move(callout));
  }
  for (Callout& callout : plan.callouts) {
    const Item& item = shown[to_size(callout.id)];
    if (item.state == ItemState::removed) {
      continue;
    }
    callout.id = item.id;
    callout.strong = marked(item.state);
    scene.callouts.push_back(std::move(callout));
  }
  for (const Item& item : shown) {
    const bool named = std::any_of(scene.callouts.begin(), scene.callouts.end(),
                                   [&item](const Callout& one) { return one.id == item.id; });
    if (!named && item.state != ItemState::removed) {
      scene.unlabelled.push_back(item.id);
    }
  }
}

}  // namespace

const Placed* Scene::find(int id) const {
  const auto found =
      std::find_if(items.begin(), items.end(), [id](const Placed& one) { return one.id == id; });
  return found == items.end() ? nullptr : &*found;
}

Scene layout(const std::vector<Item>& items, double progress, const Viewport& viewport) {
  const std::vector<Item> shown = pick_items(items, viewport);
  Scene scene;
  const double share = std::clamp(progress, 0.0, 1.0);
  const Arrangement arrangement = arrange(shown, items, share, viewport);
  scene.scale = arrangement.scale;
  place_items(shown, arrangement, scene);
  if (share < 1) {
    place_context(items, shown, arrangement, scene);
  }
  if (share > 0) {
    find_axes(shown, arrangement, false, scene);
    find_axes(shown, arrangement, true, scene);
  }
  add_callouts(shown, arrangement, viewport, share >= 1, scene);
  scene.content = arrangement.content;
  for (const Callout& callout : scene.callouts) {
    scene.content.add(callout.box);
  }
  scene.badges = badges_of(shown, arrangement, scene.callouts, viewport);
  for (const Badge& badge : scene.badges) {
    scene.content.add(Box::around(badge.centre, kBadge, kBadge));
  }
  scene.list = ink_of(shown, arrangement, scene, viewport);
  scene.scrolls = scene.content.width() > viewport.width + 1e-6 ||
                  scene.content.height() > viewport.height + 1e-6 ||
                  scene.content.min.y < -1e-6 || scene.content.min.x < -1e-6 ||
                  scene.content.max.x > viewport.width + 1e-6 ||
                  scene.content.max.y > viewport.height + 1e-6;
  return scene;
}

}  // namespace kp::scene
