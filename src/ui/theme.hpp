#pragma once

#include "ui/types.hpp"

namespace kp::ui {

enum class ThemeKind { day, night, sun };

/// Every colour the screen uses. Safety colours (ISO 3864 red, orange, yellow, blue, green) carry safety
/// meanings only; a word and a shape always go with them.
struct Palette {
  Color paper, card, ink, soft, hairline;
  Color touch, touch_deep, touch_tint, on_touch;
  Color off_fill, off_text;
  Color danger, alert, warn, must, safe, on_safety, warn_ink;
  Color travel, labour, waiting;  ///< segments of the time bar
};

[[nodiscard]] const Palette& palette(ThemeKind kind);

enum class Face { regular, bold, mono, mono_bold };

/// A face at a size in CSS px, before the person's text size.
struct Type {
  Face face = Face::regular;
  float size = 17;
};

namespace type {
inline constexpr Type kSmall{Face::regular, 12.5F};
inline constexpr Type kSmallBold{Face::bold, 13};
inline constexpr Type kNote{Face::regular, 13.5F};
inline constexpr Type kLine{Face::regular, 14.5F};
inline constexpr Type kRail{Face::regular, 15};
inline constexpr Type kRailBold{Face::bold, 15};
inline constexpr Type kBar{Face::regular, 15.5F};
inline constexpr Type kWay{Face::bold, 15.5F};
inline constexpr Type kText{Face::regular, 16};
inline constexpr Type kRow{Face::regular, 17};
inline constexpr Type kRowBold{Face::bold, 17};
inline constexpr Type kTitle{Face::bold, 20};
inline constexpr Type kAsk{Face::bold, 21};
inline constexpr Type kSentence{Face::bold, 23};
inline constexpr Type kFigureSmall{Face::mono, 13};
inline constexpr Type kClock{Face::mono, 15};
inline constexpr Type kBarFigure{Face::mono, 15.5F};
inline constexpr Type kFigure{Face::mono, 17};
inline constexpr Type kUnit{Face::mono, 20};
inline constexpr Type kKey{Face::mono, 24};
inline constexpr Type kTotal{Face::mono_bold, 24};
inline constexpr Type kReading{Face::mono, 32};
}  // namespace type

/// What the person has chosen about the screen.
struct Taste {
  ThemeKind theme = ThemeKind::day;
  int text_percent = 100;      ///< 100, 130 or 170
  bool two_step = false;       ///< a tap and a second tap instead of a held press
  bool gloves = false;         ///< wider slop before a tap counts as a drag
  bool reduced_motion = false;
  friend bool operator==(const Taste&, const Taste&) = default;
};

namespace metric {
inline constexpr float kStrip = 66;
inline constexpr float kSafetyBar = 5;
inline constexpr float kMargin = 16;
inline constexpr float kRow = 54;
inline constexpr float kRowMin = 44;
inline constexpr float kHold = 76;
inline constexpr float kButton = 60;
inline constexpr float kRadius = 12;
inline constexpr float kWays = 62;          ///< from the last button's foot to the screen's foot
inline constexpr float kSlop = 11;
inline constexpr float kSlopGloves = 16;
inline constexpr float kTwoPanes = 700;     ///< from this width two panes stand side by side
inline constexpr float kThreePanes = 1100;
}  // namespace metric

}  // namespace kp::ui
