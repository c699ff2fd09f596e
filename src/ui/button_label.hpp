#pragma once
// The words on a button: a label that wraps, and a small line under it.

#include <string_view>

#include "ui/ui.hpp"

namespace kp::ui {

/// Paints both, centred in `box`.
void draw_label(Ui& ui, Box box, Type type, Color color, std::string_view label,
                std::string_view hint);
/// The height in px that they take in the present column, at least `least`.
[[nodiscard]] float label_height(Ui& ui, Type type, std::string_view label,
                                 std::string_view hint, float least);

}  // namespace kp::ui
