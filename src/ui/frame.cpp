#include "ui/frame.hpp"

#include "base/text.hpp"
#include "ui/frame_strip.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

constexpr float kGapBeforeFoot = 10;

void draw_pinned(const Screen& spec) {
  if (spec.foot) spec.foot();
  if (spec.ways) spec.ways();
}

// Short screens: a phone on its side, a small one.
bool is_short(const Ui& ui) { return ui.surface().size.y < 640; }

float top_pad_of(const Ui& ui) { return is_short(ui) ? 8 : 14; }

// The lower part: act above, foot pinned. Scrolls the act when it is too high.
void draw_lower(Ui& ui, const Screen& spec, Box box, float pad, float top_pad, float bottom) {
  const float inner = box.w - 2 * pad;
  const auto pinned = [&] { draw_pinned(spec); };
  const float foot = ui.measure(inner, pinned);
  const Box act{box.x + pad, box.y, inner, std::max(0.0F, box.h - foot - bottom)};
  ui.scroll("act", Box{box.x, act.y, box.w, act.h}, [&] {
    const Box column{act.x, ui.y() + top_pad, act.w, act.h - top_pad};
    ui.gap(top_pad + (spec.act ? ui.within(column, spec.act) : 0) + kGapBeforeFoot);
  });
  ui.within(Box{act.x, box.bottom() - bottom - foot, inner, foot}, pinned);
}

void draw_look(Ui& ui, const Screen& spec, Box box, float pad) {
  if (!spec.look) return;
  if (spec.look_fills) {
    ui.clip(box);
    ui.within(box, spec.look);
    ui.unclip();
    return;
  }
  const float inner = box.w - 2 * pad;
  ui.scroll("look", box, [&] {
    ui.gap(16 + ui.within(Box{box.x + pad, ui.y() + 8, inner, box.h - 8}, spec.look));
  });
}

// Both parts in one scrolling column: a small screen, large text. Only what confirms stays fixed.
void draw_squeezed(Ui& ui, const Screen& spec, Box body, float bottom) {
  const Palette& c = ui.colors();
  const float inner = body.w - 2 * metric::kMargin;
  const int limit = ui.fonts.limit(130);
  const float foot = spec.foot ? ui.measure(inner, spec.foot) : 0;
  (void)ui.fonts.limit(limit);
  const Box all{body.x, body.y, body.w, std::max(0.0F, body.h - foot - bottom - 18)};
  ui.scroll("all", all, [&] {
    const float pad = top_pad_of(ui);
    const auto act = [&] {
      ui.gap(pad);
      if (spec.act) spec.act();
      ui.gap(kGapBeforeFoot);
      if (spec.ways) spec.ways();
    };
    const float act_h = ui.measure(inner, act);
    ui.fill(Box{all.x, ui.y(), all.w, act_h}, c.card);
    ui.within(Box{all.x + metric::kMargin, ui.y(), inner, act_h}, act);
    ui.gap(act_h);
    ui.fill(Box{all.x, ui.y() - 1, all.w, 1}, c.hairline);
    if (!spec.look) return;
    ui.stop_reveal();   // the step comes first here, the list's place after it
    if (spec.look_fills) {
      const float h = std::max(spec.look_least, 260.0F);
      ui.within(Box{all.x, ui.y(), all.w, h}, spec.look);
      ui.gap(h);
    } else {
      ui.gap(24 + ui.within(Box{all.x + metric::kMargin, ui.y() + 8, inner, 0}, spec.look));
    }
  });
  ui.fill(Box{all.x, all.bottom(), all.w, body.bottom() - all.bottom() + 100}, c.card);
  ui.fill(Box{all.x, all.bottom(), all.w, 1}, c.hairline);
  if (spec.foot) {
    const int before = ui.fonts.limit(130);
    ui.within(Box{all.x + metric::kMargin, all.bottom() + 8, inner, foot}, spec.foot);
    (void)ui.fonts.limit(before);
  }
}

void draw_phone(Ui& ui, const Screen& spec, Box body, float bottom) {
  const Palette& c = ui.colors();
  const float inner = body.w - 2 * metric::kMargin;
  const float pad = top_pad_of(ui);
  const float foot = ui.measure(inner, [&] { draw_pinned(spec); });
  const float act = spec.act ? ui.measure(inner, spec.act) + pad + kGapBeforeFoot : 10;
  const float wanted = act + foot + bottom;
  const float least = std::min(
      spec.look_least, spec.look_fills || !spec.look ? spec.look_least
                                                     : ui.measure(inner, spec.look) + 16);
  if (wanted + (spec.look ? least : 0) > body.h + 0.5F) {
    draw_squeezed(ui, spec, body, bottom);
    return;
  }
  const float lower = std::min(body.h, wanted);
  const Box upper_box{body.x, body.y, body.w, body.h - lower};
  const Box lower_box{body.x, body.bottom() - lower, body.w, lower};
  draw_look(ui, spec, upper_box, metric::kMargin);
  ui.fill(lower_box, c.card);
  ui.fill(Box{lower_box.x, lower_box.y, lower_box.w, 1}, c.hairline);
  draw_lower(ui, spec, lower_box, metric::kMargin, pad, bottom);
}

void draw_desk(Ui& ui, const Screen& spec, Box body, float bottom) {
  const Palette& c = ui.colors();
  const float left = spec.aside ? 360 : 0;
  const float right = 400;
  if (spec.aside) {
    const Box aside{body.x, body.y, left, body.h};
    ui.fill(aside, c.card);
    ui.scroll("aside", aside, [&] {
      const float inner = left - 48;
      ui.gap(36 + ui.within(Box{aside.x + 24, ui.y() + 18, inner, aside.h - 18}, spec.aside));
    });
    ui.fill(Box{aside.right() - 1, aside.y, 1, aside.h}, c.hairline);
  }
  const Box lower{body.right() - right, body.y, right, body.h};
  const float room = body.w - left - right;
  // A list reads badly at full width: it stands in the middle, not wider than a page.
  const float pad = spec.look_fills ? 0 : std::max(24.0F, (room - 620) / 2);
  draw_look(ui, spec, Box{body.x + left, body.y, room, body.h}, pad);
  ui.fill(lower, c.card);
  ui.fill(Box{lower.x, lower.y, 1, lower.h}, c.hairline);
  draw_lower(ui, spec, lower, 28, 30, bottom + 34);
}

/// So much of a sheet's words is in sight above its pinned buttons, at least.
constexpr float kLeastRead = 160;

bool draw_sheet(Ui& ui, const Sheet& sheet, Box body, float bottom) {
  const Palette& c = ui.colors();
  bool close = false;
  const bool wide = body.w >= metric::kTwoPanes;
  const float width = wide ? std::min(560.0F, body.w - 80) : body.w;
  const float inner = width - 2 * metric::kMargin;
  const Scope scope(ui, sheet.title);
  const auto foot = [&] {
    if (sheet.foot) {
      sheet.foot();
      ui.gap(10);
    }
    if (sheet.closes && button(ui, Button{.label = "Close", .look = Button::Look::outline, .height = 56})) {
      close = true;
    }
    ui.gap(16);
  };
  const float foot_height = ui.measure(inner, foot) + bottom;
  const float head = ui.fonts.leading(type::kTitle) + 30;
  const float content = ui.measure(inner, sheet.content) + 16;
  const float height = std::min(head + content + foot_height, body.h - 40);
  ui.fill(body, with_alpha(rgb(0x000000), 0x66));
  Box box{body.x + (body.w - width) / 2, wide ? body.y + (body.h - height) / 2
                                              : body.bottom() - height, width, height};
  if (sheet.at_top) box.y = body.y;
  ui.fill(box, c.card, wide ? 12 : 0);
  ui.fill(Box{box.x, box.y, box.w, 1}, c.hairline);
  Semantic item;
  item.id = ui.make_id(Role::region, sheet.title);
  item.role = Role::region;
  item.name = std::string(sheet.title);
  item.box = box;
  item.modal = true;
  ui.begin_group(std::move(item));
  ui.within(Box{box.x + metric::kMargin, box.y + 18, inner, head},
            [&] { heading(ui, sheet.title); });
  // Where its buttons would leave no room to read, they scroll with what is read.
  const bool crowded = head + std::min(content, kLeastRead) + foot_height > height;
  const Box middle{box.x, box.y + head, box.w, box.h - head - (crowded ? 0 : foot_height)};
  ui.scroll("sheet", middle, [&] {
    ui.within(Box{middle.x + metric::kMargin, ui.y(), inner, middle.h}, sheet.content);
    ui.gap(content);
    if (crowded) {
      ui.within(Box{middle.x + metric::kMargin, ui.y(), inner, foot_height}, foot);
      ui.gap(foot_height);
    }
  });
  if (!crowded) {
    ui.within(Box{box.x + metric::kMargin, box.bottom() - foot_height, inner, foot_height}, foot);
  }
  ui.end_group();
  for (const KeyPress& key : ui.in().keys) close = close || (key.down && key.key == Key::escape);
  return close;
}

}  // namespace

ScreenTouched screen(Ui& ui, const Screen& spec) {
  const Palette& c = ui.colors();
  const Scope scope(ui, spec.name);
  const Surface& s = ui.surface();
  const Box all{s.insets.left, s.insets.top, s.size.x - s.insets.left - s.insets.right,
                s.size.y - s.insets.top};
  ui.fill(Box{0, 0, s.size.x, s.size.y}, c.paper);
  ui.fill(Box{0, 0, s.size.x, s.insets.top}, c.card);
  ScreenTouched touched;
  const bool covered = spec.sheet != nullptr;
  if (covered) ui.set_inert(true);
  const bool desk = all.w >= metric::kThreePanes;
  // The frame grows with the text only so far on a small screen.
  const int limit = ui.fonts.limit(is_short(ui) || all.w < 360 ? 130 : 400);
  const bool beside = !desk && all.w >= metric::kTwoPanes && all.w > all.h;
  const float strip_width = desk ? std::min(520.0F, all.w * 0.362F) : all.w;
  const float strip_h = spec.has_strip ? strip_height(ui, spec.strip, strip_width) : 0;
  if (spec.has_strip) {
    const StripTouched strip =
        draw_strip(ui, spec.strip, Box{all.x, all.y, strip_width, strip_h});
    touched.power = strip.power;
    touched.water = strip.water;
  }
  float top = all.y + strip_h;
  const float bottom = s.insets.bottom;
  const float right = beside ? std::clamp(all.w * 0.5F, 340.0F, 420.0F) : 0;
  const float rail_pad = metric::kMargin;
  float rail_height_here = 0;
  if (desk && spec.has_strip) {
    touched.stage = draw_wide_rail(
        ui, spec.rail, Box{all.x + strip_width, all.y, all.w - strip_width, strip_h});
  } else {
    const float w = all.w - right - 2 * rail_pad;
    const float h = rail_height(ui, spec.rail, w);
    if (draw_rail(ui, spec.rail, Box{all.x + rail_pad, top, w, h})) touched.stage = spec.rail.stage;
    rail_height_here = h;
    if (!beside) top += h;
  }
  (void)ui.fonts.limit(limit);
  float upper_top = top + (beside ? rail_height_here : 0);
  if (spec.bands) {
    const float w = all.w - right - 2 * rail_pad;
    const float h = ui.measure(w, spec.bands);
    if (h > 0) {
      ui.within(Box{all.x + rail_pad, upper_top + 8, w, h}, spec.bands);
      upper_top += h + 8;
      if (!beside) top += h + 8;
    }
  }
  Box body{all.x, top, all.w, s.size.y - top};
  if (desk) {
    draw_desk(ui, spec, body, bottom);
  } else if (beside) {
    const Box left{all.x, upper_top, all.w - right, s.size.y - upper_top};
    draw_look(ui, spec, left, metric::kMargin);
    const Box lower{all.right() - right, top, right, s.size.y - top};
    ui.fill(lower, c.card);
    ui.fill(Box{lower.x, lower.y, 1, lower.h}, c.hairline);
    draw_lower(ui, spec, lower, metric::kMargin, top_pad_of(ui), bottom);
  } else {
    draw_phone(ui, spec, body, bottom);
  }
  if (covered) {
    ui.set_inert(false);
    const float sheet_top = all.y + strip_h;
    touched.close_sheet = draw_sheet(
        ui, *spec.sheet, Box{all.x, sheet_top, all.w, s.size.y - sheet_top}, bottom);
  }
  return touched;
}

}  // namespace kp::ui
