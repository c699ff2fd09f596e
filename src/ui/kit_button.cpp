#include <algorithm>
#include <cmath>

#include <imgui.h>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

constexpr double kSecondStepMs = 300;  // a bouncing key is no second decision

// The label, centred, wrapped where it must be, with a small line under it.
void draw_label(Ui& ui, Box box, Type type, Color color, std::string_view label,
                std::string_view hint) {
  const float room = box.w - 20;
  const auto lines = ui.fonts.wrap(type, label, room);
  const auto small = hint.empty() ? std::vector<std::string_view>{}
                                  : ui.fonts.wrap(type::kNote, hint, room);
  const float leading = ui.fonts.leading(type);
  const float small_leading = ui.fonts.leading(type::kNote);
  const float total = leading * static_cast<float>(lines.size()) +
                      (small_leading + 2) * static_cast<float>(small.size());
  float y = box.y + (box.h - total) / 2 + leading * 0.76F;
  for (const std::string_view line : lines) {
    ui.text(type, box.centre().x, y, color, line, 0.5F);
    y += leading;
  }
  y += small_leading * 0.76F - leading * 0.76F + 3;
  for (const std::string_view line : small) {
    ui.text(type::kNote, box.centre().x, y, color, line, 0.5F);
    y += small_leading;
  }
}

float label_height(Ui& ui, Type type, std::string_view label, std::string_view hint, float least) {
  const float room = ui.width() - 20;
  float height = 22 + ui.fonts.leading(type) *
                          static_cast<float>(ui.fonts.wrap(type, label, room).size());
  if (!hint.empty()) {
    height += 2 + ui.fonts.leading(type::kNote) *
                      static_cast<float>(ui.fonts.wrap(type::kNote, hint, room).size());
  }
  return std::max(least, height);
}

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

// ---------------------------------------------------------------- press and hold

namespace {

struct HoldTurn {
  bool confirmed = false;
  bool offer = false;     ///< show the second step
  float share = 0;        ///< of the way to a confirmation
};

// Slot: ms = begin of the held press (0 none), n = 1 while the second step is offered,
// a = unused, text = unused, flag = true tells the kit that Space is held, not tapped.
HoldTurn turn_hold(Ui& ui, Id id, const Felt& felt, bool enabled) {
  HoldTurn turn;
  Ui::Slot& slot = ui.slot(id);
  const FrameInput& in = ui.in();
  slot.flag = true;
  if (!enabled) {
    slot.ms = 0;
    slot.n = 0;
    return turn;
  }
  const bool by_key = ui.focus() == id && (in.key_space || felt.focused);
  bool space_up = false;
  for (const KeyPress& key : in.keys) {
    if (ui.focus() == id && key.key == Key::space && !key.down) space_up = true;
    if (ui.focus() == id && key.key == Key::space && key.down) slot.ms = in.press_ms;
  }
  const bool pointer = ui.active() == id && !ui.taste.two_step;
  if (pointer && in.pressed) slot.ms = in.press_ms;
  const bool holding = (pointer && felt.held) || (by_key && in.key_space);
  const double until = in.released || space_up ? in.release_ms : in.ms;
  const double held = slot.ms > 0 ? until - slot.ms : 0;
  if (slot.ms > 0 && (holding || felt.clicked || space_up)) {
    turn.share = static_cast<float>(std::clamp(held / metric::kHoldMs, 0.0, 1.0));
    if (held >= metric::kHoldMs) {
      turn.confirmed = true;
      slot.ms = 0;
      slot.n = 0;
      ui.cancel_active();
      return turn;
    }
  }
  if (!holding) slot.ms = 0;
  if (holding && slot.ms > 0) ui.when.now();
  const bool tapped = ui.taste.two_step && felt.clicked;
  if (felt.assisted || tapped || (space_up && held < metric::kHoldMs)) {
    slot.n = 1;
    slot.b = static_cast<float>(std::fmod(in.ms, 1e6));
    ui.when.now();
  }
  turn.offer = slot.n == 1;
  return turn;
}

// "Hold: springs unhooked" asks again as "Press again: springs unhooked".
std::string second_label(const Hold& spec) {
  if (!spec.done.empty()) return cat("Press again: ", spec.done);
  const std::size_t colon = spec.label.find(": ");
  return cat("Press again: ",
             spec.label.substr(colon == std::string_view::npos ? 0 : colon + 2));
}

// The second step stands above the button, at the side of the column, not under the finger.
bool second_step(Ui& ui, const Hold& spec, Id id) {
  bool confirmed = false;
  Ui::Slot& slot = ui.slot(id);
  const std::string label = second_label(spec);
  const std::string key = cat(spec.key, "/again");
  const std::string no = cat(spec.key, "/no");
  ui.columns({3, 1}, 8, [&](int column) {
    if (column == 0) {
      const bool fired = button(ui, Button{.label = label, .key = key,
                                           .look = Button::Look::outline, .height = 56});
      const auto now = static_cast<float>(std::fmod(ui.in().ms, 1e6));
      if (fired && std::fabs(now - slot.b) >= static_cast<float>(kSecondStepMs)) confirmed = true;
    } else if (button(ui, Button{.label = "Cancel", .key = no,
                                 .look = Button::Look::quiet, .height = 56})) {
      slot.n = 0;
    }
  });
  ui.gap(10);
  if (confirmed) {
    slot.n = 0;
    slot.ms = 0;
  }
  if (slot.n == 0) ui.when.now();   // the second step goes away
  return confirmed;
}

}  // namespace

bool hold(Ui& ui, const Hold& spec) {
  const Palette& c = ui.colors();
  const Id id = ui.make_id(Role::button, spec.label, spec.key);
  bool confirmed = false;
  if (ui.slot(id).n == 1 && spec.enabled && !spec.busy) confirmed = second_step(ui, spec, id);
  if (!spec.enabled && !spec.why_not.empty()) {
    words(ui, type::kLine, c.ink, spec.why_not, Role::status);
    ui.gap(8);
  }
  const bool desk = ui.surface().size.x >= metric::kThreePanes;
  const std::string_view hint = spec.busy ? "saving"
                                : !spec.hint.empty() ? spec.hint
                                : ui.taste.two_step ? "press, then press again"
                                : desk ? "or hold the space bar"
                                       : "slide off to cancel";
  const Box box = ui.take(label_height(ui, type::kTitle, spec.label, hint,
                                       ui.surface().size.y < 640 ? 64 : metric::kHold));
  Semantic item = button_item(ui, spec.label, spec.key, box);
  item.id = id;
  item.hint = std::string(hint);
  item.enabled = spec.enabled && !spec.busy;
  item.busy = spec.busy;
  const Felt felt = ui.feel(std::move(item));
  if (!ui.painting() || ui.inert()) {
    if (!ui.painting()) return false;
  }
  const bool on = spec.enabled && !spec.busy;
  const int before = ui.slot(id).n;
  const HoldTurn turn = ui.inert() ? HoldTurn{} : turn_hold(ui, id, felt, on);
  if (turn.offer && before == 0) ui.announce(second_label(spec));
  const Color base = on ? c.touch : c.off_fill;
  ui.fill(box, base, metric::kRadius);
  if (turn.share > 0) {
    ui.clip(Box{box.x, box.y, box.w * turn.share, box.h});
    ui.fill(box, c.touch_deep, metric::kRadius);
    ui.unclip();
  }
  draw_label(ui, box, type::kTitle, on ? c.on_touch : c.off_text, spec.label, hint);
  if (felt.focused) draw_focus(ui, box, metric::kRadius);
  return confirmed || turn.confirmed;
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
