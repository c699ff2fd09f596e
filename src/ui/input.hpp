#pragma once
// The queue between the platform's events and the frames. A tap that starts and ends between two
// frames must still be a tap, a touch must leave no pointer behind, and whatever interrupts a
// touch must cancel it rather than confirm.

#include <cstdint>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "ui/types.hpp"

namespace kp::ui {

enum class PointerKind { mouse, touch };
enum class Key {
  none, tab, enter, space, escape, backspace, erase, left, right, up, down, home, end,
  page_up, page_down
};

enum class EventKind {
  move, down, up,
  cancel,     ///< the touch was taken away: releases far away, confirms nothing
  wheel,
  key_down, key_up,
  text,       ///< typed characters
  lost,       ///< blur, hidden: cancels pointers and lets go of all keys
  activate = 9,  ///< (numbers are known to web/mirror.js) an assistive tool or the mirror presses item `id`
  focus = 10,    ///< the mirror moved the focus to item `id` (0: away)
  value = 11     ///< the platform's text field for item `id` now holds `text`
};

struct Event {
  EventKind kind = EventKind::move;
  double ms = 0;          ///< when it happened, by the device where that is known
  Vec at;                 ///< pointer position, or the wheel's place
  int pointer = 0;        ///< the platform's pointer id
  PointerKind device = PointerKind::mouse;
  Vec by;                 ///< wheel, CSS px; positive y shows what is further down
  Key key = Key::none;
  bool shift = false;
  bool ctrl = false;
  bool repeat = false;
  std::string text;
  Id id = 0;              ///< of a pointer event: the real element of that item was touched
};

struct KeyPress {
  Key key = Key::none;
  double ms = 0;
  bool down = true;
  bool shift = false;
  bool ctrl = false;
};

/// A place of the pointer and when it was there.
struct Sample {
  double ms = 0;
  Vec at;
};

/// What one frame sees. `ms` never passes the time of an event that is still waiting, so that a
/// slow frame cannot stretch a short press into a long one.
struct FrameInput {
  double ms = 0;
  double drawn_ms = 0;      ///< when this frame is drawn, events that wait or not
  float dt = 0.016F;        ///< seconds since the last frame, in [0.0001, 0.1]
  bool present = false;     ///< a pointer is somewhere
  Vec at;
  bool touch = false;
  bool down = false;
  bool pressed = false;     ///< went down in this frame
  bool released = false;    ///< went up in this frame
  bool cancelled = false;   ///< `released`, but by an interruption
  Vec press_at;
  Id press_item = 0;        ///< the press is on this item's real element, wherever that stands
  std::vector<Sample> moves;   ///< of the pointer that is down, all in this frame
  double press_ms = 0;
  double release_ms = 0;
  float travel = 0;         ///< farthest distance from `press_at` in this press
  Vec wheel;
  bool wheel_zooms = false;
  bool pinching = false;
  Vec pinch_at;
  float pinch_scale = 1;    ///< factor of this frame
  Vec pinch_by;             ///< movement of the two fingers' middle in this frame
  std::vector<KeyPress> keys;
  std::string text;
  Id activate = 0;
  double activate_ms = 0;
  std::optional<Id> focus;
  Id value_id = 0;
  std::optional<std::string> value;
  bool key_space = false;   ///< held keys, for press-and-hold from the keyboard
  bool key_enter = false;
};

class Input {
 public:
  void push(Event event) { waiting_.push_back(std::move(event)); }

  /// Takes from the queue what fits into one frame (at most one button change) and says what the
  /// frame sees. `now_ms` may stand still or run backwards; dt stays positive.
  const FrameInput& begin_frame(double now_ms);

  /// True while another frame is owed: events wait, or a pointer has to be taken away.
  [[nodiscard]] bool pending() const { return !waiting_.empty() || leave_next_; }

  /// Positions of the last 80 ms of the present press, for the throw of a scroll.
  [[nodiscard]] const std::deque<Sample>& samples() const { return samples_; }

 private:
  struct Touch {
    int pointer = 0;
    Vec at;
  };
  bool take(const Event& event);
  bool take_down(const Event& event);
  void take_up(const Event& event, bool cancelled);
  void take_move(const Event& event);
  void take_pinch(Vec first_before, Vec second_before);
  void release(double ms, bool cancelled);
  void sample(double ms, Vec at);

  std::deque<Event> waiting_;
  FrameInput now_;
  double last_ms_ = 0;
  bool started_ = false;
  bool button_changed_ = false;
  bool leave_next_ = false;
  bool locked_ = false;      ///< after a second finger nothing presses until all are up
  int owner_ = 0;            ///< pointer that holds the button
  std::vector<Touch> touches_;
  std::deque<Sample> samples_;
};

}  // namespace kp::ui
