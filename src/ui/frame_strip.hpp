#pragma once

#include "ui/frame.hpp"

namespace kp::ui {

struct StripTouched {
  bool power = false;
  bool water = false;
};
/// Height of the strip at this width: 66 px, more only for larger text.
float strip_height(Ui& ui, const Strip& strip, float width);
StripTouched draw_strip(Ui& ui, const Strip& strip, Box box);

float rail_height(Ui& ui, const Rail& rail, float width);
/// The phone's rail: bars, stage, where, clock. True when touched.
bool draw_rail(Ui& ui, const Rail& rail, Box box);
/// The shop PC's rail with the names; index touched or -1.
int draw_wide_rail(Ui& ui, const Rail& rail, Box box);

}  // namespace kp::ui
