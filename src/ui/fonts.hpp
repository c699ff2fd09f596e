#pragma once

#include <algorithm>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "ui/theme.hpp"

struct ImDrawList;
struct ImFont;
struct ImFontAtlas;

namespace kp::ui {

/// The subset font files that the build made, by face.
struct FontFile {
  const unsigned char* data = nullptr;
  int size = 0;
};
[[nodiscard]] FontFile font_file(Face face);

/// Bakes the faces for one density and text size, measures and draws. Figures and letters stand
/// on device pixels where a baked size fits exactly.
class Fonts {
 public:
  /// Bakes into ImGui's atlas. True when it had to bake: the texture must be made anew.
  bool bake(float dpr, int text_percent);

  [[nodiscard]] float scaled(float size) const {
    return size * static_cast<float>(std::min(text_percent_, most_percent_)) / 100.0F;
  }
  /// What stands fixed on a small screen grows no further than this, or no room is left for the
  /// rest. Returns the limit before.
  int limit(int percent) { return std::exchange(most_percent_, percent); }
  [[nodiscard]] float ascent(Type type) const { return scaled(type.size) * kAscent; }
  /// Distance from baseline to baseline: 1.22 × the size, whole px.
  [[nodiscard]] float leading(Type type) const;
  [[nodiscard]] float width(Type type, std::string_view text) const;
  /// Breaks at spaces, inside a word only when it alone is wider than `width`; '\n' always breaks.
  [[nodiscard]] std::vector<std::string_view> wrap(Type type, std::string_view text,
                                                   float width) const;
  /// Draws one line with its baseline at `at`.
  void draw(ImDrawList* list, Type type, Vec at, Color color, std::string_view text) const;

  [[nodiscard]] float dpr() const { return dpr_; }
  /// For ImGui's own text editor; nullptr before the first bake.
  [[nodiscard]] ImFont* imgui_font(Type type) const;
  /// False when a code point has no glyph (it is drawn as a box).
  [[nodiscard]] bool has(char32_t code) const;

  static constexpr float kAscent = 0.73F;  ///< height of capitals and figures over the size

 private:
  struct Baked {
    Face face;
    float size = 0;      ///< device px of the em
    float css = 0;       ///< the same in CSS px with the text size in it
    ImFont* font = nullptr;
    float baseline = 0;  ///< device px from the line's top
  };
  [[nodiscard]] const Baked& pick(Type type) const;

  float dpr_ = 0;
  int text_percent_ = 0;
  int most_percent_ = 400;
  std::vector<Baked> baked_;
};

/// Next code point of UTF-8 text, advancing `at`; U+FFFD for a broken byte.
[[nodiscard]] char32_t next_code(std::string_view text, std::size_t& at);

}  // namespace kp::ui
