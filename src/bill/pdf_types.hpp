#pragma once

#include "bill/pdf_pen.hpp"

// The kinds of text on a paper, for the PDF renderer only.

namespace kp::bill {

inline constexpr Type kBody{Face::regular, 10, 14, kInk};
inline constexpr Type kStrong{Face::bold, 10, 14, kInk};
inline constexpr Type kSmall{Face::regular, 8.5, 11.5, kMuted};
inline constexpr Type kLabel{Face::regular, 8, 11, kMuted};
inline constexpr Type kFigure{Face::mono, 10, 14, kInk};
inline constexpr Type kTitle{Face::bold, 23, 28, kInk};
inline constexpr Type kNumber{Face::mono, 13, 28, kInk};
inline constexpr Type kShop{Face::bold, 12, 15, kInk};
inline constexpr Type kHead{Face::bold, 11, 15, kInk};
inline constexpr Type kDue{Face::bold, 14, 22, kInk};
inline constexpr Type kDueFigure{Face::mono_bold, 14, 22, kInk};
inline constexpr Type kWord{Face::bold, 24, 28, kInk};

/// From the top of a line to its baseline.
[[nodiscard]] constexpr double rise(const Type& type) {
  return (type.leading - type.size) / 2 + 0.78 * type.size;
}

inline constexpr double kGutter = 10;
inline constexpr double kAboveTable = 8;
inline constexpr double kTableHead = 24;

}  // namespace kp::bill
