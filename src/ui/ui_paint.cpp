// What `Ui` paints: on the draw list, and not at all while it measures.
#include <imgui.h>

#include "ui/ui.hpp"

namespace kp::ui {

void Ui::fill(Box box, Color color, float radius) const {
  if (!painting()) return;
  list_->AddRectFilled(ImVec2(box.x, box.y), ImVec2(box.right(), box.bottom()), color, radius);
}

void Ui::stroke(Box box, Color color, float width, float radius) const {
  if (!painting()) return;
  // The draw list insets rectangles by half a px of its own; a path has no such habit.
  list_->PathRect(ImVec2(box.x, box.y), ImVec2(box.right(), box.bottom()), radius);
  list_->PathStroke(color, ImDrawFlags_Closed, width);
}

void Ui::line(Vec a, Vec b, Color color, float width) const {
  if (!painting()) return;
  list_->PathLineTo(ImVec2(a.x, a.y));
  list_->PathLineTo(ImVec2(b.x, b.y));
  list_->PathStroke(color, 0, width);
}

void Ui::poly(std::initializer_list<Vec> points, Color color, float width, bool closed) const {
  if (!painting()) return;
  for (const Vec point : points) list_->PathLineTo(ImVec2(point.x, point.y));
  if (width <= 0) {
    list_->PathFillConvex(color);
  } else {
    list_->PathStroke(color, closed ? ImDrawFlags_Closed : 0, width);
  }
}

void Ui::disc(Vec centre, float radius, Color color) const {
  if (!painting()) return;
  list_->AddCircleFilled(ImVec2(centre.x, centre.y), radius, color);
}

void Ui::ring(Vec centre, float radius, Color color, float width) const {
  if (!painting()) return;
  list_->AddCircle(ImVec2(centre.x, centre.y), radius, color, 0, width);
}

void Ui::clip(Box box) {
  const Box cut = box.cut(clips_.back());
  clips_.push_back(cut);
  if (painting()) {
    list_->PushClipRect(ImVec2(cut.x, cut.y), ImVec2(cut.right(), cut.bottom()), false);
  }
}

void Ui::unclip() {
  clips_.pop_back();
  if (painting()) list_->PopClipRect();
}

void Ui::text(Type type, float x, float y, Color color, std::string_view words,
              float align) const {
  if (!painting() || words.empty()) return;
  const float shift = align == 0 ? 0 : fonts.width(type, words) * align;
  fonts.draw(list_, type, Vec{x - shift, y}, color, words);
  if (runs != nullptr) {
    const float height = fonts.ascent(type);
    runs->push_back(TextRun{Box{x - shift, y - height, fonts.width(type, words), height},
                            clips_.back(), std::string(words)});
  }
}

}  // namespace kp::ui
