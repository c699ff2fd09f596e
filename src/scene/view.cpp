#include "scene/view.hpp"

#include <algorithm>

namespace kp::scene {
namespace {

double least_zoom(const Box& content, Vec window) {
  double zoom = 1;
  if (content.width() > 0) {
    zoom = std::min(zoom, window.x / content.width());
  }
  if (content.height() > 0) {
    zoom = std::min(zoom, window.y / content.height());
  }
  return zoom;
}

/// The shift nearest to the wanted one that leaves no gap at the window's edge; content that is
/// smaller than the window may stand anywhere in it.
double held(double shift, double from, double to, double window) {
  const double first = -from;
  const double last = window - to;
  return std::clamp(shift, std::min(first, last), std::max(first, last));
}

}  // namespace

Vec to_screen(const View& view, Vec scene_point) { return scene_point * view.zoom + view.shift; }

Vec to_scene(const View& view, Vec screen_point) {
  return (screen_point - view.shift) / view.zoom;
}

Box to_screen(const View& view, const Box& scene_box) {
  return scene_box.scaled(view.zoom).moved(view.shift);
}

View clamped(const View& view, const Box& content, Vec window) {
  View out = view;
  out.zoom = std::clamp(view.zoom, least_zoom(content, window), kMostZoom);
  if (content.empty()) {
    return out;
  }
  const Box shown = content.scaled(out.zoom);
  out.shift.x = held(view.shift.x, shown.min.x, shown.max.x, window.x);
  out.shift.y = held(view.shift.y, shown.min.y, shown.max.y, window.y);
  return out;
}

View dragged(const View& view, Vec by, const Box& content, Vec window) {
  View out = view;
  out.shift += by;
  return clamped(out, content, window);
}

View zoomed(const View& view, double factor, Vec about, const Box& content, Vec window) {
  View out;
  const Vec kept = to_scene(view, about);
  out.zoom = std::clamp(view.zoom * factor, least_zoom(content, window), kMostZoom);
  out.shift = about - kept * out.zoom;
  return clamped(out, content, window);
}

View pinched(const View& view, Vec a_from, Vec b_from, Vec a_to, Vec b_to, const Box& content,
             Vec window) {
  const double before = geom::length(b_from - a_from);
  const double after = geom::length(b_to - a_to);
  const double factor = before > 0 && after > 0 ? after / before : 1;
  const Vec middle = (a_from + b_from) * 0.5;
  View out;
  const Vec kept = to_scene(view, middle);
  out.zoom = std::clamp(view.zoom * factor, least_zoom(content, window), kMostZoom);
  out.shift = (a_to + b_to) * 0.5 - kept * out.zoom;
  return clamped(out, content, window);
}

View showing(const View& view, const Box& box, const Box& content, Vec window) {
  constexpr double kMargin = 16;
  const Box shown = to_screen(view, box).grown(kMargin);
  const auto move = [](double from, double to, double room) {
    if (to - from > room) {
      return room / 2 - (from + to) / 2;
    }
    return from < 0 ? -from : std::min(0.0, room - to);
  };
  View out = view;
  out.shift += Vec(move(shown.min.x, shown.max.x, window.x),
                   move(shown.min.y, shown.max.y, window.y));
  return clamped(out, content, window);
}

}  // namespace kp::scene
