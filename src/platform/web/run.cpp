#include <cmath>
#include <string>

#include <emscripten.h>
#include <emscripten/html5.h>
#include <GLES3/gl3.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>

#include "platform/web/mirror.hpp"
#include "platform/web/page.hpp"
#include "platform/web/page_calls.hpp"

namespace kp::web {
namespace {

// The one page: the browser's callbacks have nowhere else to find it.
struct Page {
  std::unique_ptr<ui::Program> program;
  ui::Front front;
  ui::Surface surface;
  EMSCRIPTEN_WEBGL_CONTEXT_HANDLE context = 0;
  bool drawing = false;      ///< a WebGL context is there and usable
  bool pictured = false;     ///< and a frame was drawn in it: the person sees the card
  bool hidden = false;       ///< the screen is off or the page behind another one
  int form = -1;             ///< of the page as it was told last: text or not, theme, percent
};
Page* page = nullptr;

void open_context() {
  EmscriptenWebGLContextAttributes want;
  emscripten_webgl_init_context_attributes(&want);
  want.alpha = want.depth = want.stencil = want.antialias = EM_FALSE;
  want.majorVersion = 2;
  want.enableExtensionsByDefault = EM_FALSE;
  want.powerPreference = EM_WEBGL_POWER_PREFERENCE_LOW_POWER;
  page->context = emscripten_webgl_create_context("#canvas", &want);
  page->drawing = page->context > 0 &&
                  emscripten_webgl_make_context_current(page->context) == EMSCRIPTEN_RESULT_SUCCESS;
  if (page->drawing) {
    page->drawing = ImGui_ImplOpenGL3_Init("#version 300 es");
    ImGui_ImplOpenGL3_CreateDeviceObjects();
  }
}

ui::Shown shown_now() {
  if (page->hidden) return ui::Shown::nothing;
  return page->drawing ? ui::Shown::picture : ui::Shown::text;
}

// As text the page is a column that scrolls: its order is that of a phone with room for all.
ui::Surface surface_now() {
  ui::Surface surface = page->surface;
  surface.shown = shown_now();
  if (surface.shown == ui::Shown::text) {
    surface.size = ui::Vec{390, 2400};
    surface.insets = ui::Insets{};
  }
  return surface;
}

// The page's own colours follow the program's, as the text form is made of them.
void tell_form() {
  const ui::Taste& taste = page->front.ui.taste;
  const int theme = static_cast<int>(taste.theme);
  const int form = (page->pictured ? 0 : 4096) + theme * 1024 + taste.text_percent;
  if (form == page->form) return;
  page->form = form;
  kp_page_form(page->pictured ? 0 : 1, theme, taste.text_percent);
}

void render() {
  const ImDrawData* data = page->front.draw_data();
  glViewport(0, 0, static_cast<int>(std::lround(data->DisplaySize.x * data->FramebufferScale.x)),
             static_cast<int>(std::lround(data->DisplaySize.y * data->FramebufferScale.y)));
  ImGui_ImplOpenGL3_RenderDrawData(page->front.draw_data());
  page->pictured = true;
}

double soonest(double a, double b) {
  if (a < 0) return b;
  if (b < 0) return a;
  return std::min(a, b);
}

// `ms` is the time that the browser gives the event itself, however late it is told.
void push(ui::Event event, double ms) {
  event.ms = ms;
  page->front.push(std::move(event));
  kp_page_wake();
}
void push(ui::Event event) { push(std::move(event), kp_page_now()); }

// On a hidden page nobody knows what is pressed. What ends a press, and typed words, still count.
bool reaches_nothing(ui::EventKind kind) {
  const bool presses = kind == ui::EventKind::down || kind == ui::EventKind::up ||
                       kind == ui::EventKind::key_down || kind == ui::EventKind::activate;
  return page->hidden && presses;
}

}  // namespace

void run(std::unique_ptr<ui::Program> program, const ui::Taste& taste) {
  page = new Page;  // lives as long as the page does
  page->program = std::move(program);
  page->front.ui.taste = taste;
  page->surface.theme = taste.theme;
  page->surface.text_percent = taste.text_percent;
  open_context();
  if (!page->drawing) {
    kp_page_notice("no-webgl", "This browser cannot draw the pictures. The steps work as text.");
    tell_form();
  }
  kp_page_ready();
  kp_page_wake();
}

}  // namespace kp::web

using kp::ui::Event;
using kp::ui::EventKind;
using kp::ui::Key;
using kp::ui::PointerKind;
using kp::ui::Vec;
using kp::web::page;

extern "C" {

EMSCRIPTEN_KEEPALIVE void kp_on_surface(double w, double h, double dpr, double top, double right,
                                        double bottom, double left) {
  if (page == nullptr) return;
  page->surface.size = Vec{static_cast<float>(w), static_cast<float>(h)};
  page->surface.dpr = static_cast<float>(dpr);
  page->surface.insets = kp::ui::Insets{static_cast<float>(top), static_cast<float>(right),
                                        static_cast<float>(bottom), static_cast<float>(left)};
  page->surface.dom_text = true;
  kp_page_wake();
}

EMSCRIPTEN_KEEPALIVE void kp_on_theme(int night) {
  if (page == nullptr) return;
  page->surface.theme = night != 0 ? kp::ui::ThemeKind::night : kp::ui::ThemeKind::day;
  kp_page_wake();
}

EMSCRIPTEN_KEEPALIVE void kp_on_hidden(int hidden) {
  if (page == nullptr) return;
  page->hidden = hidden != 0;
  page->program->set_hidden(page->hidden);
}

EMSCRIPTEN_KEEPALIVE double kp_on_think() {
  return page == nullptr ? -1 : page->program->think();
}

EMSCRIPTEN_KEEPALIVE double kp_on_frame() {
  if (page == nullptr || page->surface.size.x < 1) return -1;
  const double thought = page->program->think();
  const kp::ui::Surface surface = kp::web::surface_now();
  if (page->front.prepare(surface) && page->drawing) {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
  }
  const double now = kp_page_now();
  const kp::ui::When when =
      page->front.frame(now, surface, [](kp::ui::Ui& ui) { page->program->draw(ui); });
  if (page->drawing) kp::web::render();
  const std::string changes = kp::web::mirror_changes(page->front.ui);
  if (!changes.empty()) kp_page_mirror(changes.c_str());
  kp::web::tell_form();
  if (when.kind == kp::ui::When::Kind::now) return 0;
  const double next = when.kind == kp::ui::When::Kind::at ? std::max(1.0, when.ms - now) : -1;
  return kp::web::soonest(thought, next);
}

EMSCRIPTEN_KEEPALIVE void kp_on_context(int there) {
  if (page == nullptr) return;
  page->pictured = false;
  if (page->drawing) {
    page->drawing = false;
    ImGui_ImplOpenGL3_Shutdown();
    emscripten_webgl_destroy_context(page->context);
  }
  // What was pressed on the picture ends with it, whatever comes back.
  Event lost;
  lost.kind = EventKind::lost;
  kp::web::push(std::move(lost));
  if (there != 0) kp::web::open_context();
  kp::web::tell_form();
}

/// A touch of the canvas (`item` 0), or of an item's real element, where it stands in the picture.
EMSCRIPTEN_KEEPALIVE void kp_on_pointer(int kind, int pointer, int touch, double x, double y,
                                        double ms, int item) {
  if (page == nullptr || kp::web::reaches_nothing(static_cast<EventKind>(kind))) return;
  if (item == 0 && !page->pictured) return;
  Event event;
  event.kind = static_cast<EventKind>(kind);
  event.id = static_cast<kp::ui::Id>(item);
  event.pointer = pointer;
  event.device = touch != 0 ? PointerKind::touch : PointerKind::mouse;
  event.at = Vec{static_cast<float>(x), static_cast<float>(y)};
  kp::web::push(std::move(event), ms);
}

EMSCRIPTEN_KEEPALIVE void kp_on_wheel(double x, double y, double dx, double dy, int ctrl) {
  if (page == nullptr) return;
  Event event;
  event.kind = EventKind::wheel;
  event.at = Vec{static_cast<float>(x), static_cast<float>(y)};
  event.by = Vec{static_cast<float>(dx), static_cast<float>(dy)};
  event.ctrl = ctrl != 0;
  kp::web::push(std::move(event));
}

EMSCRIPTEN_KEEPALIVE void kp_on_key(int down, int key, int shift, int ctrl, int repeat,
                                    double ms) {
  if (page == nullptr) return;
  if (down != 0 && kp::web::reaches_nothing(EventKind::key_down)) return;
  Event event;
  event.kind = down != 0 ? EventKind::key_down : EventKind::key_up;
  event.key = static_cast<Key>(key);
  event.shift = shift != 0;
  event.ctrl = ctrl != 0;
  event.repeat = repeat != 0;
  kp::web::push(std::move(event), ms);
}

EMSCRIPTEN_KEEPALIVE void kp_on_text(const char* text) {
  if (page == nullptr) return;
  Event event;
  event.kind = EventKind::text;
  event.text = text;
  kp::web::push(std::move(event));
}

EMSCRIPTEN_KEEPALIVE void kp_on_item(int kind, int id, const char* text) {
  if (page == nullptr || kp::web::reaches_nothing(static_cast<EventKind>(kind))) return;
  Event event;
  event.kind = static_cast<EventKind>(kind);
  event.id = static_cast<kp::ui::Id>(id);
  event.text = text;
  kp::web::push(std::move(event));
}

EMSCRIPTEN_KEEPALIVE int kp_on_back() {
  if (page == nullptr) return 0;
  kp_page_wake();
  return page->program->back() ? 1 : 0;
}

EMSCRIPTEN_KEEPALIVE void kp_on_lost() {
  if (page == nullptr) return;
  Event event;
  event.kind = EventKind::lost;
  kp::web::push(std::move(event));
}

}  // extern "C"
