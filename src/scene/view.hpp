#pragma once

#include "geom/box.hpp"

namespace kp::scene {

using geom::Box;
using geom::Vec;

/// How a scene is shown: screen = scene * zoom + shift. A plain value; the screen keeps it.
struct View {
  Vec shift{0, 0};
  double zoom = 1;
  friend bool operator==(const View&, const View&) = default;
};

inline constexpr double kMostZoom = 6;

[[nodiscard]] Vec to_screen(const View& view, Vec scene_point);
[[nodiscard]] Vec to_scene(const View& view, Vec screen_point);
[[nodiscard]] Box to_screen(const View& view, const Box& scene_box);

/// Zoom between "all of it" and kMostZoom; nowhere past the content's edge, and what is smaller
/// than the window stays wholly in it.
[[nodiscard]] View clamped(const View& view, const Box& content, Vec window);

/// One finger: the content follows it by this many pixels.
[[nodiscard]] View dragged(const View& view, Vec by, const Box& content, Vec window);

/// Two fingers or a wheel: the scene point under `about` (screen) stays there.
[[nodiscard]] View zoomed(const View& view, double factor, Vec about, const Box& content,
                          Vec window);

/// Two fingers that moved from a to b each: zoom and drag at once.
[[nodiscard]] View pinched(const View& view, Vec a_from, Vec b_from, Vec a_to, Vec b_to,
                           const Box& content, Vec window);

/// The least move of the view that brings the box (scene coordinates) into the window with a
/// margin; the zoom stays.
[[nodiscard]] View showing(const View& view, const Box& box, const Box& content, Vec window);

}  // namespace kp::scene
