#pragma once

#include <optional>

#include "scene/layout.hpp"
#include "scene/view.hpp"

namespace kp::scene {

/// Half of a finger's touch, in CSS px.
inline constexpr double kFinger = 22;

/// The item that a touch at this screen point means: the topmost whose silhouette or ring holds
/// the point, else the one whose callout does, else the nearest within `reach` px. Rings go before
/// what lies under them. None where nothing is near.
[[nodiscard]] std::optional<int> pick(const Scene& scene, const View& view, Vec screen_point,
                                      double reach = kFinger);

}  // namespace kp::scene
