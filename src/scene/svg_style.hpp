#pragma once
// Not for callers: what the files of the SVG reader share.

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "geom/affine.hpp"
#include "scene/palette.hpp"

namespace kp::scene {

/// Style as it is handed down from an element to its children.
struct SvgStyle {
  std::optional<Role> fill;
  Role stroke = Role::none;
  double width = 1;
  std::vector<double> dash;
  bool even_odd = false;
  geom::Affine frame;
};

/// Takes findings of one element: code, what, remedy.
using SvgReport = std::function<void(std::string, std::string, std::string)>;

/// Applies one attribute to the style. False where it is not an attribute of style.
bool apply_style(SvgStyle& style, std::string_view name, std::string_view value,
                 const SvgReport& report);

/// Reads a transform list (SVG 1.1, section 7.6).
[[nodiscard]] std::optional<geom::Affine> read_transform(std::string_view text);

/// One number, perhaps with "px" behind it.
[[nodiscard]] std::optional<double> read_length(std::string_view text);

/// The numbers of a list such as points or viewBox; none where something else stands in it.
[[nodiscard]] std::optional<std::vector<double>> read_list(std::string_view text);

}  // namespace kp::scene
