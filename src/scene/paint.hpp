#pragma once

#include <span>
#include <string_view>

#include "scene/display.hpp"
#include "scene/view.hpp"

namespace kp::scene {

/// What draws: a handful of calls with screen coordinates. Dashes, hatching, looks, arrows and
/// transforms have been worked out before; colours come from the theme by role.
class Canvas {
 public:
  virtual ~Canvas() = default;
  /// Three points a triangle, clockwise on screen.
  virtual void triangles(std::span<const Vec> points, Role role) = 0;
  virtual void polyline(std::span<const Vec> points, bool closed, Role role, double width) = 0;
  virtual void circle(Vec centre, double radius, Role fill, Role border, double width) = 0;
  /// `at` is the anchor on the base line.
  virtual void text(Vec at, Anchor anchor, double size, bool strong, Role role,
                    std::string_view words) = 0;
};

/// Draws the list as the view shows it. `visible` (screen coordinates, may be empty for all)
/// leaves out parts that lie outside it.
void paint(const DisplayList& list, const View& view, Canvas& canvas, const Box& visible = {});

}  // namespace kp::scene
