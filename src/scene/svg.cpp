#include "scene/svg.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include <pugixml.hpp>

#include "base/text.hpp"
#include "geom/curve.hpp"
#include "geom/hatch.hpp"
#include "scene/svg_path.hpp"
#include "scene/svg_style.hpp"

namespace kp::scene {
namespace {

constexpr double kTolerance = 0.06;       // drawing units: below a third of a pixel at 1.6 x, 3 dpr
constexpr int kDeepest = 16;
constexpr std::size_t kLargestFile = 1U << 20U;
constexpr double kLargestView = 4000;     // these keep hatching and triangles within reason
constexpr std::size_t kMostPoints = 2000;
constexpr std::size_t kMostShapes = 2000;

const std::vector<std::string>& element_names() {
  static const std::vector<std::string> names{"g",    "path",     "rect",    "circle", "ellipse",
                                              "line", "polyline", "polygon", "title",  "defs"};
  return names;
}

/// The geometry attributes of an element, in the order in which they are handed over.
std::vector<std::string> own_attributes(std::string_view element) {
  if (element == "path") return {"d"};
  if (element == "rect") return {"x", "y", "width", "height", "rx", "ry"};
  if (element == "circle") return {"cx", "cy", "r"};
  if (element == "ellipse") return {"cx", "cy", "rx", "ry"};
  if (element == "line") return {"x1", "y1", "x2", "y2"};
  if (element == "polyline" || element == "polygon") return {"points"};
  return {};
}

class Reader {
 public:
  Reader(std::string_view name, std::string_view text, Findings& findings)
      : name_(name), text_(text), findings_(&findings) {}

  std::optional<Drawing> run();

 private:
  void report(const pugi::xml_node& at, std::string code, std::string what, std::string remedy,
              Severity severity = Severity::fault);
  void report_at(std::ptrdiff_t offset, std::string code, std::string what, std::string remedy,
                 Severity severity);
  void children(const pugi::xml_node& parent, const SvgStyle& style, int depth);
  void element(const pugi::xml_node& node, const SvgStyle& parent, int depth);
  void root(const pugi::xml_node& svg);
  SvgStyle style_of(const pugi::xml_node& node, const SvgStyle& parent);
  double number(const pugi::xml_node& node, const char* name, double otherwise);
  std::vector<Stroke> lines_of(const pugi::xml_node& node, double tolerance);
  bool too_large(const pugi::xml_node& node, const Shape& shape);
  void shape(const pugi::xml_node& node, const SvgStyle& style);
  void check_whole();

  std::string_view name_;
  std::string_view text_;
  Findings* findings_;
  Drawing drawing_;
  int faults_ = 0;
};

void Reader::report_at(std::ptrdiff_t offset, std::string code, std::string what,
                       std::string remedy, Severity severity) {
  Finding finding;
  finding.severity = severity;
  finding.code = std::move(code);
  finding.pointer = std::string(name_);
  if (offset >= 0) {
    const std::string_view before = text_.substr(0, static_cast<std::size_t>(offset));
    finding.line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
  }
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  faults_ += severity == Severity::fault ? 1 : 0;
  findings_->add(std::move(finding));
}

void Reader::report(const pugi::xml_node& at, std::string code, std::string what,
                    std::string remedy, Severity severity) {
  report_at(at.offset_debug(), std::move(code), std::move(what), std::move(remedy), severity);
}

SvgStyle Reader::style_of(const pugi::xml_node& node, const SvgStyle& parent) {
  SvgStyle style = parent;
  const SvgReport say = [this, &node](std::string code, std::string what, std::string remedy) {
    report(node, std::move(code), cat("<", node.name(), "> ", what), std::move(remedy));
  };
  const std::vector<std::string> own = own_attributes(node.name());
  for (const pugi::xml_attribute& attribute : node.attributes()) {
    const std::string name = attribute.name();
    const bool known = name == "id" || std::find(own.begin(), own.end(), name) != own.end();
    if (known || apply_style(style, name, attribute.value(), say)) {
      continue;
    }
    if (name == "transform" && std::string_view(node.name()) == "g") {
      const auto step = read_transform(attribute.value());
      if (step && step->inverse()) {
        style.frame = style.frame * *step;
      } else {
        say("svg-transform", cat("transform=\"", attribute.value(), "\" cannot be used"),
            "Use translate, scale, rotate, skewX, skewY or matrix with numbers that keep an area.");
      }
      continue;
    }
    std::vector<std::string> hints = own;
    for (const char* one : {"fill", "fill-rule", "stroke", "stroke-width", "stroke-linecap",
                            "stroke-linejoin", "stroke-dasharray", "id"}) {
      hints.emplace_back(one);
    }
    const auto hint = nearest(name, hints);
    say("svg-attribute", cat("has the unknown attribute ", name),
        hint ? cat("Did you mean ", *hint, "?")
             : std::string("Remove it, or put its effect into fill and stroke attributes."));
  }
  return style;
}

double Reader::number(const pugi::xml_node& node, const char* name, double otherwise) {
  const pugi::xml_attribute attribute = node.attribute(name);
  if (!attribute) {
    return otherwise;
  }
  const std::optional<double> value = read_length(attribute.value());
  const std::string_view key = name;
  const bool size = key == "width" || key == "height" || key == "r" || key == "rx" || key == "ry";
  if (!value || (size && *value < 0)) {
    report(node, "svg-number",
           cat("<", node.name(), "> ", name, "=\"", attribute.value(), "\" is not a usable number"),
           cat("Write a number of at most ", static_cast<int>(kLargestCoordinate),
               size ? ", not below 0." : "."));
    return otherwise;
  }
  return *value;
}

std::vector<Stroke> Reader::lines_of(const pugi::xml_node& node, double tolerance) {
  const std::string_view element = node.name();
  const auto get = [this, &node](const char* name) { return number(node, name, 0); };
  if (element == "rect") {
    const double rx = number(node, "rx", number(node, "ry", 0));
    return {{geom::rounded_box(get("x"), get("y"), get("width"), get("height"), rx,
                               number(node, "ry", rx), tolerance),
             true}};
  }
  if (element == "circle") {
    const double r = get("r");
    return {{geom::ellipse(Vec(get("cx"), get("cy")), r, r, tolerance), true}};
  }
  if (element == "ellipse") {
    return {{geom::ellipse(Vec(get("cx"), get("cy")), get("rx"), get("ry"), tolerance), true}};
  }
  if (element == "line") {
    return {{{Vec(get("x1"), get("y1")), Vec(get("x2"), get("y2"))}, false}};
  }
  if (element == "path") {
    PathResult path = read_path(node.attribute("d").value(), tolerance);
    if (!path.wrong.empty()) {
      report(node, "svg-path", path.wrong, "Write path data as SVG 1.1 section 8.3 says.");
    }
    return std::move(path.lines);
  }
  const auto list = read_list(node.attribute("points").value());
  if (!list || list->size() < 4 || list->size() % 2 != 0) {
    report(node, "svg-number", cat("<", node.name(), "> has no list of points"),
           "Write pairs of numbers, two pairs at least.");
    return {};
  }
  Contour points;
  for (std::size_t i = 0; i + 1 < list->size(); i += 2) {
    points.emplace_back((*list)[i], (*list)[i + 1]);
  }
  return {{std::move(points), element == "polygon"}};
}

bool Reader::too_large(const pugi::xml_node& node, const Shape& shape) {
  Box box;
  std::size_t points = 0;
  for (const Stroke& line : shape.lines) {
    box.add(geom::bounds(line.points));
    points += line.points.size();
  }
  const bool large = box.width() > kLargestView || box.height() > kLargestView;
  if (large || points > kMostPoints || drawing_.shapes.size() >= kMostShapes) {
    report(node, "svg-size", cat("<", node.name(), "> is too large for a drawing"),
           cat("Keep to ", static_cast<int>(kLargestView), " units, ", to_int(kMostPoints),
               " points a shape and ", to_int(kMostShapes), " shapes."));
    return true;
  }
  return false;
}

void Reader::shape(const pugi::xml_node& node, const SvgStyle& style) {
  Shape shape;
  shape.lines = lines_of(node, kTolerance / std::max(style.frame.mean_scale(), 1e-3));
  for (Stroke& line : shape.lines) {
    for (Vec& point : line.points) {
      point = style.frame.apply(point);
    }
  }
  if (too_large(node, shape)) {
    return;
  }
  if (!style.fill && std::string_view(node.name()) != "line") {
    report(node, "svg-colour", cat("<", node.name(), "> has no fill, so it would be black"),
           "Write fill=\"none\" or a colour of the palette.");
  }
  shape.fill = style.fill.value_or(Role::none);
  shape.stroke = style.width > 0 ? style.stroke : Role::none;
  shape.width = style.width * style.frame.mean_scale();
  for (const double part : style.dash) {
    shape.dash.push_back(part * style.frame.mean_scale());
  }
  if (shape.fill != Role::none) {
    std::vector<Contour> area;
    for (const Stroke& line : shape.lines) {
      area.push_back(line.points);
    }
    const auto rule = style.even_odd ? geom::FillRule::even_odd : geom::FillRule::nonzero;
    shape.triangles = geom::triangulate(area, rule);
    if (const auto hatching = hatch_style(shape.fill)) {
      // The slope of a hatched surface on a drawing: rising to the right.
      shape.hatch = geom::hatch(area, rule, Vec(-1, 1), hatching->spacing);
    }
  }
  if (drawing_.shapes.empty()) {
    const bool closed = std::all_of(shape.lines.begin(), shape.lines.end(),
                                    [](const Stroke& line) { return line.closed; });
    if (shape.fill == Role::none || !closed || shape.triangles.empty()) {
      report(node, "svg-silhouette", "the first shape is not a filled, closed outline",
             "Draw the part's silhouette first, as one closed and filled shape.");
    }
  }
  drawing_.shapes.push_back(std::move(shape));
}

void Reader::element(const pugi::xml_node& node, const SvgStyle& parent, int depth) {
  const std::string_view name = node.name();
  if (name == "title") {
    if (depth == 0) {
      drawing_.title = std::string(trim(node.child_value()));
    }
    return;
  }
  if (name == "defs") {
    return;
  }
  const auto& known = element_names();
  if (std::find(known.begin(), known.end(), name) == known.end()) {
    const auto hint = nearest(name, known);
    report(node, "svg-element", cat("unknown element <", name, ">"),
           hint ? cat("Did you mean <", *hint, ">?")
                : cat("Use only ", join(known, ", "), "; turn text and images into paths."));
    return;
  }
  const SvgStyle style = style_of(node, parent);
  if (name == "g") {
    if (depth >= kDeepest) {
      report(node, "svg-size", "groups are nested too deeply",
             cat("Use at most ", kDeepest, " groups inside one another."));
      return;
    }
    children(node, style, depth + 1);
    return;
  }
  shape(node, style);
}

void Reader::children(const pugi::xml_node& parent, const SvgStyle& style, int depth) {
  for (const pugi::xml_node& node : parent.children()) {
    if (node.type() == pugi::node_element) {
      element(node, style, depth);
    } else if (node.type() == pugi::node_pcdata) {
      report(node, "svg-element", "there is text between the elements", "Remove it.");
    }
  }
}

void Reader::root(const pugi::xml_node& svg) {
  for (const pugi::xml_attribute& attribute : svg.attributes()) {
    static const std::vector<std::string> known{"xmlns", "viewBox", "version",
                                                "width", "height",  "id"};
    const std::string name = attribute.name();
    if (std::find(known.begin(), known.end(), name) == known.end() &&
        name.rfind("xmlns:", 0) != 0) {
      report(svg, "svg-attribute", cat("<svg> has the unknown attribute ", name), "Remove it.");
    }
  }
  const auto view = read_list(svg.attribute("viewBox").value());
  if (!view || view->size() != 4 || !((*view)[2] > 0) || !((*view)[3] > 0) ||
      (*view)[2] > kLargestView || (*view)[3] > kLargestView) {
    report(svg, "svg-viewbox", "the drawing has no usable viewBox",
           cat("Write viewBox=\"left top width height\", sizes above 0 and up to ",
               static_cast<int>(kLargestView), "."));
    return;
  }
  drawing_.view =
      Box::of((*view)[0], (*view)[1], (*view)[0] + (*view)[2], (*view)[1] + (*view)[3]);
}

void Reader::check_whole() {
  if (drawing_.shapes.empty()) {
    report_at(-1, "svg-silhouette", "the drawing is empty",
              "Draw the part's silhouette first, as one closed and filled shape.",
              Severity::fault);
    return;
  }
  finish(drawing_);
  if (drawing_.box.width() > kLargestView || drawing_.box.height() > kLargestView) {
    report_at(-1, "svg-size", "the drawing is too large",
              cat("Keep it within ", static_cast<int>(kLargestView), " units."), Severity::fault);
  } else if (!drawing_.view.empty() && !drawing_.view.contains(drawing_.box)) {
    report_at(-1, "svg-outside", "parts of the drawing lie outside its viewBox",
              "Enlarge the viewBox.", Severity::warning);
  }
}

std::optional<Drawing> Reader::run() {
  drawing_.name = std::string(name_);
  if (text_.size() > kLargestFile) {
    report_at(-1, "svg-size", "the file is too large", "Simplify it to less than 1 MB.",
              Severity::fault);
    return std::nullopt;
  }
  pugi::xml_document document;
  const pugi::xml_parse_result parsed =
      document.load_buffer(text_.data(), text_.size(), pugi::parse_default, pugi::encoding_utf8);
  if (!parsed) {
    report_at(parsed.offset, "svg-syntax", cat("not well-formed: ", lower(parsed.description())),
              "Save the drawing again as plain SVG.", Severity::fault);
    return std::nullopt;
  }
  const pugi::xml_node svg = document.child("svg");
  if (!svg) {
    report_at(0, "svg-root", "the file is not an SVG drawing", "Its root element must be <svg>.",
              Severity::fault);
    return std::nullopt;
  }
  root(svg);
  children(svg, SvgStyle{}, 0);
  if (faults_ == 0) {
    check_whole();
  }
  return faults_ == 0 ? std::optional<Drawing>(std::move(drawing_)) : std::nullopt;
}

}  // namespace

std::optional<Drawing> read_drawing(std::string_view name, std::string_view text,
                                    Findings& findings) {
  return Reader(name, text, findings).run();
}

}  // namespace kp::scene
