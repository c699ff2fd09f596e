#pragma once
// What widgets feel and what is told to readers, in one frame.

#include <cstdint>
#include <string>

#include "ui/confirm.hpp"
#include "ui/input.hpp"

namespace kp::ui {

/// What a widget felt in this frame.
struct Felt {
  bool held = false;      ///< a pointer is down on it
  bool clicked = false;   ///< a pointer went down and up on it
  bool assisted = false;  ///< Enter, a short Space, or an assistive click
  bool focused = false;   ///< has the keyboard focus, and the focus is shown
  [[nodiscard]] bool fired() const { return clicked || assisted; }
};

/// The times of a press that fired, of its own events, in ms.
struct Press {
  double from_ms = 0;
  double to_ms = 0;
};

/// What is told to a reader once. The graver is told first.
enum class Urgency { danger, warning, rest };
struct Announcement {
  std::string text;
  Urgency urgency = Urgency::rest;
};

/// The gesture of one hold button. It begins anew where the button was not in the frame before:
/// nobody can have held what was not drawn.
struct Gesture {
  ConfirmMachine machine;
  Key key = Key::none;       ///< the key that holds it, if a key does
  double key_ms = 0;         ///< and since when
  std::uint32_t drawn = 0;
};

}  // namespace kp::ui
