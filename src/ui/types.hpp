#pragma once
// ui: the screen. It reads snapshots, draws them and returns what the person wants; it decides
// nothing, keeps no facts and knows neither the store nor the machine. Dear ImGui serves as draw
// list and font atlas only: every widget is drawn and hit by the kit, on one full window.
//
// Lengths are CSS px, times are milliseconds of the platform's monotonic clock.

#include <algorithm>
#include <cstdint>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace kp::ui {

struct Vec {
  float x = 0;
  float y = 0;
  friend bool operator==(const Vec&, const Vec&) = default;
};

[[nodiscard]] inline Vec operator+(Vec a, Vec b) { return Vec{a.x + b.x, a.y + b.y}; }
[[nodiscard]] inline Vec operator-(Vec a, Vec b) { return Vec{a.x - b.x, a.y - b.y}; }
[[nodiscard]] inline Vec operator*(Vec a, float k) { return Vec{a.x * k, a.y * k}; }

struct Box {
  float x = 0;
  float y = 0;
  float w = 0;
  float h = 0;

  [[nodiscard]] float right() const { return x + w; }
  [[nodiscard]] float bottom() const { return y + h; }
  [[nodiscard]] Vec centre() const { return Vec{x + w / 2, y + h / 2}; }
  [[nodiscard]] bool contains(Vec p) const {
    return p.x >= x && p.x < right() && p.y >= y && p.y < bottom();
  }
  [[nodiscard]] Box inset(float dx, float dy) const {
    return Box{x + dx, y + dy, std::max(0.0F, w - 2 * dx), std::max(0.0F, h - 2 * dy)};
  }
  [[nodiscard]] Box cut(const Box& other) const {
    const float left = std::max(x, other.x);
    const float top = std::max(y, other.y);
    return Box{left, top, std::max(0.0F, std::min(right(), other.right()) - left),
               std::max(0.0F, std::min(bottom(), other.bottom()) - top)};
  }
  [[nodiscard]] bool empty() const { return w <= 0 || h <= 0; }
  friend bool operator==(const Box&, const Box&) = default;
};

/// Words lent to a widget for the time of its call. A temporary string is refused: its letters
/// would be gone before the widget reads them, and a key made of them would change between frames.
class Words : public std::string_view {
 public:
  constexpr Words() = default;
  constexpr Words(const char* text) : std::string_view(text) {}
  constexpr Words(std::string_view text) : std::string_view(text) {}
  Words(const std::string& text) : std::string_view(text) {}
  Words(const std::string&&) = delete;
};

/// 0xAABBGGRR, as the draw list takes it.
using Color = std::uint32_t;

/// Opaque colour from 0xRRGGBB, the way palettes are written down.
[[nodiscard]] constexpr Color rgb(std::uint32_t hex) {
  return 0xFF000000U | ((hex & 0xFFU) << 16U) | (hex & 0xFF00U) | ((hex >> 16U) & 0xFFU);
}
[[nodiscard]] constexpr Color with_alpha(Color color, std::uint32_t alpha) {
  return (color & 0x00FFFFFFU) | (alpha << 24U);
}

/// Identity of a widget from frame to frame; 0 is nobody.
using Id = std::uint32_t;

/// A callable borrowed for the length of a call.
template <class Signature>
class FunctionRef;
template <class R, class... A>
class FunctionRef<R(A...)> {
 public:
  FunctionRef() = default;
  template <class F>
    requires(!std::is_same_v<std::remove_cvref_t<F>, FunctionRef>)
  // NOLINTNEXTLINE(google-explicit-constructor): a lambda is passed where this is asked for
  FunctionRef(F&& f)
      : object_(const_cast<void*>(static_cast<const void*>(&f))),
        call_([](void* object, A... args) -> R {
          return (*static_cast<std::remove_reference_t<F>*>(object))(std::forward<A>(args)...);
        }) {}
  explicit operator bool() const { return call_ != nullptr; }
  R operator()(A... args) const { return call_(object_, std::forward<A>(args)...); }

 private:
  void* object_ = nullptr;
  R (*call_)(void*, A...) = nullptr;
};

/// A signature: points from 0 to 1 in its field, y downwards; Vec{-1, -1} ends a stroke.
struct Signature {
  std::vector<Vec> strokes;
  std::vector<double> ms;   ///< of each, when it was drawn or the pen lifted
};

}  // namespace kp::ui
