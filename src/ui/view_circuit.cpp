// A strip circuit lying on its side: line at the left, neutral at the right, ways round below.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"
#include "ui/symbols_circuit.hpp"
#include "ui/view.hpp"

namespace kp::ui {
namespace {

constexpr float kAbove = 46;       ///< room over the wire: what moves the contacts, the meter
constexpr float kLane = 58;        ///< from one wire to the next below it
constexpr float kSmallest = 8.5F;    ///< letters under a symbol
constexpr float kTerminal = 26;    ///< from the edge to the first cell

class StripPicture {
 public:
  StripPicture(Ui& ui, const app::CircuitView& view, Box box)
      : ui_(ui), view_(view), box_(box),
        cell_((box.w - 2 * kTerminal) / static_cast<float>(std::max(1.0, view.cells))),
        letters_(letters()) {}

  void draw() const {
    const Palette& c = ui_.colors();
    terminal(0, "L");
    terminal(view_.cells, "N");
    for (const app::CircuitWire& wire : view_.wires) {
      ui_.line(at(wire.from_along, wire.from_lane), at(wire.to_along, wire.to_lane),
               wire.from_lane + wire.to_lane > 0 ? c.soft : c.ink, 2);
    }
    for (const app::CircuitSymbol& one : view_.symbols) symbol(one);
    meter();
    for (const app::CircuitPoint& one : view_.points) point(one);
  }

 private:
  [[nodiscard]] Vec at(double along, int lane) const {
    return Vec{box_.x + kTerminal + cell_ * static_cast<float>(along),
               box_.y + kAbove + kLane * static_cast<float>(lane)};
  }

  void terminal(double along, const char* letter) const {
    const Palette& c = ui_.colors();
    const Vec inner = at(along, 0);
    const float side = along > 0 ? 1.0F : -1.0F;
    const Vec outer{inner.x + side * (kTerminal - 5), inner.y};
    ui_.line(inner, outer, c.ink, 2);
    ui_.disc(outer, 5, c.paper);
    ui_.ring(outer, 5, c.ink, 2);
    ui_.text(type::kSmallBold, outer.x, outer.y - 12, c.ink, letter, 0.5F);
  }

  void symbol(const app::CircuitSymbol& one) const {
    const Palette& c = ui_.colors();
    SymbolPaint paint;
    paint.centre = at(one.along, one.lane);
    paint.width = cell_;
    paint.k = std::clamp(cell_ / 44, 0.55F, 1.15F);
    paint.ink = one.suspect ? c.touch : one.lane > 0 ? c.soft : c.ink;
    paint.fill = one.suspect ? c.touch_tint : c.card;
    paint.paper = c.paper;
    draw_circuit_symbol(ui_, one, paint);
    name(one, paint.centre);
  }

  /// The longest word of a name at a size of letters.
  [[nodiscard]] float widest(const app::CircuitSymbol& one, float size) const {
    const Type type{one.suspect ? Face::bold : Face::regular, size};
    float out = 0;
    std::string_view rest = one.name;
    while (!rest.empty()) {
      const std::size_t end = rest.find(' ');
      out = std::max(out, ui_.fonts.width(type, rest.substr(0, end)));
      rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
    }
    return out;
  }

  /// One size for all names: the largest at which neighbours on the strip do not touch.
  [[nodiscard]] float letters() const {
    for (float size = type::kSmall.size; size > kSmallest; size -= 0.5F) {
      const app::CircuitSymbol* before = nullptr;
      bool touch = false;
      for (const app::CircuitSymbol& one : view_.symbols) {
        if (one.lane != 0) continue;
        if (before != nullptr) {
          const float apart = cell_ * static_cast<float>(one.along - before->along);
          touch = touch || (widest(*before, size) + widest(one, size)) / 2 + 4 > apart;
        }
        before = &one;
      }
      if (!touch) return size;
    }
    return kSmallest;
  }

  // Two short lines under the symbol.
  void name(const app::CircuitSymbol& one, Vec centre) const {
    const Palette& c = ui_.colors();
    const Type type{one.suspect ? Face::bold : Face::regular, letters_};
    const float room = std::max(widest(one, letters_) + 1, cell_ - 4);
    const auto lines = ui_.fonts.wrap(type, one.name, room);
    const float leading = ui_.fonts.leading(type) * 0.9F;
    float y = centre.y + 15 + leading * 0.8F;
    for (std::size_t i = 0; i < lines.size() && i < 2; ++i) {
      const float half = ui_.fonts.width(type, lines[i]) / 2;
      const float x = std::clamp(centre.x, box_.x + half, std::max(box_.x + half, box_.right() - half));
      ui_.text(type, x, y, one.suspect ? c.touch : c.soft, lines[i], 0.5F);
      y += leading;
    }
  }

  // From probe to probe over the top, with the meter's function in a badge.
  void meter() const {
    const app::CircuitPoint* a = nullptr;
    const app::CircuitPoint* b = nullptr;
    for (const app::CircuitPoint& one : view_.points) {
      if (one.letter.empty()) continue;
      (a == nullptr ? a : b) = &one;
    }
    if (a == nullptr || b == nullptr) return;
    const Palette& c = ui_.colors();
    const Vec left = at(a->along, a->lane);
    const Vec right = at(b->along, b->lane);
    const float top = box_.y + 12;
    ui_.poly({left, Vec{left.x, top}, Vec{right.x, top}, right}, c.touch, 2.4F, false);
    const float width = ui_.fonts.width(type::kRowBold, view_.meter) + 16;
    const Box badge{(left.x + right.x - width) / 2, box_.y, width, 24};
    ui_.fill(badge, c.touch, 6);
    ui_.text(type::kRowBold, badge.centre().x, badge.centre().y + ui_.fonts.ascent(type::kRowBold) / 2,
             c.on_touch, view_.meter, 0.5F);
  }

  void point(const app::CircuitPoint& one) const {
    const Palette& c = ui_.colors();
    const Vec place = at(one.along, one.lane);
    Semantic item;
    item.role = one.tap ? Role::button : Role::item;
    item.name = one.letter.empty() ? one.name : cat(one.letter, ": ", one.name);
    item.id = ui_.make_id(item.role, item.name);
    const float reach = std::max(44.0F, cell_);
    item.box = Box{place.x - reach / 2, place.y - 22, reach, 44}.cut(
        Box{box_.x, box_.y, box_.w, box_.h});
    Felt felt;
    if (one.tap) {
      felt = ui_.feel(std::move(item));
      if (felt.fired()) tapped = &*one.tap;
    } else {
      ui_.show(std::move(item));
    }
    if (one.letter.empty()) {
      if (one.tap) {
        ui_.disc(place, 4.5F, c.paper);
        ui_.ring(place, 4.5F, felt.held ? c.touch : c.ink, 2);
      }
    } else {
      ui_.disc(place, 9, c.touch);
      const Type type{Face::bold, 13 / ui_.fonts.scaled(1)};
      ui_.text(type, place.x, place.y + ui_.fonts.ascent(type) / 2, c.on_touch, one.letter, 0.5F);
    }
    if (felt.focused) draw_focus(ui_, Box{place.x - 9, place.y - 9, 18, 18}, 9);
  }

  Ui& ui_;
  const app::CircuitView& view_;
  Box box_;
  float cell_;
  float letters_;

 public:
  mutable const app::Action* tapped = nullptr;
};

}  // namespace

void View::circuit(Ui& ui, const app::CircuitView& view, const app::Button* turn) {
  look_head(ui, view.caption, turn);
  const float names = ui.fonts.leading(type::kSmall) * 1.8F + 18;
  const float height = kAbove + kLane * static_cast<float>(view.lanes - 1) + names;
  const Box box = ui.take(height);
  const Scope scope(ui, "circuit");
  Semantic group;
  group.role = Role::region;
  group.name = view.spoken;
  group.id = ui.make_id(group.role, group.name);
  group.box = box;
  ui.begin_group(std::move(group));
  const StripPicture picture(ui, view, box);
  picture.draw();
  ui.end_group();
  for (const std::string& note : view.notes) {
    words(ui, type::kNote, ui.colors().soft, note);
    ui.gap(4);
  }
  if (picture.tapped != nullptr) say(*picture.tapped);
}

// Steps run from left to right; a bar stands where a contact is moved, and the step that is looked
// at has a column behind it.
void View::chart(Ui& ui, const app::ChartView& view) {
  if (view.steps.empty()) return;
  const Palette& c = ui.colors();
  ui.gap(12);
  heading(ui, "Programme", Type{Face::bold, 13}, 3);
  const bool known = view.present >= 0 && view.present < to_int(view.steps.size());
  if (known) {
    words(ui, type::kSmall, c.soft,
          cat("Step ", integer_text(view.present + 1), " of ", integer_text(to_int(view.steps.size())), ": ",
              view.steps[to_size(view.present)]));
  }
  ui.gap(6);
  const float leading = std::max(24.0F, ui.fonts.leading(type::kSmall) + 4);
  const Box box = ui.take(leading * static_cast<float>(view.lines.size()) + 4);
  const float names = std::min(box.w * 0.42F, 170.0F);
  const Box field{box.x + names, box.y, box.w - names, box.h};
  const float cell = field.w / static_cast<float>(view.steps.size());
  if (known) {
    ui.fill(Box{field.x + cell * static_cast<float>(view.present), field.y, cell, field.h},
            c.touch_tint, 3);
  }
  list(ui, "Contacts of the programme", [&] {
    float y = box.y + 2;
    for (const app::ChartView::Line& line : view.lines) {
      const float middle = y + leading / 2;
      ui.line(Vec{field.x, middle}, Vec{field.right(), middle}, c.hairline, 1);
      std::size_t from = 0;
      while (from < line.on.size()) {
        std::size_t to = from;
        while (to < line.on.size() && line.on[to]) ++to;
        if (to > from) {
          ui.fill(Box{field.x + cell * static_cast<float>(from) + 0.5F, middle - 5,
                      cell * static_cast<float>(to - from) - 1, 10},
                  line.on_strip ? c.touch : c.soft, 2);
        }
        from = to + 1;
      }
      const Type type = line.on_strip ? type::kSmallBold : type::kSmall;
      const auto wrapped = ui.fonts.wrap(type, line.name, names - 6);
      const std::string shown(wrapped.empty() ? std::string_view(line.name) : wrapped.front());
      ui.text(type, box.x, middle + ui.fonts.ascent(type) / 2, line.on_strip ? c.ink : c.soft, shown);
      Semantic item;
      item.role = Role::item;
      item.name = line.name;
      item.value = known && view.present < to_int(line.on.size())
                       ? (line.on[to_size(view.present)] ? "moved in this step" : "at rest in this step")
                       : "";
      item.id = ui.make_id(Role::item, line.name);
      item.box = Box{box.x, y, box.w, leading};
      ui.show(std::move(item));
      y += leading;
    }
  });
  ui.gap(8);
}

}  // namespace kp::ui
