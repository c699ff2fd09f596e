#pragma once

#include "ui/theme.hpp"
#include "ui/types.hpp"

namespace kp::ui {

struct Insets {
  float top = 0, right = 0, bottom = 0, left = 0;
  friend bool operator==(const Insets&, const Insets&) = default;
};

/// How the frame reaches the person. What does not reach anybody cannot be pressed.
enum class Shown {
  picture,   ///< drawn, and mirrored for readers
  text,      ///< as real elements alone: a touch counts only on the element it is for
  nothing    ///< hidden, or not drawn yet
};

/// Where the frame is drawn.
struct Surface {
  Vec size;                  ///< CSS px
  float dpr = 1;
  Insets insets;             ///< notch and home bar
  ThemeKind theme = ThemeKind::day;   ///< what the device asks for
  int text_percent = 100;             ///< likewise
  Shown shown = Shown::picture;
  bool dom_text = false;     ///< the platform lays its own text fields over the picture
  friend bool operator==(const Surface&, const Surface&) = default;
};

/// The frame's answer to "when next": at once, at a time, or only when something happens.
struct When {
  enum class Kind { on_event, at, now } kind = Kind::on_event;
  double ms = 0;             ///< for `at`, on the clock of FrameInput::ms
  void now() { kind = Kind::now; }
  void at(double when_ms) {
    if (kind == Kind::now || (kind == Kind::at && ms <= when_ms)) return;
    kind = Kind::at;
    ms = when_ms;
  }
};

}  // namespace kp::ui
