#include "scene/symbols.hpp"

namespace kp::scene {
namespace {

/// A diagonal cross over a line: this way is barred and proved so.
void cross_out(DisplayList& list, Vec at, double reach, double pen, Role role) {
  for (const double side : {1.0, -1.0}) {
    list.emplace_back(LineMark{
        {at + Vec(-reach, -reach * side), at + Vec(reach, reach * side)}, false, {role, pen, {}}});
  }
}

}  // namespace

// The measures are shares of the width: a line of 68 has leads of 22, contacts 22 apart.
void switch_symbol(DisplayList& list, Vec at, double width, Isolation state, Role role) {
  const double unit = width / 68;
  const Pen pen{role, 2.4 * unit, {}};
  const Vec left = at + Vec(-11 * unit, 0);
  const Vec right = at + Vec(11 * unit, 0);
  const double contact = 2.6 * unit;
  list.emplace_back(LineMark{{at + Vec(-34 * unit, 0), left}, false, pen});
  list.emplace_back(LineMark{{right, at + Vec(34 * unit, 0)}, false, pen});
  const Vec tip = state == Isolation::passing ? right : at + Vec(6 * unit, -15 * unit);
  list.emplace_back(LineMark{{left, tip}, false, pen});
  for (const Vec& end : {left, right}) {
    list.emplace_back(CircleMark{end, contact, Role::paper, {role, 2 * unit, {}}});
  }
  if (state == Isolation::proved) {
    cross_out(list, at + Vec(24 * unit, 0), 5 * unit, 2.4 * unit, role);
  }
}

void valve_symbol(DisplayList& list, Vec at, double width, Isolation state, Role role) {
  const double unit = width / 68;
  const Pen pen{role, 2.4 * unit, {}};
  const Pen fine{role, 2 * unit, {}};
  list.emplace_back(LineMark{{at + Vec(-34 * unit, 0), at + Vec(-13 * unit, 0)}, false, pen});
  list.emplace_back(LineMark{{at + Vec(13 * unit, 0), at + Vec(34 * unit, 0)}, false, pen});
  for (const double side : {-1.0, 1.0}) {
    const Contour half{at + Vec(side * 13 * unit, -8 * unit), at,
                       at + Vec(side * 13 * unit, 8 * unit)};
    list.emplace_back(polygon({half}, state == Isolation::passing ? Role::paper : role));
    list.emplace_back(LineMark{half, true, fine});
  }
  list.emplace_back(LineMark{{at, at + Vec(0, -11 * unit)}, false, fine});
  list.emplace_back(
      LineMark{{at + Vec(-7 * unit, -11 * unit), at + Vec(7 * unit, -11 * unit)}, false, pen});
  if (state == Isolation::proved) {
    cross_out(list, at + Vec(24 * unit, 0), 5 * unit, 2.4 * unit, role);
  }
}

void warning_sign(DisplayList& list, Vec top, double height) {
  const double unit = height / 17.5;
  const Contour triangle{top, top + Vec(10 * unit, 17.5 * unit), top + Vec(-10 * unit, 17.5 * unit)};
  list.emplace_back(polygon({triangle}, Role::signal_yellow));
  list.emplace_back(LineMark{triangle, true, {Role::signal_black, 1.6 * unit, {}}});
  list.emplace_back(LineMark{{top + Vec(0, 6 * unit), top + Vec(0, 11.5 * unit)},
                          false,
                          {Role::signal_black, 2 * unit, {}}});
  list.emplace_back(
      CircleMark{top + Vec(0, 14.3 * unit), 1.2 * unit, Role::signal_black, {Role::none, 0, {}}});
}

}  // namespace kp::scene
