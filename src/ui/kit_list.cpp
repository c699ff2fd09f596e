#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

void draw_mark(Ui& ui, const Row& spec, Vec centre, float radius) {
  const Palette& c = ui.colors();
  switch (spec.mark) {
    case Mark::none: return;
    case Mark::done: draw_done(ui, centre, radius); return;
    case Mark::target: {
      const float r = radius + 1;
      ui.poly({Vec{centre.x, centre.y - r}, Vec{centre.x + r, centre.y},
               Vec{centre.x, centre.y + r}, Vec{centre.x - r, centre.y}},
              c.touch, 0, true);
      return;
    }
    case Mark::refused:
      ui.disc(centre, radius + 1, c.danger);
      draw_cross(ui, centre, radius * 0.8F, c.on_safety, radius * 0.2F);
      return;
    case Mark::current:
    case Mark::open:
    case Mark::number: break;
  }
  const bool due = spec.mark == Mark::current || spec.current;
  ui.disc(centre, radius, c.card);
  ui.ring(centre, radius, due || spec.chosen ? c.touch : spec.choice ? c.soft : c.hairline, 2);
  if (spec.chosen) ui.disc(centre, radius * 0.5F, c.touch);
  if (spec.number > 0 && radius > 10) {
    const Type type{Face::bold, radius * 1.15F / ui.fonts.scaled(1)};   // it has to stay inside
    ui.text(type, centre.x, centre.y + ui.fonts.ascent(type) / 2, c.ink, integer_text(spec.number),
            0.5F);
  }
}

struct RowShape {
  Type label_type;
  float indent = 0;
  float right = 0;      ///< room kept for the figure
  bool figure_below = false;
  float height = 0;
};

RowShape shape_of(Ui& ui, const Row& spec) {
  RowShape shape;
  const bool bold = spec.current || spec.strong || spec.chosen || spec.mark == Mark::target;
  const float size = spec.dense ? 16 : spec.under.empty() ? 17 : 16.5F;
  shape.label_type = Type{bold ? Face::bold : Face::regular, size};
  const float k = std::min(ui.fonts.scaled(1), 1.3F);
  shape.indent = spec.mark == Mark::none ? 0 : spec.dense ? 30 : 42 * k;
  const float figure = spec.figure.empty() ? 0 : ui.fonts.width(type::kFigure, spec.figure) + 12;
  const float side = spec.side.empty() ? 0 : ui.fonts.width(type::kSmall, spec.side) + 12;
  shape.right = std::max(figure, side);
  const float room = ui.width() - shape.indent;
  const auto beside = ui.fonts.wrap(shape.label_type, spec.label, room - shape.right).size();
  shape.figure_below = shape.right > room * 0.55F || (shape.right > 0 && beside > 2);
  const float label_room = shape.figure_below ? room : room - shape.right;
  const float lines = static_cast<float>(ui.fonts.wrap(shape.label_type, spec.label, label_room).size());
  float height = lines * ui.fonts.leading(shape.label_type);
  if (!spec.under.empty()) {
    height += static_cast<float>(ui.fonts.wrap(type::kSmall, spec.under, label_room).size()) *
              ui.fonts.leading(type::kSmall);
  }
  if (shape.figure_below) height += ui.fonts.leading(type::kFigure);
  const float least = spec.dense ? 38 : spec.mark == Mark::none && !spec.line_below
                                            ? metric::kRowMin
                                            : spec.line_below ? 58 : metric::kRow;
  shape.height = std::max(least, height + (spec.dense ? 10 : 16));
  return shape;
}

void draw_row_words(Ui& ui, const Row& spec, const RowShape& shape, Box box, Color ink) {
  const Palette& c = ui.colors();
  const float room = box.w - shape.indent - (shape.figure_below ? 0 : shape.right);
  const auto lines = ui.fonts.wrap(shape.label_type, spec.label, room);
  const float leading = ui.fonts.leading(shape.label_type);
  const float small = ui.fonts.leading(type::kSmall);
  const auto under = spec.under.empty() ? std::vector<std::string_view>{}
                                        : ui.fonts.wrap(type::kSmall, spec.under, room);
  const float total = leading * static_cast<float>(lines.size()) +
                      small * static_cast<float>(under.size()) +
                      (shape.figure_below ? ui.fonts.leading(type::kFigure) : 0);
  float y = box.y + (box.h - total) / 2;
  for (const std::string_view line : lines) {
    ui.text(shape.label_type, box.x + shape.indent, y + leading * 0.76F, ink, line);
    y += leading;
  }
  for (const std::string_view line : under) {
    ui.text(type::kSmall, box.x + shape.indent, y + small * 0.82F, c.soft, line);
    y += small;
  }
  const float figure_y = shape.figure_below
      ? y + ui.fonts.leading(type::kFigure) * 0.76F
      : box.centre().y + ui.fonts.ascent(type::kFigure) / 2;
  ui.text(type::kFigure, box.right(), figure_y, c.ink, spec.figure, 1);
  ui.text(type::kSmall, box.right(), figure_y, c.soft, spec.side, 1);
}

}  // namespace

void list(Ui& ui, std::string_view name, FunctionRef<void()> rows) {
  Semantic item;
  item.id = ui.make_id(Role::list, name);
  item.role = Role::list;
  item.name = std::string(name);
  item.box = Box{ui.left(), ui.y(), ui.width(), 1};
  const std::size_t index = ui.semantics.items().size();
  const bool real = ui.painting() && !ui.inert();
  ui.begin_group(std::move(item));
  const float top = ui.y();
  rows();
  ui.end_group();
  if (real) ui.semantics.at(index).box.h = std::max(1.0F, ui.y() - top);
}

bool row(Ui& ui, const Row& spec) {
  const Palette& c = ui.colors();
  // Marked rows stand 8 px further in, so that the frame of the due one reaches the margins.
  const bool framed = spec.mark != Mark::none;
  const float inset = framed && !spec.dense ? 5 : 0;
  RowShape shape;
  ui.within(Box{ui.left() + inset, ui.y(), ui.width() - inset - (framed ? 8 : 0), 0},
            [&] { shape = shape_of(ui, spec); });
  const Box whole = ui.take(shape.height);
  const Box box{whole.x + inset, whole.y, whole.w - inset - (framed ? 8 : 0), whole.h};
  Semantic item;
  item.role = spec.pressable ? (spec.choice ? Role::radio : Role::button) : Role::item;
  item.id = ui.make_id(item.role, spec.label, spec.key);
  item.name = std::string(spec.label);
  item.value = std::string(spec.figure.empty() ? spec.side : spec.figure);
  item.hint = std::string(spec.under);
  item.box = whole;
  item.current = spec.current;
  if (spec.mark == Mark::done) item.checked = true;
  if (spec.mark == Mark::open || spec.mark == Mark::number || spec.mark == Mark::current) {
    item.checked = false;
  }
  if (spec.choice) item.checked = spec.chosen;
  const Id id = item.id;
  Felt felt;
  if (spec.pressable) {
    felt = ui.feel(std::move(item));
  } else {
    ui.show(std::move(item));
  }
  const Box frame{whole.x - (spec.dense ? 12 : 8), whole.y + 1, whole.w + (spec.dense ? 24 : 16),
                  whole.h - 2};
  if (spec.current) {
    ui.reveal(frame, id);
    ui.fill(frame, c.touch_tint, spec.dense ? 8 : 10);
    ui.stroke(frame, c.touch, 2, spec.dense ? 8 : 10);
  } else if (felt.held) {
    ui.fill(frame, c.touch_tint, 8);
  }
  const float radius = spec.dense ? 8 : 13;
  draw_mark(ui, spec, Vec{box.x + radius, box.centre().y}, radius);
  const Color ink = spec.faint ? c.soft : c.ink;
  draw_row_words(ui, spec, shape, box, ink);
  if (spec.line_below) ui.fill(Box{whole.x, whole.bottom() - 1, whole.w, 1}, c.hairline);
  if (felt.focused) draw_focus(ui, whole, 8);
  return felt.fired();
}

bool card(Ui& ui, const Card& spec) {
  const Palette& c = ui.colors();
  const Type title{spec.chosen ? Face::bold : Face::regular, 17.5F};
  const float picture = spec.drawing ? 92 : 4;
  const float room = ui.width() - picture - 8;
  const auto lines = ui.fonts.wrap(title, spec.title, room);
  const auto under = ui.fonts.wrap(type::kNote, spec.under, room);
  const float leading = ui.fonts.leading(title);
  const float small = ui.fonts.leading(type::kNote);
  const float words_height = leading * static_cast<float>(lines.size()) + 3 +
                             small * static_cast<float>(spec.under.empty() ? 0 : under.size());
  const Box box = ui.take(std::max(spec.height, words_height + 24));
  Semantic item;
  item.role = spec.pressable ? Role::radio : Role::item;
  item.id = ui.make_id(item.role, spec.title, spec.key);
  item.name = std::string(spec.title);
  item.hint = std::string(spec.under);
  item.box = box;
  item.checked = spec.chosen;
  Felt felt;
  if (spec.pressable) {
    felt = ui.feel(std::move(item));
  } else {
    ui.show(std::move(item));
  }
  const Box frame{box.x - 8, box.y + 3, box.w + 16, box.h - 8};
  if (spec.chosen || felt.held) ui.fill(frame, c.touch_tint, 10);
  if (spec.chosen) {
    ui.stroke(frame, c.touch, 2, 10);
  } else {
    ui.fill(Box{box.x, box.bottom() - 1, box.w, 1}, c.hairline);
  }
  if (spec.drawing && ui.painting()) spec.drawing(ui, Box{box.x, box.y + 8, 80, box.h - 18});
  float y = box.y + (box.h - words_height) / 2 - 1;
  for (const std::string_view line : lines) {
    ui.text(title, box.x + picture, y + leading * 0.76F, c.ink, line);
    y += leading;
  }
  y += 3;
  if (!spec.under.empty()) {
    for (const std::string_view line : under) {
      ui.text(type::kNote, box.x + picture, y + small * 0.8F, c.soft, line);
      y += small;
    }
  }
  if (felt.focused) draw_focus(ui, frame, 10);
  return felt.fired();
}

bool weight_bar(Ui& ui, const Weight& spec) {
  const Palette& c = ui.colors();
  const Type type{spec.chosen ? Face::bold : Face::regular, 15.5F};
  const float figure_room = ui.fonts.width(type::kBarFigure, spec.figure) + 14;
  const float room = ui.width() - 14 - figure_room;
  const auto lines = ui.fonts.wrap(type, spec.label, room);
  const auto under = spec.under.empty() ? std::vector<std::string_view>{}
                                        : ui.fonts.wrap(type::kSmall, spec.under, room);
  const float leading = ui.fonts.leading(type);
  const float small = ui.fonts.leading(type::kSmall);
  const float words_height = leading * static_cast<float>(lines.size()) +
                             small * static_cast<float>(under.size());
  const Box box = ui.take(std::max(spec.pressable ? metric::kRowMin + 4 : 32.0F, words_height + 14));
  Semantic item;
  item.role = spec.pressable ? Role::radio : Role::item;
  item.id = ui.make_id(item.role, spec.label, spec.key);
  item.name = std::string(spec.label);
  item.value = std::string(spec.figure);
  item.hint = std::string(spec.under);
  item.box = box;
  if (spec.pressable) item.checked = spec.chosen;
  Felt felt;
  if (spec.pressable) {
    felt = ui.feel(std::move(item));
  } else {
    ui.show(std::move(item));
  }
  const Box bar{box.x, box.y + 3, box.w, box.h - 6};
  const float length = std::max(6.0F, bar.w * static_cast<float>(std::clamp(spec.share, 0.0, 1.0)));
  ui.fill(Box{bar.x, bar.y, length, bar.h}, felt.held ? c.hairline : c.touch_tint, 4);
  ui.fill(Box{bar.x, bar.y, 4, bar.h}, c.touch);
  if (spec.chosen) ui.stroke(bar.inset(-6, 0), c.touch, 2, 6);
  float y = box.y + (box.h - words_height) / 2;
  for (const std::string_view line : lines) {
    ui.text(type, box.x + 12, y + leading * 0.76F, c.ink, line);
    y += leading;
  }
  for (const std::string_view line : under) {
    ui.text(type::kSmall, box.x + 12, y + small * 0.8F, c.soft, line);
    y += small;
  }
  ui.text(type::kBarFigure, box.right(), box.centre().y + ui.fonts.ascent(type::kBarFigure) / 2,
          c.ink, spec.figure, 1);
  if (felt.focused) draw_focus(ui, bar, 4);
  return felt.fired();
}

void total(Ui& ui, std::string_view label, std::string_view figure) {
  const Palette& c = ui.colors();
  const Type name{Face::bold, 22};
  const float need = ui.fonts.width(name, label) + ui.fonts.width(type::kTotal, figure) + 16;
  const bool two = need > ui.width();
  const float leading = ui.fonts.leading(type::kTotal);
  const Box box = ui.take(leading * (two ? 2.0F : 1.0F) + 6);
  ui.text(name, box.x, box.y + leading * 0.78F, c.ink, label);
  ui.text(type::kTotal, box.right(), box.y + leading * (two ? 1.78F : 0.78F), c.ink, figure, 1);
  Semantic item;
  item.id = ui.make_id(Role::text, label);
  item.name = std::string(label);
  item.value = std::string(figure);
  item.box = box;
  ui.show(std::move(item));
}

void time_bar(Ui& ui, const std::vector<Segment>& segments, std::string_view left,
              std::string_view middle, std::string_view right, std::string_view spoken) {
  const Palette& c = ui.colors();
  const Box bar = ui.take(24);
  const float gap = 2;
  const float room = bar.w - gap * static_cast<float>(std::max<std::size_t>(1, segments.size()) - 1);
  float x = bar.x;
  float labour_x = bar.x;
  bool labour_seen = false;
  for (const Segment& segment : segments) {
    const float w = room * static_cast<float>(segment.share);
    const Color color = segment.kind == Segment::Kind::travel ? c.travel
                        : segment.kind == Segment::Kind::labour ? c.labour
                                                                : c.waiting;
    if (segment.kind == Segment::Kind::labour && !labour_seen) {
      labour_x = x;
      labour_seen = true;
    }
    ui.fill(Box{x, bar.y, std::max(1.0F, w), 22}, color, 2);
    x += w + gap;
  }
  const float leading = ui.fonts.leading(type::kSmall);
  const float total = ui.fonts.width(type::kSmall, left) + ui.fonts.width(type::kSmall, middle) +
                      ui.fonts.width(type::kSmall, right) + 24;
  if (total <= bar.w) {
    const Box line = ui.take(leading + 6);
    const float y = line.y + leading * 0.78F + 4;
    const float after_left = bar.x + ui.fonts.width(type::kSmall, left) + 12;
    const float latest = bar.right() - ui.fonts.width(type::kSmall, right) - 12 -
                         ui.fonts.width(type::kSmall, middle);
    ui.text(type::kSmall, bar.x, y, c.soft, left);
    ui.text(type::kSmall, std::min(latest, std::max(after_left, labour_x)), y, c.soft, middle);
    ui.text(type::kSmall, bar.right(), y, c.soft, right, 1);
  } else {
    for (const std::string_view part : {left, middle, right}) {
      if (part.empty()) continue;
      const Box line = ui.take(leading);
      ui.text(type::kSmall, line.x, line.y + leading * 0.78F, c.soft, part);
    }
  }
  Semantic item;
  item.id = ui.make_id(Role::image, "time");
  item.role = Role::image;
  item.name = std::string(spoken);
  item.box = bar;
  ui.show(std::move(item));
}

void band(Ui& ui, double from, double to, std::string_view left, std::string_view middle,
          std::string_view right) {
  const Palette& c = ui.colors();
  const Box box = ui.take(28 + ui.fonts.leading(Type{Face::regular, 13}) + 4);
  const float y = box.y + 14;
  ui.line(Vec{box.x, y}, Vec{box.right(), y}, c.hairline, 2);
  const float a = box.x + box.w * static_cast<float>(std::clamp(from, 0.0, 1.0));
  const float b = box.x + box.w * static_cast<float>(std::clamp(to, 0.0, 1.0));
  ui.fill(Box{a, y - 8, std::max(6.0F, b - a), 16}, c.safe, 4);
  const float base = box.bottom() - 6;
  const Type middle_type{Face::regular, 13};
  const float half = ui.fonts.width(middle_type, middle) / 2;
  const float left_room = ui.fonts.width(type::kFigureSmall, left) + 8;
  const float right_room = ui.fonts.width(type::kFigureSmall, right) + 8;
  const float x = std::clamp((a + b) / 2, box.x + left_room + half,
                             std::max(box.x + left_room + half, box.right() - right_room - half));
  ui.text(type::kFigureSmall, box.x, base, c.soft, left);
  ui.text(middle_type, x, base, c.ink, middle, 0.5F);
  ui.text(type::kFigureSmall, box.right(), base, c.soft, right, 1);
  Semantic item;
  item.id = ui.make_id(Role::text, middle);
  item.name = std::string(middle);
  item.box = box;
  ui.show(std::move(item));
}

void outcome(Ui& ui, std::string_view label, std::string_view leaves) {
  const Palette& c = ui.colors();
  const float leading = ui.fonts.leading(type::kLine);
  const float need = ui.fonts.width(type::kLine, label) + ui.fonts.width(type::kLine, leaves) + 16;
  const auto under = ui.fonts.wrap(type::kLine, leaves, ui.width() - 16);
  const bool two = need > ui.width();
  const float lines = two ? 1 + static_cast<float>(under.size()) : 1;
  const Box box = ui.take(std::max(30.0F, leading * lines + 10));
  float y = box.y + (box.h - leading * lines) / 2 + leading * 0.76F;
  ui.text(type::kLine, box.x, y, c.ink, label);
  if (!two) {
    ui.text(type::kLine, box.right(), y, c.soft, leaves, 1);
  } else {
    for (const std::string_view line : under) {
      y += leading;
      ui.text(type::kLine, box.x + 16, y, c.soft, line);
    }
  }
  Semantic item;
  item.id = ui.make_id(Role::item, label);
  item.role = Role::item;
  item.name = std::string(label);
  item.value = std::string(leaves);
  item.box = box;
  ui.show(std::move(item));
}

}  // namespace kp::ui
