#include "scene/display.hpp"

#include <utility>

#include "base/text.hpp"

namespace kp::scene {
namespace {

std::string number(double value) {
  const std::string text = fixed_text(value, 1);
  return text == "-0.0" ? "0.0" : text;
}

std::string point(Vec at) { return cat(number(at.x), ",", number(at.y)); }

std::string pen_text(const Pen& pen) {
  std::string out = cat(role_name(pen.role), " ", number(pen.width));
  for (std::size_t i = 0; i < pen.dash.size(); ++i) {
    out += cat(i == 0 ? " dash " : ",", number(pen.dash[i]));
  }
  return out;
}

std::string_view look_name(Look look) {
  switch (look) {
    case Look::plain: return "plain";
    case Look::next: return "next";
    case Look::moving: return "moving";
    case Look::target: return "target";
    case Look::ghost: return "ghost";
    case Look::context: return "context";
  }
  return "?";
}

std::string_view anchor_name(Anchor anchor) {
  switch (anchor) {
    case Anchor::left: return "left";
    case Anchor::middle: return "middle";
    case Anchor::right: return "right";
  }
  return "?";
}

struct Dumper {
  std::string operator()(const PartMark& mark) const {
    return cat("part ", mark.drawing == nullptr ? "?" : mark.drawing->name.c_str(), " at ",
               point(mark.at), " scale ", fixed_text(mark.scale, 3), " ", look_name(mark.look),
               mark.mirrored ? " mirrored" : "");
  }
  std::string operator()(const HaloMark& mark) const {
    return cat("halo ", role_name(mark.role), " ", number(mark.width), " around ",
               (*this)(mark.part));
  }
  std::string operator()(const FillMark& mark) const {
    return cat("fill ", role_name(mark.role), " triangles ", to_int(mark.triangles.size() / 3),
               " area ", number(geom::area(mark.triangles)));
  }
  std::string operator()(const LineMark& mark) const {
    std::string out = cat("line ", pen_text(mark.pen), mark.closed ? " closed" : "");
    for (const Vec& at : mark.points) {
      out += cat(" ", point(at));
    }
    return out;
  }
  std::string operator()(const CircleMark& mark) const {
    return cat("circle at ", point(mark.centre), " radius ", number(mark.radius), " fill ",
               role_name(mark.fill), " border ", pen_text(mark.pen));
  }
  std::string operator()(const TextMark& mark) const {
    return cat("text ", anchor_name(mark.anchor), " at ", point(mark.at), " size ",
               number(mark.size), mark.strong ? " strong " : " ", role_name(mark.role), " \"",
               mark.text, "\"");
  }
  std::string operator()(const ArrowMark& mark) const {
    return cat("arrow ", pen_text(mark.pen), " ", point(mark.from), " to ", point(mark.to));
  }
};

}  // namespace

FillMark polygon(const std::vector<Contour>& contours, Role role) {
  return {geom::triangulate(contours, geom::FillRule::nonzero), role};
}

std::string dump(const DisplayList& list) {
  std::string out;
  for (const Mark& mark : list) {
    out += std::visit(Dumper{}, mark);
    out += '\n';
  }
  return out;
}

}  // namespace kp::scene
