#pragma once
// A canvas that writes SVG text: for looking at scenes without a screen.

#include <span>
#include <string>
#include <string_view>

#include "base/text.hpp"
#include "scene/paint.hpp"

namespace kp::test {

class SvgCanvas : public scene::Canvas {
 public:
  SvgCanvas(double width, double height, bool night)
      : width_(width), height_(height), night_(night) {}

  void triangles(std::span<const scene::Vec> points, scene::Role role) override {
    out_ += "<path d=\"";
    for (std::size_t i = 0; i + 2 < points.size(); i += 3) {
      out_ += "M" + at(points[i]) + "L" + at(points[i + 1]) + "L" + at(points[i + 2]) + "z";
    }
    // A hair of border closes the seams that a renderer leaves between neighbouring triangles.
    out_ += "\" fill=\"" + colour(role) + "\" stroke=\"" + colour(role) +
            "\" stroke-width=\"0.15\"/>\n";
  }

  void polyline(std::span<const scene::Vec> points, bool closed, scene::Role role,
                double width) override {
    out_ += "<path d=\"";
    for (std::size_t i = 0; i < points.size(); ++i) {
      out_ += (i == 0 ? "M" : "L") + at(points[i]);
    }
    out_ += std::string(closed ? "z" : "") + "\" fill=\"none\" stroke=\"" + colour(role) +
            "\" stroke-width=\"" + fixed_text(width, 2) +
            "\" stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n";
  }

  void circle(scene::Vec centre, double radius, scene::Role fill, scene::Role border,
              double width) override {
    out_ += "<circle cx=\"" + fixed_text(centre.x, 2) + "\" cy=\"" + fixed_text(centre.y, 2) +
            "\" r=\"" + fixed_text(radius, 2) + "\" fill=\"" + colour(fill) + "\" stroke=\"" +
            colour(border) + "\" stroke-width=\"" + fixed_text(width, 2) + "\"/>\n";
  }

  void text(scene::Vec where, scene::Anchor anchor, double size, bool strong, scene::Role role,
            std::string_view words) override {
    const char* side = anchor == scene::Anchor::left    ? "start"
                       : anchor == scene::Anchor::right ? "end"
                                                        : "middle";
    out_ += "<text x=\"" + fixed_text(where.x, 2) + "\" y=\"" + fixed_text(where.y, 2) +
            "\" font-family=\"B612\" font-size=\"" + fixed_text(size, 1) + "\" font-weight=\"" +
            (strong ? "700" : "400") + "\" text-anchor=\"" + side + "\" fill=\"" + colour(role) +
            "\">" + std::string(words) + "</text>\n";
  }

  [[nodiscard]] std::string file() const {
    const std::string size =
        "width=\"" + fixed_text(width_, 0) + "\" height=\"" + fixed_text(height_, 0) + "\"";
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" " + size + ">\n<rect " + size + " fill=\"" +
           colour(scene::Role::paper) + "\"/>\n" + out_ + "</svg>\n";
  }

 private:
  static std::string at(scene::Vec point) {
    return fixed_text(point.x, 2) + " " + fixed_text(point.y, 2);
  }

  [[nodiscard]] std::string colour(scene::Role role) const {
    const std::string_view drawn = scene::drawing_colour(role);
    if (!drawn.empty()) {
      return std::string(drawn);
    }
    switch (role) {
      case scene::Role::line: return night_ ? "#E9E4D8" : "#1B2126";
      case scene::Role::soft: return night_ ? "#A7A294" : "#5C5A54";
      case scene::Role::hairline: return night_ ? "#3A4148" : "#C9C2B4";
      case scene::Role::accent: return night_ ? "#55B7BE" : "#0B6E75";
      case scene::Role::accent_tint: return night_ ? "#1E3A3D" : "#DDEBE9";
      case scene::Role::accent_deep: return night_ ? "#2F6D72" : "#9CC8C6";
      case scene::Role::signal_yellow: return "#F9A800";
      case scene::Role::signal_black: return "#2B2B2C";
      default: return night_ ? "#14181C" : "#F6F3EC";
    }
  }

  double width_;
  double height_;
  bool night_;
  std::string out_;
};

}  // namespace kp::test
