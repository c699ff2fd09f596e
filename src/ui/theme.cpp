#include "ui/theme.hpp"

namespace kp::ui {
namespace {

constexpr Palette kDay{
    .paper = rgb(0xF6F3EC), .card = rgb(0xFFFDF8), .ink = rgb(0x1B2126), .soft = rgb(0x5C5A54),
    .hairline = rgb(0xC9C2B4), .touch = rgb(0x0B6E75), .touch_deep = rgb(0x0A5A60),
    .touch_tint = rgb(0xDDEBE9), .on_touch = rgb(0xFFFFFF), .off_fill = rgb(0xC9C2B4),
    .off_text = rgb(0x5C5A54), .danger = rgb(0x9B2423), .alert = rgb(0xD05D28), .warn = rgb(0xF9A800),
    .must = rgb(0x005387), .safe = rgb(0x237F52), .on_safety = rgb(0xFFFFFF),
    .warn_ink = rgb(0x2B2B2C), .travel = rgb(0x9A968C), .labour = rgb(0x0B6E75),
    .waiting = rgb(0xE3DFD5)};

constexpr Palette kNight{
    .paper = rgb(0x14181C), .card = rgb(0x1C2227), .ink = rgb(0xE9E4D8), .soft = rgb(0xA7A294),
    .hairline = rgb(0x3A4148), .touch = rgb(0x55B7BE), .touch_deep = rgb(0x7CCBD0),
    .touch_tint = rgb(0x1F3436), .on_touch = rgb(0x0E1316), .off_fill = rgb(0x3A4148),
    .off_text = rgb(0xA7A294), .danger = rgb(0xC5403C), .alert = rgb(0xE07A3F), .warn = rgb(0xF9A800),
    .must = rgb(0x3A8FC8), .safe = rgb(0x237F52), .on_safety = rgb(0xFFFFFF),
    .warn_ink = rgb(0x2B2B2C), .travel = rgb(0x75726B), .labour = rgb(0x55B7BE),
    .waiting = rgb(0x3A4148)};

constexpr Palette kSun{
    .paper = rgb(0xFFFFFF), .card = rgb(0xFFFFFF), .ink = rgb(0x000000), .soft = rgb(0x1E1E1E),
    .hairline = rgb(0x595959), .touch = rgb(0x00474C), .touch_deep = rgb(0x002B2E),
    .touch_tint = rgb(0xE2F1F0), .on_touch = rgb(0xFFFFFF), .off_fill = rgb(0xD0D0D0),
    .off_text = rgb(0x333333), .danger = rgb(0x9B0000), .alert = rgb(0xE86A1C), .warn = rgb(0xF9A800),
    .must = rgb(0x003A66), .safe = rgb(0x00602F), .on_safety = rgb(0xFFFFFF),
    .warn_ink = rgb(0x000000), .travel = rgb(0x6B6B6B), .labour = rgb(0x00474C),
    .waiting = rgb(0xD0D0D0)};

}  // namespace

const Palette& palette(ThemeKind kind) {
  switch (kind) {
    case ThemeKind::night: return kNight;
    case ThemeKind::sun: return kSun;
    case ThemeKind::day: break;
  }
  return kDay;
}

}  // namespace kp::ui
