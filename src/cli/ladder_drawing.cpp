#include "cli/ladder_drawing.hpp"

#include "base/text.hpp"

namespace kp::cli {
namespace {

constexpr double kCellWidth = 260;
constexpr double kCellHeight = 44;
constexpr double kMargin = 24;

enum class Shape { contact, box, coil, plates, line };

Shape shape_of(circuit::Kind kind) {
  switch (kind) {
    case circuit::Kind::thermostat:
    case circuit::Kind::switch_contact:
    case circuit::Kind::push_button:
    case circuit::Kind::cam_contact:
    case circuit::Kind::relay_contact:
    case circuit::Kind::triac: return Shape::contact;
    case circuit::Kind::resistor:
    case circuit::Kind::heater:
    case circuit::Kind::fuse:
    case circuit::Kind::ntc:
    case circuit::Kind::ptc: return Shape::box;
    case circuit::Kind::coil:
    case circuit::Kind::winding: return Shape::coil;
    case circuit::Kind::capacitor: return Shape::plates;
    case circuit::Kind::connector:
    case circuit::Kind::wire:
    case circuit::Kind::supply: return Shape::line;
  }
  return Shape::line;
}

std::string n(double value) { return number_text(value); }

/// The sign of an element in a line of text.
const char* sign_of(circuit::Kind kind, bool closed) {
  switch (shape_of(kind)) {
    case Shape::contact: return closed ? "--o--o--" : "--o/ o--";
    case Shape::box: return "--[  ]--";
    case Shape::coil: return "--(  )--";
    case Shape::plates: return "---||---";
    case Shape::line: return closed ? "--------" : "--    --";
  }
  return "--------";
}

class Svg {
 public:
  explicit Svg(const circuit::Ladder& ladder)
      : width_(ladder.width * kCellWidth + 2 * kMargin),
        height_(ladder.height * kCellHeight + 2 * kMargin) {}

  void line(double x1, double y1, double x2, double y2, const char* style = "") {
    body_ += cat("<line x1=\"", n(x1), "\" y1=\"", n(y1), "\" x2=\"", n(x2), "\" y2=\"", n(y2),
                 "\"", style, "/>\n");
  }
  void rect(double x, double y, double w, double h) {
    body_ += cat("<rect x=\"", n(x), "\" y=\"", n(y), "\" width=\"", n(w), "\" height=\"", n(h),
                 "\"/>\n");
  }
  void path(const std::string& d) { body_ += cat("<path d=\"", d, "\"/>\n"); }
  void dot(double x, double y) {
    body_ += cat("<circle cx=\"", n(x), "\" cy=\"", n(y), "\" r=\"3\" fill=\"currentColor\"/>\n");
  }
  void text(double x, double y, const std::string& words) {
    body_ += cat("<text x=\"", n(x), "\" y=\"", n(y), "\" stroke=\"none\" fill=\"currentColor\">",
                 escaped(words), "</text>\n");
  }
  [[nodiscard]] double width() const { return width_; }
  [[nodiscard]] std::string whole() const {
    return cat("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 ", n(width_), " ",
               n(height_), "\" fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.5\" "
               "font-family=\"sans-serif\" font-size=\"12\">\n", body_, "</svg>\n");
  }

 private:
  static std::string escaped(const std::string& words) {
    std::string out;
    for (const char c : words) {
      out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string(1, c);
    }
    return out;
  }

  double width_;
  double height_;
  std::string body_;
};

double px(double x) { return kMargin + x * kCellWidth + 20; }
double py(double y) { return kMargin + y * kCellHeight; }

void draw(Svg& svg, const circuit::LadderSymbol& symbol) {
  const double x = px(symbol.at.x);
  const double y = py(symbol.at.y);
  const double half = kCellHeight / 2;
  const double reach = 10;  // half the height of the symbol itself
  if (shape_of(symbol.kind) == Shape::line) {
    svg.line(x, y - half, x, y + half);
    return;
  }
  svg.line(x, y - half, x, y - reach);
  svg.line(x, y + reach, x, y + half);
  switch (shape_of(symbol.kind)) {
    case Shape::contact:
      // A blade hinged below: against its stop when closed, well aside when open.
      svg.line(x - 6, y - reach, x, y - reach);
      svg.line(x, y + reach, symbol.closed ? x - 4 : x - 14, symbol.closed ? y - reach : y - 7);
      break;
    case Shape::box: svg.rect(x - 5, y - reach, 10, 2 * reach); break;
    case Shape::coil:
      svg.path(cat("M", n(x), " ", n(y - reach), " a5 5 0 0 1 0 10 a5 5 0 0 1 0 10"));
      break;
    case Shape::plates:
      svg.line(x, y - reach, x, y - 3);
      svg.line(x, y + 3, x, y + reach);
      svg.line(x - 9, y - 3, x + 9, y - 3);
      svg.line(x - 9, y + 3, x + 9, y + 3);
      break;
    case Shape::line: break;
  }
}

}  // namespace

std::string ladder_text(const circuit::Netlist& netlist, const circuit::Strip& strip) {
  std::string out;
  for (const circuit::Link& link : strip.links) {
    const circuit::Element& element = netlist.elements[to_size(link.element)];
    out += cat("  ", sign_of(element.kind, link.state.closed), "  ", element.name);
    if (!link.why.empty()) {
      out += cat(", ", link.why);
    }
    out += link.element == strip.load ? "  <- load\n" : "\n";
  }
  return out;
}

std::string ladder_svg(const circuit::Netlist& netlist, const circuit::Ladder& ladder) {
  Svg svg(ladder);
  svg.line(kMargin, py(0), svg.width() - kMargin, py(0), " stroke-width=\"3\"");
  svg.line(kMargin, py(ladder.height), svg.width() - kMargin, py(ladder.height),
           " stroke-width=\"3\"");
  svg.text(kMargin - 16, py(0) + 4, "L");
  svg.text(kMargin - 16, py(ladder.height) + 4, "N");
  for (const circuit::LadderWire& wire : ladder.wires) {
    svg.line(px(wire.from.x), py(wire.from.y), px(wire.to.x), py(wire.to.y),
             wire.sneak ? " stroke-dasharray=\"4 3\"" : "");
  }
  for (const circuit::LadderSymbol& symbol : ladder.symbols) {
    draw(svg, symbol);
    svg.text(px(symbol.at.x) + 18, py(symbol.at.y) + 4,
             netlist.elements[to_size(symbol.element)].name);
  }
  for (const circuit::LadderTap& tap : ladder.taps) {
    svg.dot(px(tap.at.x), py(tap.at.y));
  }
  return svg.whole();
}

}  // namespace kp::cli
