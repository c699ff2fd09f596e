#include "scene/paint.hpp"

#include <algorithm>
#include <cmath>

#include "geom/hatch.hpp"

namespace kp::scene {
namespace {

constexpr double kHeavy = 1.2;  // pens from here on draw an outline, thinner ones draw detail

/// Pens keep their weight when a drawing is made small: at 0.6 a hairline would vanish.
double pen_scale(double scale) { return std::max(scale, 0.8); }

Role fill_in(Look look, Role fill) {
  if (look != Look::target) {
    return fill;
  }
  switch (fill) {
    case Role::white:
    case Role::grey_1:
    case Role::grey_2:
    case Role::grey_3:
    case Role::warm_1: return Role::accent_tint;
    case Role::grey_4:
    case Role::grey_5:
    case Role::warm_2: return Role::accent_deep;
    case Role::none:
    case Role::grey_6:
    case Role::ink:
    case Role::rubber:
    case Role::cut:
    case Role::line:
    case Role::soft:
    case Role::hairline:
    case Role::paper:
    case Role::accent:
    case Role::accent_tint:
    case Role::accent_deep:
    case Role::signal_yellow:
    case Role::signal_black: return fill;
  }
  return fill;
}

Role stroke_in(Look look, const Shape& shape) {
  const bool marked = look == Look::next || look == Look::moving || look == Look::target;
  return marked && shape.stroke == Role::ink && shape.width >= kHeavy ? Role::accent
                                                                      : shape.stroke;
}

class Painter {
 public:
  Painter(const View& view, Canvas& canvas, const Box& visible)
      : view_(view), canvas_(&canvas), visible_(visible) {}

  void operator()(const PartMark& mark);
  void operator()(const HaloMark& mark);
  void operator()(const FillMark& mark);
  void operator()(const LineMark& mark);
  void operator()(const CircleMark& mark);
  void operator()(const TextMark& mark);
  void operator()(const ArrowMark& mark);

 private:
  void place(const PartMark& mark);
  [[nodiscard]] Vec at(Vec point) const { return {point.x * sx_ + dx_, point.y * sy_ + dy_}; }
  void stroke(const Contour& line, bool closed, Role role, double width,
              const std::vector<double>& dash);
  void outline(const PartMark& mark, Role role, double width, const std::vector<double>& dash);
  void shape(const Shape& shape, Look look);
  void hatching(const Shape& shape, Look look);

  View view_;
  Canvas* canvas_;
  Box visible_;
  double sx_ = 1, sy_ = 1, dx_ = 0, dy_ = 0;  // from drawing to screen
  double pen_ = 1;
  Contour points_;
};

void Painter::place(const PartMark& mark) {
  const Vec origin = to_screen(view_, mark.at);
  sy_ = mark.scale * view_.zoom;
  sx_ = mark.mirrored ? -sy_ : sy_;
  dx_ = origin.x;
  dy_ = origin.y;
  pen_ = pen_scale(mark.scale) * view_.zoom;
}

void Painter::stroke(const Contour& line, bool closed, Role role, double width,
                     const std::vector<double>& dash) {
  points_.clear();
  for (const Vec& point : line) {
    points_.push_back(at(point));
  }
  if (dash.empty()) {
    canvas_->polyline(points_, closed, role, width);
    return;
  }
  for (const Contour& part : geom::dashes(points_, closed, dash)) {
    canvas_->polyline(part, false, role, width);
  }
}

void Painter::outline(const PartMark& mark, Role role, double width,
                      const std::vector<double>& dash) {
  for (const Contour& contour : mark.drawing->outline) {
    stroke(contour, true, role, width, dash);
  }
}

void Painter::hatching(const Shape& shape, Look look) {
  const auto style = hatch_style(shape.fill);
  if (!style) {
    return;
  }
  const Role role = look == Look::target ? Role::accent : style->line;
  for (std::size_t i = 0; i + 1 < shape.hatch.size(); i += 2) {
    const Vec line[2] = {at(shape.hatch[i]), at(shape.hatch[i + 1])};
    canvas_->polyline(line, false, role, style->width * pen_);
  }
}

void Painter::shape(const Shape& shape, Look look) {
  if (!shape.triangles.empty()) {
    points_.clear();
    for (const Vec& point : shape.triangles) {
      points_.push_back(at(point));
    }
    if (sx_ < 0) {  // mirroring turns triangles around
      for (std::size_t i = 0; i + 2 < points_.size(); i += 3) {
        std::swap(points_[i + 1], points_[i + 2]);
      }
    }
    const auto style = hatch_style(shape.fill);
    const Role ground = style ? (look == Look::target ? Role::accent_tint : style->ground)
                              : fill_in(look, shape.fill);
    canvas_->triangles(points_, ground);
    hatching(shape, look);
  }
  if (shape.stroke == Role::none) {
    return;
  }
  std::vector<double> dash = shape.dash;
  for (double& part : dash) {
    part *= sy_;
  }
  for (const Stroke& line : shape.lines) {
    stroke(line.points, line.closed, stroke_in(look, shape), shape.width * pen_, dash);
  }
}

void Painter::operator()(const PartMark& mark) {
  if (mark.drawing == nullptr) {
    return;
  }
  place(mark);
  if (!visible_.empty()) {
    Box box;
    box.add(at(mark.drawing->box.min));
    box.add(at(mark.drawing->box.max));
    if (!box.overlaps(visible_)) {
      return;
    }
  }
  if (mark.look == Look::ghost) {
    outline(mark, Role::soft, 1.2 * view_.zoom, {4 * view_.zoom, 4 * view_.zoom});
    return;
  }
  if (mark.look == Look::context) {
    outline(mark, Role::hairline, 1.0 * view_.zoom, {});
    return;
  }
  for (const Shape& one : mark.drawing->shapes) {
    shape(one, mark.look);
  }
  if (mark.look != Look::plain) {
    outline(mark, Role::accent, 1.5 * pen_, {});
  }
}

void Painter::operator()(const HaloMark& mark) {
  if (mark.part.drawing != nullptr) {
    place(mark.part);
    outline(mark.part, mark.role, mark.width * view_.zoom, {});
  }
}

void Painter::operator()(const FillMark& mark) {
  points_.clear();
  for (const Vec& point : mark.triangles) {
    points_.push_back(to_screen(view_, point));
  }
  canvas_->triangles(points_, mark.role);
}

void Painter::operator()(const LineMark& mark) {
  sx_ = sy_ = view_.zoom;
  dx_ = view_.shift.x;
  dy_ = view_.shift.y;
  std::vector<double> dash = mark.pen.dash;
  for (double& part : dash) {
    part *= view_.zoom;
  }
  stroke(mark.points, mark.closed, mark.pen.role, mark.pen.width * view_.zoom, dash);
}

void Painter::operator()(const CircleMark& mark) {
  canvas_->circle(to_screen(view_, mark.centre), mark.radius * view_.zoom, mark.fill,
                  mark.pen.width > 0 ? mark.pen.role : Role::none, mark.pen.width * view_.zoom);
}

void Painter::operator()(const TextMark& mark) {
  canvas_->text(to_screen(view_, mark.at), mark.anchor, mark.size * view_.zoom, mark.strong,
                mark.role, mark.text);
}

void Painter::operator()(const ArrowMark& mark) {
  const Vec from = to_screen(view_, mark.from);
  const Vec to = to_screen(view_, mark.to);
  const Vec back = geom::unit(from - to) * (mark.head * view_.zoom);
  const Vec side = geom::quarter_turn(back) * 0.85;
  const double width = mark.pen.width * view_.zoom;
  const Vec shaft[2] = {from, to};
  const Vec head[3] = {to + back + side, to, to + back - side};
  canvas_->polyline(shaft, false, mark.pen.role, width);
  canvas_->polyline(head, false, mark.pen.role, width);
}

}  // namespace

void paint(const DisplayList& list, const View& view, Canvas& canvas, const Box& visible) {
  Painter painter(view, canvas, visible);
  for (const Mark& mark : list) {
    std::visit(painter, mark);
  }
}

}  // namespace kp::scene
