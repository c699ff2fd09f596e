#include "ui/frame_strip.hpp"

#include "base/text.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

// A narrow half has a smaller symbol, so that its word stays in it.
float symbol_scale(float half) { return half < 176 ? 0.78F : 1; }

Color safety_color(const Palette& c, Safety safety) {
  switch (safety) {
    case Safety::danger: return c.danger;
    case Safety::unproved: return c.warn;
    case Safety::safe: break;
  }
  return c.safe;
}

// The largest of a few sizes at which the words fit; text size counts only while they do.
Type fit(Ui& ui, Face face, std::string_view words, float room, float most, float least) {
  Type type{face, most};
  while (ui.fonts.width(type, words) > room && type.size > least) type.size -= 0.5F;
  const float floor = least * 100 / static_cast<float>(ui.taste.text_percent);
  while (ui.fonts.width(type, words) > room && type.size > floor) type.size -= 0.5F;
  return type;
}

float under_lines(Ui& ui, const Energy& energy, float half) {
  return static_cast<float>(ui.fonts.wrap(type::kSmall, energy.under, half - 22).size());
}

bool draw_half(Ui& ui, const Energy& energy, Box box, bool water) {
  const Palette& c = ui.colors();
  Semantic item;
  item.id = ui.make_id(Role::button, water ? "water" : "power");
  item.role = Role::button;
  item.name = cat(energy.word, ", ", energy.under);
  item.hint = water ? "Water isolation. Shows the evidence." : "Electric isolation. Shows the evidence.";
  item.box = box;
  item.tag = energy.safety == Safety::danger ? "live"
                : energy.safety == Safety::unproved ? "unproved"
                                                    : "safe";
  const Felt felt = ui.feel(std::move(item));
  if (felt.held) ui.fill(box, c.touch_tint);
  const Color hole = felt.held ? c.touch_tint : c.card;
  const float k = symbol_scale(box.w);
  const float margin = box.w < 176 ? 10 : 14;
  const Vec at{box.x + margin, box.y + 24};
  if (water) {
    draw_valve(ui, at, k, !energy.closed, hole);
  } else {
    draw_contact(ui, at, k, energy.closed, hole);
  }
  if (energy.proved) draw_cross(ui, Vec{at.x + 9 * k, at.y}, 9 * k, c.ink, 2);
  const float word_x = margin + 68 * k + (box.w < 176 ? 7 : 10);
  const Type big = fit(ui, Face::bold, energy.word, box.w - word_x - 6, 20, 12);
  ui.text(big, box.x + word_x, box.y + 24 + ui.fonts.ascent(big) / 2, c.ink, energy.word);
  const float leading = ui.fonts.leading(type::kSmall);
  const auto lines = ui.fonts.wrap(type::kSmall, energy.under, box.w - 22);
  float y = box.bottom() - 11 - leading * static_cast<float>(lines.size() - 1);
  for (const std::string_view line : lines) {
    ui.text(type::kSmall, box.x + margin, y, c.soft, line);
    y += leading;
  }
  ui.fill(Box{box.x, box.bottom() - metric::kSafetyBar, box.w, metric::kSafetyBar},
          safety_color(c, energy.safety));
  if (felt.focused) ui.stroke(box.inset(2, 2), c.ink, 2, 4);
  return felt.fired();
}

}  // namespace

float strip_height(Ui& ui, const Strip& strip, float width) {
  const float lines = std::max(under_lines(ui, strip.power, width / 2),
                               under_lines(ui, strip.water, width / 2));
  const float leading = ui.fonts.leading(type::kSmall);
  return metric::kStrip + (leading - 15) + leading * (lines - 1);
}

StripTouched draw_strip(Ui& ui, const Strip& strip, Box box) {
  const Palette& c = ui.colors();
  const float half = box.w / 2;
  ui.fill(box, c.card);
  StripTouched touched;
  touched.power = draw_half(ui, strip.power, Box{box.x, box.y, half, box.h}, false);
  touched.water = draw_half(ui, strip.water, Box{box.x + half, box.y, half, box.h}, true);
  ui.fill(Box{box.x + half - 0.5F, box.y + 8, 1, box.h - 20}, c.hairline);
  return touched;
}

namespace {

Semantic rail_item(Ui& ui, const Rail& rail, Box box) {
  Semantic item;
  item.id = ui.make_id(Role::progress, "rail");
  item.role = Role::progress;
  item.name = cat("Stage ", rail.stage + 1, " of ", to_int(rail.stages.size()), ", ",
                  std::string(rail.stages[to_size(rail.stage)]));
  item.value = std::string(rail.where);
  item.box = box;
  item.low = 0;
  item.high = static_cast<float>(rail.stages.size());
  item.now = static_cast<float>(rail.stage);
  return item;
}

void draw_clock(Ui& ui, const Rail& rail, Type type, float right, float y) {
  const Palette& c = ui.colors();
  ui.text(type, right, y, rail.clock_stopped ? c.soft : c.ink, rail.clock, 1);
  Semantic clock;
  clock.id = ui.make_id(Role::text, "clock");
  clock.name = rail.clock_stopped ? "Clock, stopped" : "Clock";
  clock.value = std::string(rail.clock);
  const float width = ui.fonts.width(type, rail.clock);
  clock.box = Box{right - width, y - 16, width, 20};
  ui.show(std::move(clock));
}

void draw_bar(Ui& ui, const Rail& rail, int index, Box box) {
  const Palette& c = ui.colors();
  ui.fill(box, index < rail.stage ? c.touch : c.hairline, 3);
  if (index == rail.stage && rail.within > 0) {
    ui.fill(Box{box.x, box.y, std::max(6.0F, box.w * std::min(1.0F, rail.within)), box.h}, c.touch,
            3);
  }
}

}  // namespace

float rail_height(Ui& ui, const Rail& rail, float width) {
  if (rail.stages.empty()) return 12;
  const float clock = ui.fonts.width(type::kClock, rail.clock);
  const float name = ui.fonts.width(type::kRailBold, rail.stages[to_size(rail.stage)]);
  const float room = width - clock - 20 - name - 8;
  const bool fits = ui.fonts.width(type::kRail, rail.where) <= room;
  const float leading = ui.fonts.leading(type::kRail);
  const float below = fits ? 0
      : leading * static_cast<float>(ui.fonts.wrap(type::kRail, rail.where, width).size());
  return 28 + leading + below;
}

bool draw_rail(Ui& ui, const Rail& rail, Box box) {
  const Palette& c = ui.colors();
  if (rail.stages.empty()) return false;
  const float count = static_cast<float>(rail.stages.size());
  const float each = (box.w - 4 * (count - 1)) / count;
  ui.show(rail_item(ui, rail, Box{box.x, box.y + 8, box.w, 14}));
  bool touched = false;
  if (rail.pressable) {
    Semantic item;
    item.id = ui.make_id(Role::button, "plan");
    item.role = Role::button;
    item.name = "Plan";
    item.value = std::string(rail.where);
    item.box = Box{box.x, box.y, box.w, std::max(metric::kRowMin, box.h)};
    const Felt felt = ui.feel(std::move(item));
    touched = felt.fired();
    if (felt.held) ui.fill(box, c.touch_tint, 6);
    if (felt.focused) draw_focus(ui, box, 6);
  }
  for (int i = 0; i < to_int(rail.stages.size()); ++i) {
    draw_bar(ui, rail, i, Box{box.x + (each + 4) * static_cast<float>(i), box.y + 12, each, 6});
  }
  const float leading = ui.fonts.leading(type::kRail);
  float y = box.y + 24 + leading * 0.78F;
  const std::string_view stage = rail.stages[to_size(rail.stage)];
  const float name = ui.fonts.width(type::kRailBold, stage);
  const float clock = ui.fonts.width(type::kClock, rail.clock);
  ui.text(type::kRailBold, box.x, y, c.ink, stage);
  draw_clock(ui, rail, type::kClock, box.right(), y);
  if (ui.fonts.width(type::kRail, rail.where) <= box.w - clock - 20 - name - 8) {
    ui.text(type::kRail, box.x + name + 8, y, c.soft, rail.where);
  } else {
    for (const std::string_view line : ui.fonts.wrap(type::kRail, rail.where, box.w)) {
      y += leading;
      ui.text(type::kRail, box.x, y, c.soft, line);
    }
  }
  return touched;
}

int draw_wide_rail(Ui& ui, const Rail& rail, Box box) {
  const Palette& c = ui.colors();
  ui.fill(box, c.card);
  ui.fill(Box{box.x, box.bottom() - metric::kSafetyBar, box.w, metric::kSafetyBar}, c.hairline);
  if (rail.stages.empty()) return -1;
  const Type clock{Face::mono, 18};
  const float clock_width = ui.fonts.width(clock, rail.clock) + 24 + 28;
  draw_clock(ui, rail, clock, box.right() - 24, box.y + 36);
  const float count = static_cast<float>(rail.stages.size());
  const float step = std::min(92.0F, (box.w - 36 - clock_width) / count);
  int touched = -1;
  const Scope scope(ui, "rail");
  ui.show(rail_item(ui, rail, Box{box.x + 36, box.y + 8, step * count, 44}));
  for (int i = 0; i < to_int(rail.stages.size()); ++i) {
    const std::string_view stage = rail.stages[to_size(i)];
    const float x = box.x + 36 + step * static_cast<float>(i);
    const bool here = i == rail.stage;
    const Type type = fit(ui, here ? Face::bold : Face::regular, stage, step - 6, 15.5F, 11);
    ui.text(type, x, box.y + 32, here ? c.ink : i < rail.stage ? c.touch : c.soft, stage);
    draw_bar(ui, rail, i, Box{x, box.y + 42, step - 16, 6});
  }
  return touched;
}

}  // namespace kp::ui
