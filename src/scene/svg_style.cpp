#include "scene/svg_style.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "scene/svg_path.hpp"

namespace kp::scene {
namespace {

struct Caps {
  std::string_view name;
  std::array<std::string_view, 4> values;
};

// Ends and corners are always drawn round, so these are read, checked and not kept.
constexpr std::array<Caps, 2> kCaps{{
    {"stroke-linecap", {"round", "butt", "square", ""}},
    {"stroke-linejoin", {"round", "miter", "bevel", ""}},
}};

void bad_number(std::string_view name, std::string_view value, const SvgReport& report) {
  report("svg-number", cat(name, "=\"", value, "\" is not a usable number"),
         cat("Write a number of at most ", static_cast<int>(kLargestCoordinate), "."));
}

void read_dash(SvgStyle& style, std::string_view value, const SvgReport& report) {
  if (trim(value) == "none") {
    style.dash.clear();
    return;
  }
  const auto list = read_list(value);
  const bool usable = list && !list->empty() &&
                      std::all_of(list->begin(), list->end(), [](double part) { return part > 0; });
  if (!usable) {
    bad_number("stroke-dasharray", value, report);
    return;
  }
  style.dash = *list;
  if (style.dash.size() % 2 != 0) {  // an odd list is used twice (section 11.4)
    style.dash.insert(style.dash.end(), list->begin(), list->end());
  }
}

void read_colour(std::string_view name, std::string_view value, const SvgReport& report,
                 std::optional<Role>& out) {
  out = drawing_role(value);
  if (!out) {
    report("svg-colour", cat(name, "=\"", value, "\" is not in the palette"),
           cat("Use one of ", drawing_colours(), "."));
  }
}

std::optional<geom::Affine> one_transform(std::string_view name, const std::vector<double>& v) {
  using geom::Affine;
  const std::size_t n = v.size();
  if (name == "translate" && (n == 1 || n == 2)) {
    return Affine::move(Vec(v[0], n == 2 ? v[1] : 0));
  }
  if (name == "scale" && (n == 1 || n == 2)) {
    return Affine::scale(v[0], n == 2 ? v[1] : v[0]);
  }
  if (name == "rotate" && n == 1) {
    return Affine::rotate(v[0]);
  }
  if (name == "rotate" && n == 3) {
    const Vec centre(v[1], v[2]);
    return Affine::move(centre) * Affine::rotate(v[0]) * Affine::move(-centre);
  }
  if (name == "skewX" && n == 1) {
    return Affine::skew_x(v[0]);
  }
  if (name == "skewY" && n == 1) {
    return Affine::skew_y(v[0]);
  }
  if (name == "matrix" && n == 6) {
    return Affine{v[0], v[1], v[2], v[3], v[4], v[5]};
  }
  return std::nullopt;
}

}  // namespace

std::optional<double> read_length(std::string_view text) {
  std::string_view plain = trim(text);
  if (plain.size() > 2 && plain.substr(plain.size() - 2) == "px") {
    plain.remove_suffix(2);
  }
  const auto list = read_list(plain);
  return list && list->size() == 1 ? std::optional<double>(list->front()) : std::nullopt;
}

std::optional<std::vector<double>> read_list(std::string_view text) {
  std::vector<double> out;
  SvgNumbers numbers(text);
  while (!numbers.at_end()) {
    const std::optional<double> value = numbers.number();
    if (!value) {
      return std::nullopt;
    }
    out.push_back(*value);
  }
  return out;
}

std::optional<geom::Affine> read_transform(std::string_view text) {
  geom::Affine all;
  std::string_view rest = trim(text);
  while (!rest.empty()) {
    const std::size_t open = rest.find('(');
    const std::size_t close = rest.find(')');
    if (open == std::string_view::npos || close == std::string_view::npos || close < open) {
      return std::nullopt;
    }
    const auto list = read_list(rest.substr(open + 1, close - open - 1));
    const auto step = list ? one_transform(trim(rest.substr(0, open)), *list) : std::nullopt;
    if (!step) {
      return std::nullopt;
    }
    all = all * *step;
    rest = trim(rest.substr(close + 1));
    if (!rest.empty() && rest.front() == ',') {
      rest = trim(rest.substr(1));
    }
  }
  return all;
}

bool apply_style(SvgStyle& style, std::string_view name, std::string_view value,
                 const SvgReport& report) {
  if (name == "fill") {
    read_colour(name, value, report, style.fill);
    style.fill = style.fill.value_or(Role::none);
    return true;
  }
  if (name == "stroke") {
    std::optional<Role> role;
    read_colour(name, value, report, role);
    style.stroke = role.value_or(Role::none);
    if (style.stroke == Role::rubber || style.stroke == Role::cut) {
      report("svg-colour", "a stroke cannot be hatched", "Use a plain colour of the palette.");
    }
    return true;
  }
  if (name == "stroke-width") {
    const std::optional<double> width = read_length(value);
    if (!width || *width < 0) {
      bad_number(name, value, report);
    } else {
      style.width = *width;
    }
    return true;
  }
  if (name == "stroke-dasharray") {
    read_dash(style, value, report);
    return true;
  }
  if (name == "fill-rule") {
    style.even_odd = trim(value) == "evenodd";
    if (!style.even_odd && trim(value) != "nonzero") {
      report("svg-attribute", cat("fill-rule=\"", value, "\" is not known"),
             "Use nonzero or evenodd.");
    }
    return true;
  }
  for (const Caps& caps : kCaps) {
    if (name == caps.name) {
      if (std::find(caps.values.begin(), caps.values.end(), trim(value)) == caps.values.end()) {
        report("svg-attribute", cat(name, "=\"", value, "\" is not known"), "Use round.");
      }
      return true;
    }
  }
  return false;
}

}  // namespace kp::scene
