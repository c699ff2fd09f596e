#include "ui/symbols.hpp"

#include <imgui.h>

namespace kp::ui {

void draw_round_line(const Ui& ui, Vec a, Vec b, Color color, float width) {
  ui.line(a, b, color, width);
  ui.disc(a, width / 2, color);
  ui.disc(b, width / 2, color);
}

void draw_check(const Ui& ui, Vec c, float size, Color color, float width) {
  const float k = size / 12;
  const Vec a{c.x - 6 * k, c.y};
  const Vec b{c.x - 2 * k, c.y + 5 * k};
  const Vec d{c.x + 6 * k, c.y - 5 * k};
  ui.poly({a, b, d}, color, width, false);
  ui.disc(a, width / 2, color);
  ui.disc(d, width / 2, color);
  ui.disc(b, width / 2, color);
}

void draw_done(const Ui& ui, Vec centre, float radius) {
  ui.disc(centre, radius + 1, ui.colors().safe);
  draw_check(ui, centre, radius * 12 / 13, ui.colors().on_safety, radius * 0.2F);
}

void draw_warning(const Ui& ui, Vec at, float k) {
  const Palette& c = ui.colors();
  const Vec top{at.x + 10 * k, at.y};
  const Vec right{at.x + 20 * k, at.y + 17.5F * k};
  const Vec left{at.x, at.y + 17.5F * k};
  ui.poly({top, right, left}, c.warn, 0, true);
  ui.poly({top, right, left}, c.warn_ink, 1.6F * k, true);
  ui.line(Vec{top.x, at.y + 6 * k}, Vec{top.x, at.y + 11.5F * k}, c.warn_ink, 2 * k);
  ui.disc(Vec{top.x, at.y + 14.3F * k}, 1.2F * k, c.warn_ink);
}

void draw_cross(const Ui& ui, Vec c, float size, Color color, float width) {
  const float r = size / 2;
  draw_round_line(ui, Vec{c.x - r, c.y - r}, Vec{c.x + r, c.y + r}, color, width);
  draw_round_line(ui, Vec{c.x - r, c.y + r}, Vec{c.x + r, c.y - r}, color, width);
}

void draw_delete_key(const Ui& ui, Vec c, float size, Color color) {
  const float k = size / 24;
  ui.poly({Vec{c.x - 13 * k, c.y}, Vec{c.x - 6 * k, c.y - 8 * k}, Vec{c.x + 12 * k, c.y - 8 * k},
           Vec{c.x + 12 * k, c.y + 8 * k}, Vec{c.x - 6 * k, c.y + 8 * k}},
          color, 1.8F * k, true);
  draw_cross(ui, Vec{c.x + 2.5F * k, c.y}, 7 * k, color, 1.8F * k);
}

void draw_contact(const Ui& ui, Vec at, float k, bool shut, Color hole) {
  const Color ink = ui.colors().ink;
  const auto p = [&](float x, float y) { return Vec{at.x + x * k, at.y + y * k}; };
  draw_round_line(ui, p(0, 0), p(21.5F, 0), ink, 2.4F);
  draw_round_line(ui, p(49.5F, 0), p(68, 0), ink, 2.4F);
  if (shut) {
    draw_round_line(ui, p(26, 0), p(44, 0), ink, 2.4F);
  } else {
    draw_round_line(ui, p(26, -1.5F), p(41, -15), ink, 2.4F);
  }
  for (const float x : {24.0F, 46.0F}) {
    ui.disc(p(x, 0), 2.6F, hole);
    ui.ring(p(x, 0), 2.6F, ink, 2);
  }
}

void draw_valve(const Ui& ui, Vec at, float k, bool shut, Color hole) {
  const Color ink = ui.colors().ink;
  const auto p = [&](float x, float y) { return Vec{at.x + x * k, at.y + y * k}; };
  draw_round_line(ui, p(0, 0), p(21, 0), ink, 2.4F);
  draw_round_line(ui, p(47, 0), p(68, 0), ink, 2.4F);
  for (const float x : {21.0F, 47.0F}) {
    ui.poly({p(x, -8), p(34, 0), p(x, 8)}, shut ? ink : hole, 0, true);
    ui.poly({p(x, -8), p(34, 0), p(x, 8)}, ink, 2, true);
  }
  ui.line(p(34, 0), p(34, -11), ink, 2);
  draw_round_line(ui, p(27, -11), p(41, -11), ink, 2.4F);
}

void draw_arrow_down(const Ui& ui, Vec tip, float length, Color color, float width) {
  draw_round_line(ui, Vec{tip.x, tip.y - length}, tip, color, width);
  draw_round_line(ui, Vec{tip.x - width * 2.5F, tip.y - width * 2.5F}, tip, color, width);
  draw_round_line(ui, Vec{tip.x + width * 2.5F, tip.y - width * 2.5F}, tip, color, width);
}

void draw_focus(const Ui& ui, Box box, float radius) {
  ui.stroke(box.inset(-3, -3), ui.colors().ink, 2, radius + 3);
}

}  // namespace kp::ui
