#include <algorithm>
#include <cmath>

#include <imgui.h>

#include "base/text.hpp"
#include "ui/button_label.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

Semantic button_item(Ui& ui, std::string_view label, std::string_view key, Box box) {
  Semantic item;
  item.id = ui.make_id(Role::button, label, key);
  item.role = Role::button;
  item.name = std::string(label);
  item.box = box;
  return item;
}

}  // namespace

bool button(Ui& ui, const Button& spec) {
  const Palette& c = ui.colors();
  const bool quiet = spec.look == Button::Look::quiet;
  Type type = quiet ? type::kWay : spec.height < 50 ? type::kRowBold : type::kTitle;
  if (spec.mono) type = Type{Face::mono_bold, 22};
  const Box box = ui.take(label_height(ui, type, spec.label, spec.hint, spec.height));
  Semantic item = button_item(ui, spec.label, spec.key, box);
  item.hint = std::string(spec.hint);
  item.enabled = spec.enabled && !spec.busy;
  item.busy = spec.busy;
  const Felt felt = ui.feel(std::move(item));
  const bool on = spec.enabled;
  Color ink = on ? c.on_touch : c.off_text;
  if (spec.look == Button::Look::primary) {
    ui.fill(box, on ? (felt.held ? c.touch_deep : c.touch) : c.off_fill, metric::kRadius);
  } else {
    ink = on ? c.touch : c.off_text;
    if (!quiet || felt.held) {
      ui.fill(box, felt.held ? c.touch_tint : c.card, quiet ? 8 : metric::kRadius);
    }
    if (!quiet) ui.stroke(box.inset(1, 1), on ? c.touch : c.hairline, 2, metric::kRadius - 1);
  }
  draw_label(ui, box, type, ink, spec.label, spec.hint);
  if (felt.focused) draw_focus(ui, box, metric::kRadius);
  return felt.fired();
}

// ---------------------------------------------------------------- ways out

// In one row from margin to margin; in more rows, from the left, where they do not fit.
int ways_out(Ui& ui, const std::vector<std::string_view>& labels) {
  const Palette& c = ui.colors();
  const int count = to_int(labels.size());
  constexpr float kLeastGap = 16;
  float total = 0;
  for (const std::string_view label : labels) total += ui.fonts.width(type::kWay, label);
  const float gaps = static_cast<float>(std::max(1, count - 1));
  const bool one_row = total + kLeastGap * gaps <= ui.width();
  const float row = ui.surface().size.y < 640 || !one_row ? 46 : metric::kWays - 6;
  ui.gap(6);
  Box line = ui.take(row);
  float pen = line.x;
  int pressed = -1;
  for (int i = 0; i < count; ++i) {
    const std::string_view label = labels[to_size(i)];
    const float width = ui.fonts.width(type::kWay, label);
    if (!one_row && pen > line.x && pen + width > line.right()) {
      line = ui.take(row);
      pen = line.x;
    }
    const float x = pen;
    pen += width + (one_row ? (line.w - total) / gaps : 28);
    const Box box{x - kLeastGap / 2, line.y, width + kLeastGap, row};
    Semantic item = button_item(ui, label, {}, box);
    const Felt felt = ui.feel(std::move(item));
    if (felt.held) ui.fill(box.inset(2, 6), c.touch_tint, 8);
    ui.text(type::kWay, x, line.y + row / 2 + 6, c.touch, label);
    if (felt.focused) draw_focus(ui, box.inset(2, 6), 8);
    if (felt.fired()) pressed = i;
  }
  return pressed;
}

int ways_out(Ui& ui, std::initializer_list<std::string_view> labels) {
  return ways_out(ui, std::vector<std::string_view>(labels));
}

bool checkbox(Ui& ui, std::string_view label, bool& value, std::string_view key) {
  const Palette& c = ui.colors();
  const Type type{Face::regular, 16.5F};
  const float k = ui.fonts.scaled(1);
  const float indent = 38 * std::min(k, 1.3F);
  const auto lines = ui.fonts.wrap(type, label, ui.width() - indent);
  const float leading = ui.fonts.leading(type);
  const Box box = ui.take(std::max(48.0F, leading * static_cast<float>(lines.size()) + 16));
  Semantic item;
  item.id = ui.make_id(Role::checkbox, label, key);
  item.role = Role::checkbox;
  item.name = std::string(label);
  item.box = box;
  item.checked = value;
  const Felt felt = ui.feel(std::move(item));
  if (felt.fired()) value = !value;
  const Box mark{box.x, box.y + box.h / 2 - 13, 26, 26};
  ui.fill(mark, felt.held ? c.touch_tint : c.card, 6);
  ui.stroke(mark, c.touch, 2, 6);
  if (value) draw_check(ui, mark.centre(), 12, c.touch, 2.8F);
  float y = box.y + (box.h - leading * static_cast<float>(lines.size())) / 2 + leading * 0.76F;
  for (const std::string_view line : lines) {
    ui.text(type, box.x + indent, y, c.ink, line);
    y += leading;
  }
  if (felt.focused) draw_focus(ui, mark, 6);
  return felt.fired();
}

bool choose(Ui& ui, std::string_view name, const std::vector<std::string_view>& labels,
            int& chosen) {
  const Palette& c = ui.colors();
  bool changed = false;
  const Scope scope(ui, name);
  list(ui, name, [&] {
    for (int i = 0; i < to_int(labels.size()); ++i) {
      const bool is = chosen == i;
      const float k = ui.fonts.scaled(1);
      const Box box = ui.take(std::max(48.0F, 48 * std::min(k, 1.3F)));
      Semantic item;
      item.id = ui.make_id(Role::radio, labels[to_size(i)]);
      item.role = Role::radio;
      item.name = std::string(labels[to_size(i)]);
      item.box = box;
      item.checked = is;
      const Felt felt = ui.feel(std::move(item));
      const Vec mark{box.x + 14, box.centre().y};
      ui.disc(mark, 12, felt.held ? c.touch_tint : c.card);
      ui.ring(mark, 12, is ? c.touch : c.soft, 2);
      if (is) ui.disc(mark, 6.5F, c.touch);
      const Type type = is ? type::kRowBold : type::kRow;
      ui.text(type, box.x + 38, box.centre().y + ui.fonts.ascent(type) / 2, c.ink,
              labels[to_size(i)]);
      if (felt.focused) draw_focus(ui, box.inset(0, 3), 8);
      if (felt.fired() && !is) {
        chosen = i;
        changed = true;
      }
    }
  });
  return changed;
}

}  // namespace kp::ui
