#include "ui/button_label.hpp"

#include <algorithm>
#include <vector>

namespace kp::ui {

void draw_label(Ui& ui, Box box, Type type, Color color, std::string_view label,
                std::string_view hint) {
  const float room = box.w - 20;
  const auto lines = ui.fonts.wrap(type, label, room);
  const auto small = hint.empty() ? std::vector<std::string_view>{}
                                  : ui.fonts.wrap(type::kNote, hint, room);
  const float leading = ui.fonts.leading(type);
  const float small_leading = ui.fonts.leading(type::kNote);
  const float total = leading * static_cast<float>(lines.size()) +
                      (small_leading + 2) * static_cast<float>(small.size());
  float y = box.y + (box.h - total) / 2 + leading * 0.76F;
  for (const std::string_view line : lines) {
    ui.text(type, box.centre().x, y, color, line, 0.5F);
    y += leading;
  }
  y += small_leading * 0.76F - leading * 0.76F + 3;
  for (const std::string_view line : small) {
    ui.text(type::kNote, box.centre().x, y, color, line, 0.5F);
    y += small_leading;
  }
}

float label_height(Ui& ui, Type type, std::string_view label, std::string_view hint, float least) {
  const float room = ui.width() - 20;
  float height = 22 + ui.fonts.leading(type) *
                          static_cast<float>(ui.fonts.wrap(type, label, room).size());
  if (!hint.empty()) {
    height += 2 + ui.fonts.leading(type::kNote) *
                      static_cast<float>(ui.fonts.wrap(type::kNote, hint, room).size());
  }
  return std::max(least, height);
}

}  // namespace kp::ui
