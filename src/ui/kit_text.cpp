#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

constexpr float kBase = 0.78F;  // baseline in a line's box

// True when the text under this identity is new since the last frame.
bool fresh(Ui& ui, Id id, std::string_view text) {
  Ui::Slot& slot = ui.slot(id);
  if (slot.text == text) return false;
  slot.text = std::string(text);
  return true;
}

}  // namespace

Box words(Ui& ui, Type type, Color color, std::string_view text, Role role, int level) {
  if (text.empty()) return Box{ui.left(), ui.y(), ui.width(), 0};
  const float leading = ui.fonts.leading(type);
  const auto lines = ui.fonts.wrap(type, text, ui.width());
  const Box box = ui.take(leading * static_cast<float>(lines.size()));
  float y = box.y + leading * kBase;
  for (const std::string_view line : lines) {
    ui.text(type, box.x, y, color, line);
    y += leading;
  }
  Semantic item;
  item.id = ui.make_id(role, text);
  item.role = role;
  item.name = std::string(text);
  item.box = box;
  item.level = level;
  ui.show(std::move(item));
  return box;
}

Box heading(Ui& ui, std::string_view text, Type type, int level) {
  return words(ui, type, ui.colors().ink, text, Role::heading, level);
}

Box sentence(Ui& ui, std::string_view text) {
  if (text.empty()) return Box{};
  ui.gap(6);
  Type type = type::kSentence;
  if (ui.surface().size.x >= metric::kThreePanes) type.size = 27;
  const Id id = ui.make_id(Role::status, "sentence");
  if (ui.painting() && !ui.inert() && fresh(ui, id, text)) ui.announce(text);
  const Box box = words(ui, type, ui.colors().ink, text, Role::heading, 1);
  ui.gap(8);
  return box;
}

Box how(Ui& ui, std::string_view text) {
  const Box box = words(ui, type::kLine, ui.colors().soft, text);
  if (!text.empty()) ui.gap(8);
  return box;
}

void reason(Ui& ui, std::string_view title, std::string_view text) {
  if (text.empty()) return;
  ui.gap(12);
  hairline(ui);
  ui.gap(14);
  words(ui, Type{Face::bold, 14}, ui.colors().soft, title, Role::heading, 3);
  ui.gap(6);
  words(ui, type::kText, ui.colors().ink, text);
}

void hairline(Ui& ui) {
  const Box box = ui.take(1);
  ui.fill(Box{box.x, box.y, box.w, 1}, ui.colors().hairline);
}

bool notice(Ui& ui, NoticeKind kind, std::string_view text, std::string_view action) {
  if (text.empty()) return false;
  const Palette& c = ui.colors();
  const Color bar = kind == NoticeKind::danger ? c.danger
                    : kind == NoticeKind::warn ? c.warn
                    : kind == NoticeKind::good ? c.safe
                                               : c.touch;
  const Id id = ui.make_id(Role::status, "notice");
  if (ui.painting() && !ui.inert() && fresh(ui, id, text)) {
    ui.announce(text, kind == NoticeKind::danger ? Urgency::danger : Urgency::rest);
  }
  const float pad = 10;
  const float sign = kind == NoticeKind::warn || kind == NoticeKind::danger ? 28 : 0;
  const float inner = ui.width() - 20 - sign;
  const float height = ui.measure(inner, [&] {
    words(ui, type::kLine, c.ink, text);
    if (!action.empty()) ui.gap(52);
  }) + 2 * pad;
  const Box box = ui.take(height);
  ui.fill(box, c.card, 8);
  ui.stroke(box, c.hairline, 1, 8);
  ui.fill(Box{box.x, box.y, 5, box.h}, bar, 2);
  if (sign > 0) draw_warning(ui, Vec{box.x + 14, box.y + pad}, 1);
  bool pressed = false;
  ui.within(Box{box.x + 14 + sign, box.y + pad, inner, 0}, [&] {
    words(ui, type::kLine, c.ink, text,
          kind == NoticeKind::danger ? Role::alert : Role::status);
    if (!action.empty()) {
      ui.gap(6);
      pressed = button(ui, Button{.label = action, .look = Button::Look::outline, .height = 46});
    }
  });
  return pressed;
}

}  // namespace kp::ui
