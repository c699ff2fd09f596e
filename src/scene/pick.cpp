#include "scene/pick.hpp"

#include <algorithm>
#include <limits>

#include "geom/segment.hpp"

namespace kp::scene {
namespace {

/// The scene point in the drawing's own units.
Vec in_drawing(const Placed& placed, Vec point) {
  const Vec local = (point - placed.at) / placed.scale;
  return placed.mirrored ? Vec(-local.x, local.y) : local;
}

/// Distance in scene px from the point to the item, 0 where a ring or the silhouette holds it.
double distance_to(const Placed& placed, Vec point) {
  if (placed.ring > 0) {
    return std::max(0.0, geom::length(point - placed.box.centre()) - placed.ring);
  }
  return placed.scale * geom::distance(placed.drawing->outline, geom::FillRule::nonzero,
                                       in_drawing(placed, point));
}

}  // namespace

std::optional<int> pick(const Scene& scene, const View& view, Vec screen_point, double reach) {
  const Vec point = to_scene(view, screen_point);
  const double near = reach / view.zoom;
  const Placed* inside = nullptr;
  const Placed* nearest = nullptr;
  double least = std::numeric_limits<double>::infinity();
  for (const Placed& placed : scene.items) {
    if (placed.context || placed.drawing == nullptr ||
        placed.box.grown(std::max(near, placed.ring)).distance(point) > 0) {
      continue;
    }
    const double away = distance_to(placed, point);
    if (away <= 0) {
      const bool higher = inside == nullptr || (placed.ring > 0) > (inside->ring > 0) ||
                          ((placed.ring > 0) == (inside->ring > 0) &&
                           placed.order >= inside->order);
      inside = higher ? &placed : inside;
    }
    if (away < least && away <= near) {
      least = away;
      nearest = &placed;
    }
  }
  if (inside != nullptr) {
    return inside->id;
  }
  for (const Callout& callout : scene.callouts) {
    if (callout.box.grown(4).contains(point)) {
      return callout.id;
    }
  }
  return nearest == nullptr ? std::nullopt : std::optional<int>(nearest->id);
}

}  // namespace kp::scene
