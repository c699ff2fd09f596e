// A caution: the signal word on its panel, the sign, the words. The four words differ in shape as
// well as in colour, so that they are told apart in glare and by the colour-blind.
#include <algorithm>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/signs.hpp"

namespace kp::ui {
namespace {

struct Look {
  const char* word;
  const char* name;   ///< as the page knows it
  Color fill, ink;
  bool wide;          ///< the panel spans the column; else it is a tab as wide as its word
  bool framed;        ///< a frame runs round the whole
  bool alert;         ///< with the triangle: people can be hurt
};

// Panels after ISO 3864-2 and ANSI Z535.4 (from memory): red, orange, yellow, blue.
Look look_of(const Palette& c, Signal signal) {
  switch (signal) {
    case Signal::danger:
      return Look{"DANGER", "danger", c.danger, c.on_safety, true, true, true};
    case Signal::warning:
      return Look{"WARNING", "warning", c.alert, rgb(0x000000), true, false, true};
    case Signal::caution:
      return Look{"CAUTION", "caution", c.warn, c.warn_ink, false, false, true};
    case Signal::notice: break;
  }
  return Look{"NOTICE", "notice", c.must, c.on_safety, false, false, false};
}

constexpr Type kWord{Face::bold, 14};

float panel_height(const Ui& ui) { return ui.fonts.leading(kWord) + 5; }

void draw_panel(Ui& ui, const Look& look, Box column) {
  const float high = panel_height(ui);
  const float sign = look.alert ? high - 6 : 0;
  const float text_x = look.alert ? sign + 16 : 10;
  const float tab = text_x + ui.fonts.width(kWord, look.word) + 12;
  const Box panel{column.x, column.y, look.wide ? column.w : std::min(tab, column.w), high};
  ui.fill(panel, look.fill, look.wide ? 4 : high / 2);
  if (look.alert) {
    draw_alert(ui, Vec{panel.x + 9, panel.y + 3.5F}, sign, look.ink, look.fill);
  }
  ui.text(kWord, panel.x + text_x, panel.centre().y + ui.fonts.ascent(kWord) / 2, look.ink,
          look.word);
}

Urgency urgency_of(Signal signal) {
  return signal == Signal::danger    ? Urgency::danger
         : signal == Signal::warning ? Urgency::warning
                                     : Urgency::rest;
}

// Told once as long as it stands on the card.
void tell_once(Ui& ui, Id id, const std::string& spoken, Signal signal) {
  Ui::Slot& slot = ui.slot(id);
  if (slot.flag) return;
  slot.flag = true;
  ui.announce(spoken, urgency_of(signal));
}

}  // namespace

void caution(Ui& ui, const Caution& spec) {
  if (spec.text.empty()) return;
  const Palette& c = ui.colors();
  const Look look = look_of(c, spec.signal);
  const float pad = look.framed ? 8 : 0;
  const float sign = spec.sign.empty() ? 0 : ui.fonts.scaled(36);
  const float indent = pad + (sign > 0 ? sign + 10 : 0);
  const float leading = ui.fonts.leading(type::kLine);
  const auto lines = ui.fonts.wrap(type::kLine, spec.text, ui.width() - indent - pad);
  const float words_high = leading * static_cast<float>(lines.size());
  const float body = std::max(words_high, sign * 0.9F);
  const float high = panel_height(ui) + 5 + body + (look.framed ? 6 : 0);
  const Box box = ui.take(high);
  draw_panel(ui, look, box);
  if (look.framed) ui.stroke(box.inset(1, 1), look.fill, 2.5F, 4);
  const float top = box.y + panel_height(ui) + 5;
  if (sign > 0) draw_sign(ui, spec.sign, Vec{box.x + pad, top}, sign);
  float y = top + (body - words_high) / 2 + leading * 0.78F;
  for (const std::string_view line : lines) {
    ui.text(type::kLine, box.x + indent, y, c.ink, line);
    y += leading;
  }
  Semantic item;
  item.role = Role::alert;
  item.name = cat(look.word, ". ", spec.text);
  item.id = ui.make_id(Role::alert, item.name);
  item.box = box;
  item.tag = look.name;
  if (ui.painting() && !ui.inert()) {
    // One that joins a panel later is told alone: what stood there was told.
    const std::vector<std::string> whole = {std::string(spec.text)};
    const Scope scope(ui, "told");
    for (const std::string& one : spec.told == nullptr ? whole : *spec.told) {
      const std::string spoken = cat(look.word, ". ", one);
      tell_once(ui, ui.make_id(Role::alert, spoken), spoken, spec.signal);
    }
  }
  ui.show(std::move(item));
  ui.gap(10);
}

}  // namespace kp::ui
