#pragma once

#include "bill/record.hpp"

// Colours of the papers, for the two renderers only.

namespace kp::bill {

struct Ink {
  int red = 0;
  int green = 0;
  int blue = 0;
};

inline constexpr Ink kInk{0x1B, 0x21, 0x26};
inline constexpr Ink kMuted{0x5C, 0x5A, 0x54};
inline constexpr Ink kHairline{0xC9, 0xC2, 0xB4};
inline constexpr Ink kTint{0xF6, 0xF3, 0xEC};
/// Safety colours: RAL 3001 and RAL 2010 in their screen approximations (ISO 3864-4).
inline constexpr Ink kSafetyRed{0x9B, 0x24, 0x23};
inline constexpr Ink kSafetyOrange{0xD0, 0x5D, 0x29};

[[nodiscard]] constexpr Ink ink_of(SegmentKind kind) {
  switch (kind) {
    case SegmentKind::travel:
      return {0x9A, 0x96, 0x8C};
    case SegmentKind::diagnosis:
      return {0xCD, 0xB4, 0x8A};
    case SegmentKind::labour:
      return {0x0B, 0x6E, 0x75};
    case SegmentKind::waiting:
      return {0xE3, 0xDF, 0xD5};
    case SegmentKind::unbilled:
      return {0xF6, 0xF3, 0xEC};
  }
  return {};
}

}  // namespace kp::bill
