#pragma once

#include <optional>
#include <string_view>

#include "base/findings.hpp"
#include "scene/drawing.hpp"

namespace kp::scene {

/// Reads a part drawing: SVG with viewBox and the elements g (transform), path, rect, circle,
/// ellipse, line, polyline, polygon, title; defs are skipped (hatching is drawn by the canvas).
/// Style stands in attributes: fill, fill-rule, stroke, stroke-width, -linecap, -linejoin,
/// -dasharray; colours come from the palette. The first shape is filled and closed: it is the
/// silhouette. Every fault goes to `findings` with line, pointer `name`, and remedy; a drawing
/// comes back only where there was none. Codes: svg-syntax, svg-root, svg-viewbox, svg-element,
/// svg-attribute, svg-colour, svg-number, svg-path, svg-transform, svg-silhouette, svg-size and
/// the warning svg-outside (ink beyond the viewBox).
[[nodiscard]] std::optional<Drawing> read_drawing(std::string_view name, std::string_view text,
                                                  Findings& findings);

}  // namespace kp::scene
