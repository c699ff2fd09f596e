#include "ui/signs.hpp"

#include <array>
#include <utility>

#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

/// A drawing on a field of 100 by 100, set to its place.
struct Pen {
  const Ui& ui;
  Vec origin;
  float unit;
  Color ink;

  [[nodiscard]] Vec at(float x, float y) const {
    return Vec{origin.x + x * unit, origin.y + y * unit};
  }
  void stroke(Vec a, Vec b, float width) const {
    draw_round_line(ui, at(a.x, a.y), at(b.x, b.y), ink, width * unit);
  }
  void dot(float x, float y, float radius) const { ui.disc(at(x, y), radius * unit, ink); }
  void three(Vec a, Vec b, Vec c) const {
    ui.poly({at(a.x, a.y), at(b.x, b.y), at(c.x, c.y)}, ink, 0, true);
  }
  void four(Vec a, Vec b, Vec c, Vec d) const {
    ui.poly({at(a.x, a.y), at(b.x, b.y), at(c.x, c.y), at(d.x, d.y)}, ink, 0, true);
  }
};

void mark(const Pen& pen) {
  pen.stroke({50, 36}, {50, 60}, 9);
  pen.dot(50, 75, 5.5F);
}

void bolt(const Pen& pen) {
  pen.three({57, 26}, {36, 60}, {54, 60});
  pen.three({47, 53}, {64, 53}, {44, 84});
}

// A drop over a wet floor.
void drop(const Pen& pen) {
  pen.three({50, 32}, {40, 56}, {60, 56});
  pen.dot(50, 60, 11.5F);
  pen.stroke({30, 79}, {70, 79}, 5);
}

// Heat that rises from a plate.
void heat(const Pen& pen) {
  pen.stroke({29, 79}, {71, 79}, 6);
  for (const float x : {38.0F, 50.0F, 62.0F}) {
    const float top = x == 50 ? 36.0F : 46.0F;
    const float step = (68 - top) / 3;
    pen.stroke({x - 2, 68}, {x + 3, 68 - step}, 4.2F);
    pen.stroke({x + 3, 68 - step}, {x - 3, 68 - 2 * step}, 4.2F);
    pen.stroke({x - 3, 68 - 2 * step}, {x + 2, top}, 4.2F);
  }
}

// A finger over a cut edge.
void edge(const Pen& pen) {
  pen.three({28, 81}, {47, 60}, {66, 81});
  pen.stroke({62, 34}, {52, 50}, 12);
  pen.stroke({62, 60}, {68, 66}, 3.5F);
  pen.stroke({34, 58}, {29, 64}, 3.5F);
}

// A load that comes down on a flat hand.
void weight(const Pen& pen) {
  pen.four({41, 38}, {59, 38}, {66, 58}, {34, 58});
  pen.dot(50, 35, 6);
  pen.stroke({31, 70}, {66, 70}, 6);
  pen.stroke({66, 70}, {72, 66}, 5);
  pen.stroke({27, 81}, {73, 81}, 4.5F);
}

void glove(const Pen& pen) {
  pen.four({36, 48}, {64, 48}, {62, 80}, {38, 80});
  for (const float x : {39.0F, 47.0F, 55.0F, 61.5F}) pen.stroke({x, 28}, {x, 50}, 6.5F);
  pen.stroke({29, 46}, {38, 60}, 7);
}

void goggles(const Pen& pen) {
  pen.dot(35, 50, 14);
  pen.dot(65, 50, 14);
  pen.stroke({35, 44}, {65, 44}, 7);
  pen.stroke({14, 44}, {24, 46}, 5);
  pen.stroke({76, 46}, {86, 44}, 5);
}

struct Drawing {
  std::string_view code;
  void (*draw)(const Pen&);
};
constexpr std::array<Drawing, 7> kDrawings = {{{"W011", drop},
                                               {"W012", bolt},
                                               {"W017", heat},
                                               {"W022", edge},
                                               {"W024", weight},
                                               {"M004", goggles},
                                               {"M009", glove}}};

void draw_glyph(const Pen& pen, std::string_view code) {
  for (const Drawing& one : kDrawings) {
    if (one.code == code) {
      one.draw(pen);
      return;
    }
  }
  mark(pen);
}

void triangle(const Ui& ui, Vec at, float size, Color fill, Color edge_color, float width) {
  const float high = size * 0.88F;
  const float in = width / 2;
  const Vec top{at.x + size / 2, at.y + in * 2};
  const Vec right{at.x + size - in * 1.7F, at.y + high - in};
  const Vec left{at.x + in * 1.7F, at.y + high - in};
  ui.poly({top, right, left}, fill, 0, true);
  if (width <= 0) return;
  // A rim of the field's colour keeps the dark edge in sight on a dark card.
  for (const auto& [color, wide] : {std::pair{fill, width * 1.8F}, std::pair{edge_color, width}}) {
    ui.poly({top, right, left}, color, wide, true);
    for (const Vec corner : {top, right, left}) ui.disc(corner, wide / 2, color);
  }
}

}  // namespace

void draw_alert(const Ui& ui, Vec top_left, float size, Color color, Color mark_color) {
  triangle(ui, top_left, size, color, color, 0);
  mark(Pen{ui, Vec{top_left.x, top_left.y + size * 0.02F}, size / 100, mark_color});
}

void draw_sign(const Ui& ui, std::string_view code, Vec top_left, float size) {
  const Palette& c = ui.colors();
  if (!code.empty() && code.front() == 'M') {
    const Vec centre{top_left.x + size / 2, top_left.y + size / 2};
    ui.disc(centre, size / 2, c.must);
    draw_glyph(Pen{ui, top_left, size / 100, c.on_safety}, code);
    return;
  }
  triangle(ui, top_left, size, c.warn, c.warn_ink, size * 0.08F);
  draw_glyph(Pen{ui, top_left, size / 100, c.warn_ink}, code);
}

}  // namespace kp::ui
