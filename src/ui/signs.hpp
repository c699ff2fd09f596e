#pragma once
// Safety signs, drawn by ourselves in the shapes and colours of ISO 3864: a yellow triangle warns,
// a blue disc orders. The drawings in them are our own and simple; codes are those of ISO 7010,
// from memory. A code that has no drawing here gets the exclamation mark.

#include <string_view>

#include "ui/ui.hpp"

namespace kp::ui {

/// `size` px wide and at most as high.
void draw_sign(const Ui& ui, std::string_view code, Vec top_left, float size);
/// The triangle with the exclamation mark that goes with a signal word, in two colours.
void draw_alert(const Ui& ui, Vec top_left, float size, Color triangle, Color mark);

}  // namespace kp::ui
