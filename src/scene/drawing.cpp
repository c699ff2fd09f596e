#include "scene/drawing.hpp"

#include <utility>

#include "geom/hatch.hpp"

namespace kp::scene {
namespace {

constexpr int kCoverBoxes = 6;

}  // namespace

void finish(Drawing& drawing) {
  drawing.box = Box{};
  drawing.outline.clear();
  for (const Shape& shape : drawing.shapes) {
    Box ink;
    for (const Stroke& line : shape.lines) {
      ink.add(geom::bounds(line.points));
    }
    const double half = shape.stroke == Role::none ? 0 : shape.width / 2;
    drawing.box.add(ink.empty() ? ink : ink.grown(half));
  }
  if (drawing.shapes.empty()) {
    return;
  }
  const Shape& first = drawing.shapes.front();
  for (const Stroke& line : first.lines) {
    drawing.outline.push_back(line.points);
  }
  const double half = first.stroke == Role::none ? 0 : first.width / 2;
  drawing.cover = geom::cover(first.triangles, kCoverBoxes);
  for (Box& box : drawing.cover) {
    box = box.grown(half);
  }
}

Drawing drawing_of(std::string name, std::vector<Contour> outline, Role fill) {
  Drawing drawing;
  drawing.name = std::move(name);
  drawing.title = drawing.name;
  Shape shape;
  shape.fill = fill;
  shape.stroke = Role::ink;
  shape.width = 1.5;
  shape.triangles = geom::triangulate(outline, geom::FillRule::nonzero);
  for (Contour& contour : outline) {
    shape.lines.push_back({std::move(contour), true});
  }
  drawing.shapes.push_back(std::move(shape));
  finish(drawing);
  drawing.view = drawing.box;
  return drawing;
}

}  // namespace kp::scene
