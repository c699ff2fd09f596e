#include "ui/canvas.hpp"

#include <cmath>

#include <imgui.h>

#include "base/text.hpp"
#include "scene/pick.hpp"

namespace kp::ui {
namespace {

// A palette colour of a drawing file as the screen's; the file's own colours are day and night
// the same: parts are lit, the paper around them is not.
Color file_color(scene::Role role) {
  const std::string_view hex = scene::drawing_colour(role);
  std::uint32_t value = 0;
  for (const char c : hex) {
    const bool digit = c >= '0' && c <= '9';
    const bool letter = c >= 'A' && c <= 'F';
    if (digit) value = value * 16 + static_cast<std::uint32_t>(c - '0');
    if (letter) value = value * 16 + static_cast<std::uint32_t>(c - 'A' + 10);
  }
  return rgb(value);
}

Color mixed(Color a, Color b, float share) {
  Color out = 0xFF000000U;
  for (const std::uint32_t shift : {0U, 8U, 16U}) {
    const auto x = static_cast<float>((a >> shift) & 0xFFU);
    const auto y = static_cast<float>((b >> shift) & 0xFFU);
    out |= static_cast<std::uint32_t>(x + (y - x) * share) << shift;
  }
  return out;
}

ImVec2 im(Vec at) { return ImVec2(at.x, at.y); }

}  // namespace

Color role_color(scene::Role role, const Ui& ui) {
  const Palette& c = ui.colors();
  switch (role) {
    case scene::Role::none: return 0;
    case scene::Role::line: return c.ink;
    case scene::Role::soft: return c.soft;
    case scene::Role::hairline: return c.hairline;
    case scene::Role::paper: return c.paper;
    case scene::Role::accent: return c.touch;
    case scene::Role::accent_tint: return c.touch_tint;
    case scene::Role::accent_deep: return mixed(c.touch_tint, c.touch, 0.3F);
    case scene::Role::signal_yellow: return c.warn;
    case scene::Role::signal_black: return c.warn_ink;
    case scene::Role::rubber: return file_color(scene::Role::grey_4);
    case scene::Role::cut: return file_color(scene::Role::grey_1);
    case scene::Role::white:
    case scene::Role::grey_1:
    case scene::Role::grey_2:
    case scene::Role::grey_3:
    case scene::Role::grey_4:
    case scene::Role::grey_5:
    case scene::Role::grey_6:
    case scene::Role::ink:
    case scene::Role::warm_1:
    case scene::Role::warm_2: break;
  }
  return file_color(role);
}

namespace {

Vec placed(scene::Vec at, Vec origin) {
  return Vec{origin.x + static_cast<float>(at.x), origin.y + static_cast<float>(at.y)};
}

}  // namespace

void Painter::triangles(std::span<const scene::Vec> points, scene::Role role) {
  if (!ui_.painting() || points.size() < 3) return;
  ImDrawList* list = ui_.list();
  const Color color = role_color(role, ui_);
  const ImVec2 white = ImGui::GetFontTexUvWhitePixel();
  const int count = to_int(points.size() / 3 * 3);
  list->PrimReserve(count, count);
  for (int i = 0; i < count; ++i) {
    list->PrimVtx(im(placed(points[to_size(i)], origin_)), white, color);
  }
}

void Painter::polyline(std::span<const scene::Vec> points, bool closed, scene::Role role,
                       double width) {
  if (!ui_.painting() || points.size() < 2) return;
  ImDrawList* list = ui_.list();
  const Color color = role_color(role, ui_);
  for (const scene::Vec& point : points) list->PathLineTo(im(placed(point, origin_)));
  list->PathStroke(color, closed ? ImDrawFlags_Closed : 0, static_cast<float>(width));
  if (!closed && width > 1.6) {
    ui_.disc(placed(points.front(), origin_), static_cast<float>(width) / 2, color);
    ui_.disc(placed(points.back(), origin_), static_cast<float>(width) / 2, color);
  }
}

void Painter::circle(scene::Vec centre, double radius, scene::Role fill, scene::Role border,
                     double width) {
  const Vec at = placed(centre, origin_);
  if (fill != scene::Role::none) ui_.disc(at, static_cast<float>(radius), role_color(fill, ui_));
  if (border != scene::Role::none && width > 0) {
    ui_.ring(at, static_cast<float>(radius), role_color(border, ui_), static_cast<float>(width));
  }
}

void Painter::text(scene::Vec at, scene::Anchor anchor, double size, bool strong,
                   scene::Role role, std::string_view words) {
  const float align = anchor == scene::Anchor::left ? 0 : anchor == scene::Anchor::middle ? 0.5F : 1;
  // The scene gives the size as drawn; the kit's text size would count twice.
  const Type type{strong ? Face::bold : Face::regular,
                  static_cast<float>(size) / ui_.fonts.scaled(1)};
  const Vec place = placed(at, origin_);
  ui_.text(type, place.x, place.y, role_color(role, ui_), words, align);
}

void draw_picture(Ui& ui, const scene::Drawing& drawing, Box box) {
  if (!ui.in_sight(box)) return;   // a list of all parts is long, a screen is not
  const double w = std::max(1.0, drawing.box.width());
  const double h = std::max(1.0, drawing.box.height());
  const double zoom = std::min({static_cast<double>(box.w) / w, static_cast<double>(box.h) / h, 2.2});
  const scene::Vec middle = drawing.box.centre();
  scene::View view;
  view.zoom = zoom;
  view.shift = scene::Vec(static_cast<double>(box.w) / 2, static_cast<double>(box.h) / 2) -
               middle * zoom;
  scene::DisplayList list;
  scene::PartMark mark;
  mark.drawing = &drawing;
  list.emplace_back(mark);
  Painter painter(ui, Vec{box.x, box.y});
  scene::paint(list, view, painter);
}

namespace {

constexpr double kWheelZoom = 0.0016;

// Every callout is a button: whoever cannot touch the drawing reaches its parts by name.
std::optional<int> callout_buttons(Ui& ui, const scene::Scene& scene, const scene::View& view,
                                   Box box) {
  std::optional<int> touched;
  for (const scene::Callout& callout : scene.callouts) {
    const scene::Box at = scene::to_screen(view, callout.box);
    Semantic item;
    item.name = join(callout.lines, " ");
    item.id = ui.make_id(Role::button, item.name);
    item.role = Role::button;
    item.box = Box{box.x + static_cast<float>(at.min.x) - 4, box.y + static_cast<float>(at.min.y) - 6,
                   static_cast<float>(at.width()) + 8, static_cast<float>(at.height()) + 12};
    const Id id = item.id;
    ui.slot(id).flag = true;   // a drag that begins on it still moves the drawing
    const Felt felt = ui.feel(std::move(item));
    if (felt.focused) ui.stroke(Box{box.x + static_cast<float>(at.min.x) - 3,
                                    box.y + static_cast<float>(at.min.y) - 2,
                                    static_cast<float>(at.width()) + 6,
                                    static_cast<float>(at.height()) + 4},
                                ui.colors().ink, 2, 4);
    if (felt.assisted) touched = callout.id;
  }
  return touched;
}

bool move_view(Ui& ui, Id id, const scene::Scene& scene, scene::View& view, Box box) {
  const FrameInput& in = ui.in();
  const scene::Vec window(static_cast<double>(box.w), static_cast<double>(box.h));
  const scene::View before = view;
  const auto local = [&](Vec at) {
    return scene::Vec(static_cast<double>(at.x - box.x), static_cast<double>(at.y - box.y));
  };
  if (box.contains(in.at) && in.wheel.y != 0) {
    const double factor = std::exp(-static_cast<double>(in.wheel.y) * kWheelZoom *
                                   (in.wheel_zooms ? 4 : 1));
    view = scene::zoomed(view, factor, local(in.at), scene.content, window);
  }
  if (in.pinching && box.contains(in.pinch_at)) {
    view = scene::zoomed(view, static_cast<double>(in.pinch_scale), local(in.pinch_at),
                         scene.content, window);
    view = scene::dragged(view, scene::Vec(static_cast<double>(in.pinch_by.x),
                                           static_cast<double>(in.pinch_by.y)),
                          scene.content, window);
  }
  Ui::Slot& slot = ui.slot(id);
  if (in.pressed) {
    slot.a = in.at.x;
    slot.b = in.at.y;
  }
  const float slop = ui.taste.gloves ? metric::kSlopGloves : metric::kSlop;
  if (in.down && box.contains(in.press_at) && in.travel > slop) {
    view = scene::dragged(view, scene::Vec(static_cast<double>(in.at.x - slot.a),
                                           static_cast<double>(in.at.y - slot.b)),
                          scene.content, window);
  }
  slot.a = in.at.x;
  slot.b = in.at.y;
  view = scene::clamped(view, scene.content, window);
  return !(view == before);
}

}  // namespace

std::optional<int> scene_view(Ui& ui, std::string_view name, const scene::Scene& scene,
                              scene::View& view, Box box) {
  if (!ui.painting()) return std::nullopt;
  const Scope scope(ui, "scene");
  Semantic item;
  item.id = ui.make_id(Role::image, "scene");
  item.role = Role::image;
  item.name = std::string(name);
  item.box = box;
  const Id id = item.id;
  ui.show(std::move(item));
  ui.clip(box);
  if (!ui.inert()) (void)move_view(ui, id, scene, view, box);
  std::optional<int> touched = callout_buttons(ui, scene, view, box);
  const FrameInput& in = ui.in();
  const float slop = ui.taste.gloves ? metric::kSlopGloves : metric::kSlop;
  if (!ui.inert() && in.released && !in.cancelled && in.travel <= slop && box.contains(in.at) &&
      box.contains(in.press_at)) {
    touched = scene::pick(scene, view, scene::Vec(static_cast<double>(in.at.x - box.x),
                                                  static_cast<double>(in.at.y - box.y)));
  }
  Painter painter(ui, Vec{box.x, box.y});
  scene::paint(scene.list, view, painter,
               scene::Box::of(0, 0, static_cast<double>(box.w), static_cast<double>(box.h)));
  ui.unclip();
  return touched;
}

}  // namespace kp::ui
