#include "platform/native/window.hpp"

#include <cstdio>
#include <vector>

#define GLFW_INCLUDE_NONE
#include <GLFW/glfw3.h>
#include <GL/gl.h>
#include <imgui.h>
#include <imgui_impl_opengl3.h>

#include "ui/front.hpp"

namespace kp::native {
namespace {

using ui::Event;
using ui::EventKind;

struct Window {
  GLFWwindow* handle = nullptr;
  ui::Front front;
  ui::Surface surface;
  ui::Vec pointer;
};

double now_ms() { return glfwGetTime() * 1000.0; }

Window& of(GLFWwindow* handle) { return *static_cast<Window*>(glfwGetWindowUserPointer(handle)); }

ui::Key key_of(int key) {
  switch (key) {
    case GLFW_KEY_TAB: return ui::Key::tab;
    case GLFW_KEY_ENTER:
    case GLFW_KEY_KP_ENTER: return ui::Key::enter;
    case GLFW_KEY_SPACE: return ui::Key::space;
    case GLFW_KEY_ESCAPE: return ui::Key::escape;
    case GLFW_KEY_BACKSPACE: return ui::Key::backspace;
    case GLFW_KEY_DELETE: return ui::Key::erase;
    case GLFW_KEY_LEFT: return ui::Key::left;
    case GLFW_KEY_RIGHT: return ui::Key::right;
    case GLFW_KEY_UP: return ui::Key::up;
    case GLFW_KEY_DOWN: return ui::Key::down;
    case GLFW_KEY_HOME: return ui::Key::home;
    case GLFW_KEY_END: return ui::Key::end;
    case GLFW_KEY_PAGE_UP: return ui::Key::page_up;
    case GLFW_KEY_PAGE_DOWN: return ui::Key::page_down;
    default: return ui::Key::none;
  }
}

void on_key(GLFWwindow* handle, int key, int, int action, int mods) {
  Event event;
  event.kind = action == GLFW_RELEASE ? EventKind::key_up : EventKind::key_down;
  event.repeat = action == GLFW_REPEAT;
  event.key = key_of(key);
  event.shift = (mods & GLFW_MOD_SHIFT) != 0;
  event.ctrl = (mods & GLFW_MOD_CONTROL) != 0;
  event.ms = now_ms();
  if (event.key != ui::Key::none) of(handle).front.push(event);
}

void on_char(GLFWwindow* handle, unsigned int code) {
  Event event;
  event.kind = EventKind::text;
  event.ms = now_ms();
  const auto put = [&](unsigned int byte) { event.text += static_cast<char>(byte); };
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xC0U | (code >> 6U));
    put(0x80U | (code & 0x3FU));
  } else if (code < 0x10000) {
    put(0xE0U | (code >> 12U));
    put(0x80U | ((code >> 6U) & 0x3FU));
    put(0x80U | (code & 0x3FU));
  }
  of(handle).front.push(event);
}

void push_pointer(Window& window, EventKind kind) {
  Event event;
  event.kind = kind;
  event.ms = now_ms();
  event.at = window.pointer;
  window.front.push(event);
}

void on_move(GLFWwindow* handle, double x, double y) {
  Window& window = of(handle);
  int w = 1;
  int h = 1;
  glfwGetWindowSize(handle, &w, &h);
  // Window units to CSS px: they differ where the system scales windows itself.
  window.pointer = ui::Vec{static_cast<float>(x) * window.surface.size.x / static_cast<float>(w),
                           static_cast<float>(y) * window.surface.size.y / static_cast<float>(h)};
  push_pointer(window, EventKind::move);
}

void on_button(GLFWwindow* handle, int button, int action, int) {
  if (button != GLFW_MOUSE_BUTTON_LEFT) return;
  push_pointer(of(handle), action == GLFW_PRESS ? EventKind::down : EventKind::up);
}

void on_wheel(GLFWwindow* handle, double dx, double dy) {
  Window& window = of(handle);
  Event event;
  event.kind = EventKind::wheel;
  event.ms = now_ms();
  event.at = window.pointer;
  event.by = ui::Vec{static_cast<float>(-dx * 60), static_cast<float>(-dy * 60)};
  event.ctrl = glfwGetKey(handle, GLFW_KEY_LEFT_CONTROL) == GLFW_PRESS;
  window.front.push(event);
}

void on_focus(GLFWwindow* handle, int focused) {
  if (focused != 0) return;
  Event event;
  event.kind = EventKind::lost;
  event.ms = now_ms();
  of(handle).front.push(event);
}

void measure(Window& window, double density) {
  int w = 1;
  int h = 1;
  glfwGetFramebufferSize(window.handle, &w, &h);
  float x = 1;
  float y = 1;
  glfwGetWindowContentScale(window.handle, &x, &y);
  const float dpr = density > 0 ? static_cast<float>(density) : std::clamp(x, 1.0F, 3.0F);
  window.surface.dpr = dpr;
  window.surface.size = ui::Vec{static_cast<float>(w) / dpr, static_cast<float>(h) / dpr};
  const bool away = glfwGetWindowAttrib(window.handle, GLFW_ICONIFIED) != 0;
  window.surface.shown = away ? ui::Shown::nothing : ui::Shown::picture;
}

void render(Window& window) {
  int w = 1;
  int h = 1;
  glfwGetFramebufferSize(window.handle, &w, &h);
  glViewport(0, 0, w, h);
  ImGui_ImplOpenGL3_RenderDrawData(window.front.draw_data());
}

bool save_picture(Window& window, const std::string& path) {
  int w = 1;
  int h = 1;
  glfwGetFramebufferSize(window.handle, &w, &h);
  const auto row = static_cast<std::size_t>(w) * 3;
  std::vector<unsigned char> pixels(row * static_cast<std::size_t>(h));
  glPixelStorei(GL_PACK_ALIGNMENT, 1);
  glReadPixels(0, 0, w, h, GL_RGB, GL_UNSIGNED_BYTE, pixels.data());
  std::FILE* file = std::fopen(path.c_str(), "wb");
  if (file == nullptr) return false;
  std::fprintf(file, "P6\n%d %d\n255\n", w, h);
  for (int y = h - 1; y >= 0; --y) {
    std::fwrite(pixels.data() + row * static_cast<std::size_t>(y), 1, row, file);
  }
  return std::fclose(file) == 0;
}

/// One frame; the seconds until the next: 0 at once, below 0 when something happens.
double one_frame(Window& window, ui::Program& program, double density) {
  const double thought = program.think();
  measure(window, density);
  if (window.front.prepare(window.surface)) {
    ImGui_ImplOpenGL3_DestroyFontsTexture();
    ImGui_ImplOpenGL3_CreateFontsTexture();
  }
  const double now = now_ms();
  const ui::When when =
      window.front.frame(now, window.surface, [&](ui::Ui& ui) { program.draw(ui); });
  render(window);
  if (when.kind == ui::When::Kind::now) return 0;
  double next = thought >= 0 ? thought : -1;
  if (when.kind == ui::When::Kind::at) {
    const double wait = std::max(1.0, when.ms - now);
    next = next < 0 ? wait : std::min(next, wait);
  }
  return next < 0 ? -1 : next / 1000.0;
}

void listen(GLFWwindow* handle) {
  glfwSetKeyCallback(handle, on_key);
  glfwSetCharCallback(handle, on_char);
  glfwSetCursorPosCallback(handle, on_move);
  glfwSetMouseButtonCallback(handle, on_button);
  glfwSetScrollCallback(handle, on_wheel);
  glfwSetWindowFocusCallback(handle, on_focus);
}

}  // namespace

Result<int> run_window(ui::Program& program, const ui::Taste& taste, const WindowOptions& options) {
  if (glfwInit() != GLFW_TRUE) return fail("no-window", "This system has no screen to draw on");
  glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
  glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
  glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
  glfwWindowHint(GLFW_DEPTH_BITS, 0);
  glfwWindowHint(GLFW_STENCIL_BITS, 0);
  Window window;
  window.front.ui.taste = taste;
  window.surface.theme = taste.theme;
  window.surface.text_percent = taste.text_percent;
  window.handle = glfwCreateWindow(options.width, options.height, "Kickplate", nullptr, nullptr);
  if (window.handle == nullptr) {
    glfwTerminate();
    return fail("no-window", "This screen has no OpenGL 3.2");
  }
  glfwSetWindowUserPointer(window.handle, &window);
  glfwSetWindowSizeLimits(window.handle, 320, 480, GLFW_DONT_CARE, GLFW_DONT_CARE);
  listen(window.handle);
  glfwMakeContextCurrent(window.handle);
  glfwSwapInterval(1);
  ImGui_ImplOpenGL3_Init("#version 150");
  ImGui_ImplOpenGL3_NewFrame();
  int code = 0;
  while (glfwWindowShouldClose(window.handle) == 0) {
    const double next = one_frame(window, program, options.density);
    if (!options.picture.empty() && next != 0) {
      code = save_picture(window, options.picture) ? 0 : 1;
      break;
    }
    glfwSwapBuffers(window.handle);
    if (next == 0) {
      glfwPollEvents();
    } else if (next > 0) {
      glfwWaitEventsTimeout(next);
    } else {
      glfwWaitEvents();
    }
  }
  ImGui_ImplOpenGL3_Shutdown();
  glfwDestroyWindow(window.handle);
  glfwTerminate();
  return code;
}

}  // namespace kp::native
