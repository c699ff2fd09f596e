#pragma once

#include "scene/display.hpp"

namespace kp::scene {

/// What an isolating point does to its line. `proved` is drawn as cut off and crossed.
enum class Isolation { passing, cut_off, proved };

/// A make contact of IEC 60617 in a line from left to right, as drawn in the isolation strip:
/// closed while the supply may be live, open when isolated, crossed when proved dead.
/// `at` is the middle of the line, `width` its whole length; drawn about width * 0.28 high.
void switch_symbol(DisplayList& list, Vec at, double width, Isolation state,
                   Role role = Role::line);

/// A two-way valve of ISO 14617 with its spindle: white while open, filled when shut, crossed
/// when shut and relieved.
void valve_symbol(DisplayList& list, Vec at, double width, Isolation state,
                  Role role = Role::line);

/// The general warning triangle (ISO 7010 W001 in the colours of ISO 3864): yellow, black border
/// and exclamation mark. `top` is its upper corner, `height` that of the whole sign.
void warning_sign(DisplayList& list, Vec top, double height);

}  // namespace kp::scene
