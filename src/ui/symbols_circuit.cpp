#include "ui/symbols_circuit.hpp"

#include <algorithm>

#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

using app::CircuitKind;

class Pen {
 public:
  Pen(const Ui& ui, const SymbolPaint& paint) : ui_(ui), p_(paint) {}

  [[nodiscard]] Vec at(float x, float y) const {
    return Vec{p_.centre.x + x * p_.k, p_.centre.y + y * p_.k};
  }
  void line(float x0, float y0, float x1, float y1, float width = 0) const {
    ui_.line(at(x0, y0), at(x1, y1), p_.ink, width > 0 ? width : p_.stroke);
  }
  /// The wire from both sides of the cell up to `half` from the middle.
  void leads(float half) const {
    const float side = p_.width / 2;
    ui_.line(Vec{p_.centre.x - side, p_.centre.y}, at(-half, 0), p_.ink, p_.stroke);
    ui_.line(at(half, 0), Vec{p_.centre.x + side, p_.centre.y}, p_.ink, p_.stroke);
  }
  void box(float half_w, float half_h) const {
    const Box place{p_.centre.x - half_w * p_.k, p_.centre.y - half_h * p_.k, 2 * half_w * p_.k,
                    2 * half_h * p_.k};
    ui_.fill(place, p_.fill);
    ui_.stroke(place, p_.ink, p_.stroke);
  }
  void ring(float x, float y, float radius) const {
    ui_.disc(at(x, y), radius * p_.k, p_.fill);
    ui_.ring(at(x, y), radius * p_.k, p_.ink, p_.stroke);
  }
  void letter(const char* word, float size, float x = 0, float y = 0) const {
    const Type type{Face::bold, size * p_.k / ui_.fonts.scaled(1)};
    const Vec place = at(x, y);
    ui_.text(type, place.x, place.y + ui_.fonts.ascent(type) / 2, p_.ink, word, 0.5F);
  }
  [[nodiscard]] const SymbolPaint& paint() const { return p_; }

 private:
  const Ui& ui_;
  const SymbolPaint& p_;
};

// A make contact shuts downwards onto the wire, a break contact is held against a stop. As it is
// now: the blade on the wire, or lifted off it.
void blade(const Pen& pen, const app::CircuitSymbol& symbol) {
  pen.leads(11);
  if (symbol.closed) {
    pen.line(-11, 0, 11, -2.5F);
  } else {
    pen.line(-11, 0, 9, -10);
  }
  if (symbol.rest_closed) pen.line(11, 0, 11, -6);
}

// What moves a contact stands over its blade, at the end of a dashed link.
void mover(const Pen& pen, const app::CircuitSymbol& symbol) {
  const float top = symbol.closed ? -1.5F : -5;
  const auto link = [&](float to) {
    for (float y = top - 2; y > to; y -= 4) pen.line(0, y, 0, std::max(to, y - 2), 1.4F);
  };
  switch (symbol.kind) {
    case CircuitKind::push_button:
      link(-14);
      pen.line(-6, -15, 6, -15);
      pen.line(-6, -15, -6, -12);
      pen.line(6, -15, 6, -12);
      break;
    case CircuitKind::cam:
      link(-12);
      pen.ring(0, -16, 4);
      break;
    case CircuitKind::relay:
      link(-12);
      pen.line(-6, -18, 6, -18);
      pen.line(-6, -12, 6, -12);
      pen.line(-6, -18, -6, -12);
      pen.line(6, -18, 6, -12);
      break;
    case CircuitKind::thermostat:
      link(-12);
      pen.ring(0, -17, 4.5F);                 // the letter theta
      pen.line(-4.5F, -17, 4.5F, -17, 1.4F);
      break;
    default: break;
  }
}

}  // namespace

void draw_circuit_symbol(const Ui& ui, const app::CircuitSymbol& symbol, const SymbolPaint& paint) {
  const Pen pen(ui, paint);
  switch (symbol.kind) {
    case CircuitKind::contact:
    case CircuitKind::push_button:
    case CircuitKind::cam:
    case CircuitKind::relay:
    case CircuitKind::thermostat:
      blade(pen, symbol);
      mover(pen, symbol);
      return;
    case CircuitKind::fuse:
      pen.leads(15);
      pen.box(15, 7);
      if (symbol.closed) pen.line(-15, 0, 15, 0);
      return;
    case CircuitKind::resistor:
      pen.leads(15);
      pen.box(15, 6);
      return;
    case CircuitKind::heater:
      pen.leads(17);
      pen.box(17, 9);
      for (const float x : {-8.5F, 0.0F, 8.5F}) pen.line(x, -9, x, 9);
      return;
    case CircuitKind::coil:
      pen.leads(12);
      pen.box(12, 9);
      pen.line(-12, 9, 12, -9);
      return;
    case CircuitKind::capacitor:
      pen.leads(3);
      pen.line(-3, -10, -3, 10);
      pen.line(3, -10, 3, 10);
      return;
    case CircuitKind::motor:
      pen.leads(13);
      pen.ring(0, 0, 13);
      pen.letter("M", 15);
      return;
    case CircuitKind::sensor:
      pen.leads(15);
      pen.box(15, 6);
      pen.line(-13, 11, 11, -11);
      pen.line(-19, 11, -13, 11);
      return;
    case CircuitKind::triac:
      pen.leads(9);
      for (const float side : {-1.0F, 1.0F}) {
        pen.line(-9, -side * 10, -9, 0);
        pen.line(9, side * 10, 9, 0);
        pen.line(-9 * side, -10 * side, 9 * side, -5 * side);
        pen.line(-9 * side, 0, 9 * side, -5 * side);
      }
      return;
    case CircuitKind::connector:
      pen.leads(4);
      pen.line(-8, -5, -3, 0);
      pen.line(-8, 5, -3, 0);
      pen.line(-2, -5, 3, 0);
      pen.line(-2, 5, 3, 0);
      return;
  }
}

}  // namespace kp::ui
