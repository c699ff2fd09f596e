#pragma once
// One frame of the kit: where the next widget stands, what the pointer and the keys do to it,
// what is painted, what is registered for readers and tests, and when the next frame is due.

#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "ui/felt.hpp"
#include "ui/fonts.hpp"
#include "ui/glide.hpp"
#include "ui/input.hpp"
#include "ui/semantics.hpp"
#include "ui/surface.hpp"

namespace kp::ui {

class Ui {
 public:
  Ui();
  ~Ui();
  Ui(const Ui&) = delete;
  Ui& operator=(const Ui&) = delete;

  // ---- the frame, called by Front
  void begin(const FrameInput& in, const std::deque<Sample>& samples,
             const Surface& surface, ImDrawList* list);
  When end();

  // ---- surroundings
  [[nodiscard]] const FrameInput& in() const { return *in_; }
  [[nodiscard]] const Surface& surface() const { return surface_; }
  [[nodiscard]] const Palette& colors() const { return palette(taste.theme); }
  Taste taste;
  Fonts fonts;
  Semantics semantics;
  When when;

  // ---- place: a column that widgets fill from above
  [[nodiscard]] float left() const { return area_.x; }
  [[nodiscard]] float width() const { return area_.w; }
  [[nodiscard]] float y() const { return y_; }
  /// The next `height` px of the column.
  Box take(float height);
  void gap(float px) { y_ += px; }
  /// What is left of the area down to its foot; empty in a column without a foot.
  [[nodiscard]] Box rest() const { return Box{area_.x, y_, area_.w, area_.bottom() - y_}; }
  /// Runs `content` in a column of its own; the height that it took.
  float within(Box box, FunctionRef<void()> content);
  /// Columns side by side in the given shares, `between` px apart; as high as the highest.
  void columns(std::initializer_list<float> shares, float between, FunctionRef<void(int)> content);
  /// The height that `content` takes at this width. It runs without paint, press or semantics.
  float measure(float width, FunctionRef<void()> content);
  /// A column that scrolls when its content is higher than the box.
  void scroll(std::string_view key, Box box, FunctionRef<void()> content);
  /// From here on the scrolling column around keeps its place.
  void stop_reveal() { reveal_off_ = scroll_; }
  /// Asks the scrolling column around to show `box` (when it is not the one shown last).
  void reveal(Box box, Id what);

  // ---- identity
  /// The same from frame to frame while role, key (or name) and surroundings are the same.
  Id make_id(Role role, std::string_view name, std::string_view key = {});
  void push(std::string_view key);
  void pop();

  // ---- feeling
  [[nodiscard]] bool painting() const { return measuring_ == 0; }
  [[nodiscard]] bool inert() const { return inert_ > 0; }
  void set_inert(bool inert) { inert_ += inert ? 1 : -1; }
  /// Registers the item (its box is clipped here) and says what it felt. Nothing in a measuring
  /// or inert part.
  Felt feel(Semantic item);
  /// Whether any of it lies in the part of the screen that is being painted.
  [[nodiscard]] bool in_sight(Box box) const { return !box.cut(clips_.back()).empty(); }
  /// Registers what only shows.
  void show(Semantic item);
  void begin_group(Semantic item);
  void end_group();
  /// The widget that a pointer pressed and still holds.
  [[nodiscard]] Id active() const { return active_; }
  void cancel_active() { active_ = 0; }
  [[nodiscard]] Id focus() const { return focus_; }
  void set_focus(Id id);
  /// The press that fired last; a widget that returned true just now was fired by it.
  [[nodiscard]] Press fired() const { return fired_; }
  /// A line for the live regions, told once; none pushes another out.
  void announce(std::string_view text, Urgency urgency = Urgency::rest);
  /// What this frame announced; after end() the graver first.
  [[nodiscard]] const std::vector<Announcement>& announced() const { return announced_; }

  // ---- memory of widgets that need some between frames
  struct Slot {
    double ms = 0;
    float a = 0, b = 0;
    int n = 0;
    bool flag = false;
    std::string text;
    std::vector<Vec> path;
    std::uint32_t seen = 0;
  };
  Slot& slot(Id id);
  Gesture& gesture(Id id, const ConfirmPolicy& policy);
  /// As it is, without saying that it was drawn; null where there is none.
  [[nodiscard]] const Gesture* known_gesture(Id id) const;

  // ---- paint
  [[nodiscard]] ImDrawList* list() const { return list_; }
  void fill(Box box, Color color, float radius = 0) const;
  void stroke(Box box, Color color, float width, float radius = 0) const;
  void line(Vec a, Vec b, Color color, float width) const;
  void poly(std::initializer_list<Vec> points, Color color, float width, bool closed) const;
  void disc(Vec centre, float radius, Color color) const;
  void ring(Vec centre, float radius, Color color, float width) const;
  void clip(Box box);
  void unclip();
  /// One line with its baseline at `y`; `align` 0 left, 0.5 centre, 1 right of `x`.
  void text(Type type, float x, float y, Color color, std::string_view words,
            float align = 0) const;
  /// One drawn line and what cut it; noted only where somebody asks, as the tests do.
  struct TextRun {
    Box box;
    Box clip;
    std::string words;
  };
  std::vector<TextRun>* runs = nullptr;

 private:
  struct Scroll {
    float offset = 0;
    float content = 0;
    float view = 0;
    bool dragging = false;
    float drag_y = 0;
    Glide glide;
    Id revealed = 0;
    std::uint32_t seen = 0;
  };
  [[nodiscard]] bool under_pointer(Id id, Box box) const;
  void feel_assistance(Felt& felt, const Semantic& item);
  void drive(Scroll& state, Id id, Box box);
  void bring(Box box, Id what);
  void draw_thumb(const Scroll& state, Box box);
  void move_focus(bool backwards);
  void take_keys();

  const FrameInput* in_ = nullptr;
  const std::deque<Sample>* samples_ = nullptr;
  ImDrawList* list_ = nullptr;
  Surface surface_;
  Box area_;
  float y_ = 0;
  int measuring_ = 0;
  int inert_ = 0;
  std::uint32_t frame_ = 0;
  std::vector<Id> scopes_;
  std::vector<Id> groups_;
  std::vector<Box> clips_;
  std::unordered_map<Id, int> names_;
  std::unordered_map<Id, Slot> slots_;
  std::unordered_map<Id, Gesture> gestures_;
  std::unordered_map<Id, Scroll> scrolls_;
  Scroll* scroll_ = nullptr;
  const Scroll* reveal_off_ = nullptr;
  Id scroll_id_ = 0;
  Box scroll_box_;
  Id active_ = 0;
  bool active_seen_ = false;
  Id focus_ = 0;
  bool focus_shown_ = false;
  bool focus_moved_ = false;
  std::vector<Announcement> announced_;
  Press fired_;
};

/// A scope of identities for the length of a block.
class Scope {
 public:
  Scope(Ui& ui, std::string_view key) : ui_(ui) { ui_.push(key); }
  ~Scope() { ui_.pop(); }
  Scope(const Scope&) = delete;
  Scope& operator=(const Scope&) = delete;

 private:
  Ui& ui_;
};

}  // namespace kp::ui
