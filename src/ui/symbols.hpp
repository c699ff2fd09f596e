#pragma once
// Small drawings of the kit's own: check mark, warning triangle, switch contact (IEC 60617),
// valve (ISO 14617), the key that deletes. All as paint on `ui`, none of them a glyph.

#include "ui/ui.hpp"

namespace kp::ui {

void draw_round_line(const Ui& ui, Vec a, Vec b, Color color, float width);
void draw_check(const Ui& ui, Vec centre, float size, Color color, float width);
void draw_done(const Ui& ui, Vec centre, float radius);
void draw_warning(const Ui& ui, Vec top_left, float scale);
void draw_cross(const Ui& ui, Vec centre, float size, Color color, float width);
void draw_delete_key(const Ui& ui, Vec centre, float size, Color color);
/// 68 px wide times `k`, its line at `at.y`; open or shut.
void draw_contact(const Ui& ui, Vec at, float k, bool shut, Color hole);
/// 68 px wide times `k`; a shut valve is filled.
void draw_valve(const Ui& ui, Vec at, float k, bool shut, Color hole);
void draw_arrow_down(const Ui& ui, Vec tip, float length, Color color, float width);
void draw_focus(const Ui& ui, Box box, float radius);

}  // namespace kp::ui
