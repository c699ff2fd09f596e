#pragma once
// The screen as a platform sees it: events in, one frame out, and when the next one is due. The
// platform owns the window and the loop; the program (the app, or a test's gallery) draws.

#include <functional>
#include <memory>
#include <string>

#include "ui/kit.hpp"

struct ImGuiContext;
struct ImDrawData;

namespace kp::ui {

class Front {
 public:
  Front();
  ~Front();
  Front(const Front&) = delete;
  Front& operator=(const Front&) = delete;

  void push(Event event) { input_.push(std::move(event)); }
  /// The atlas must be made into a texture again: first frame, other density, other text size.
  [[nodiscard]] bool prepare(const Surface& surface);
  /// One frame. `draw` fills the screen through the kit. Call prepare() before with the same
  /// surface. The draw data stay valid until the next frame.
  When frame(double now_ms, const Surface& surface, FunctionRef<void(Ui&)> draw);
  [[nodiscard]] ImDrawData* draw_data() const { return data_; }
  [[nodiscard]] bool pending() const { return input_.pending(); }
  Ui ui;

 private:
  void feed_editor(const FrameInput& in);

  ImGuiContext* context_ = nullptr;
  ImDrawData* data_ = nullptr;
  Input input_;
};

}  // namespace kp::ui
