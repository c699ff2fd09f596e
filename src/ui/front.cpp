#include "ui/front.hpp"

#include <cfloat>

#include <imgui.h>
#include <imgui_internal.h>

namespace kp::ui {
namespace {

int editor_key(Key key) {
  switch (key) {
    case Key::tab: return ImGuiKey_Tab;
    case Key::enter: return ImGuiKey_Enter;
    case Key::space: return ImGuiKey_Space;
    case Key::escape: return ImGuiKey_Escape;
    case Key::backspace: return ImGuiKey_Backspace;
    case Key::erase: return ImGuiKey_Delete;
    case Key::left: return ImGuiKey_LeftArrow;
    case Key::right: return ImGuiKey_RightArrow;
    case Key::up: return ImGuiKey_UpArrow;
    case Key::down: return ImGuiKey_DownArrow;
    case Key::home: return ImGuiKey_Home;
    case Key::end: return ImGuiKey_End;
    case Key::page_up: return ImGuiKey_PageUp;
    case Key::page_down: return ImGuiKey_PageDown;
    case Key::none: break;
  }
  return -1;
}

}  // namespace

Front::Front() {
  context_ = ImGui::CreateContext();
  ImGui::SetCurrentContext(context_);
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  io.LogFilename = nullptr;
  for (int key = 0; key < ImGuiKey_COUNT; ++key) io.KeyMap[key] = key;
  ImGuiStyle& style = ImGui::GetStyle();
  style.AntiAliasedLinesUseTex = false;
  style.WindowPadding = ImVec2(0, 0);
  style.WindowBorderSize = 0;
  style.WindowRounding = 0;
  style.WindowMinSize = ImVec2(1, 1);
}

Front::~Front() {
  ImGui::SetCurrentContext(context_);
  ImGui::DestroyContext(context_);
}

bool Front::prepare(const Surface& surface) {
  ImGui::SetCurrentContext(context_);
  return ui.fonts.bake(surface.dpr, ui.taste.text_percent);
}

// ImGui's own input is fed for its text editor only; the kit hits its widgets itself.
void Front::feed_editor(const FrameInput& in) {
  ImGuiIO& io = ImGui::GetIO();
  io.MousePos = in.present ? ImVec2(in.at.x, in.at.y) : ImVec2(-FLT_MAX, -FLT_MAX);
  io.MouseDown[0] = in.down;
  for (bool& down : io.KeysDown) down = false;
  io.KeyShift = io.KeyCtrl = false;
  for (const KeyPress& key : in.keys) {
    const int index = editor_key(key.key);
    if (index >= 0 && key.down) {
      io.KeysDown[index] = true;
      io.KeysDownDuration[index] = -1;  // two presses in two frames are two, not one held
    }
    io.KeyShift = io.KeyShift || key.shift;
    io.KeyCtrl = io.KeyCtrl || key.ctrl;
  }
  io.AddInputCharactersUTF8(in.text.c_str());
}

When Front::frame(double now_ms, const Surface& surface, FunctionRef<void(Ui&)> draw) {
  ImGui::SetCurrentContext(context_);
  const FrameInput& in = input_.begin_frame(now_ms);
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = ImVec2(surface.size.x, surface.size.y);
  io.DisplayFramebufferScale = ImVec2(surface.dpr, surface.dpr);
  io.DeltaTime = in.dt;
  ImGuiStyle& style = ImGui::GetStyle();
  style.CurveTessellationTol = 1.25F / surface.dpr;
  style.CircleTessellationMaxError = 0.3F / surface.dpr;
  feed_editor(in);
  ImGui::NewFrame();
  ImGui::SetNextWindowPos(ImVec2(0, 0));
  ImGui::SetNextWindowSize(io.DisplaySize);
  constexpr ImGuiWindowFlags kFlags =
      ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
      ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoBringToFrontOnFocus;
  ImGui::Begin("page", nullptr, kFlags);
  ImDrawList* list = ImGui::GetWindowDrawList();
  list->_FringeScale = 1.0F / surface.dpr;  // edges soft over one device px, not one CSS px
  ui.begin(in, input_.samples(), surface, list);
  draw(ui);
  When when = ui.end();
  ImGui::End();
  ImGui::Render();
  data_ = ImGui::GetDrawData();
  if (input_.pending()) when.now();
  return when;
}

}  // namespace kp::ui
