#include "ui/input.hpp"

#include <cmath>

namespace kp::ui {
namespace {

constexpr double kSampleMs = 80;

float distance(Vec a, Vec b) { return std::hypot(a.x - b.x, a.y - b.y); }

}  // namespace

const FrameInput& Input::begin_frame(double now_ms) {
  const double elapsed = started_ ? (now_ms - last_ms_) / 1000.0 : 0.016;
  started_ = true;
  last_ms_ = now_ms;
  now_.dt = static_cast<float>(std::clamp(elapsed, 0.0001, 0.1));
  now_.pressed = now_.released = now_.cancelled = false;
  now_.wheel = Vec{};
  now_.wheel_zooms = false;
  now_.pinch_scale = 1;
  now_.pinch_by = Vec{};
  now_.keys.clear();
  now_.moves.clear();
  now_.text.clear();
  now_.activate = 0;
  now_.focus.reset();
  now_.value_id = 0;
  now_.value.reset();
  button_changed_ = false;
  if (leave_next_) {
    leave_next_ = false;
    now_.present = false;
  }
  while (!waiting_.empty() && take(waiting_.front())) {
    waiting_.pop_front();
  }
  now_.drawn_ms = now_ms;
  now_.ms = waiting_.empty() ? now_ms : std::min(now_ms, waiting_.front().ms);
  return now_;
}

// False: the event has to wait for the next frame.
bool Input::take(const Event& event) {
  switch (event.kind) {
    case EventKind::move:
      // A position after a button change belongs to the next frame, or the press would be seen
      // at a place where it never was.
      if (button_changed_) return false;
      take_move(event);
      return true;
    case EventKind::down: return take_down(event);
    case EventKind::up:
    case EventKind::cancel:
      if (button_changed_) return false;
      take_up(event, event.kind == EventKind::cancel);
      return true;
    case EventKind::lost:
      if (button_changed_) return false;
      if (now_.down) release(event.ms, true);
      touches_.clear();
      locked_ = false;
      now_.pinching = false;
      now_.key_space = now_.key_enter = false;
      return true;
    case EventKind::wheel:
      now_.wheel = now_.wheel + event.by;
      now_.wheel_zooms = event.ctrl;
      if (!now_.down) {
        now_.at = event.at;
        now_.present = true;
      }
      return true;
    case EventKind::key_down:
    case EventKind::key_up: {
      const bool down = event.kind == EventKind::key_down;
      if (event.repeat && (event.key == Key::space || event.key == Key::enter)) return true;
      // One change of a confirming key a frame, like a button.
      if (event.key == Key::space || event.key == Key::enter) {
        if (button_changed_) return false;
        button_changed_ = true;
        (event.key == Key::space ? now_.key_space : now_.key_enter) = down;
      }
      now_.keys.push_back(KeyPress{event.key, event.ms, down, event.shift, event.ctrl});
      return true;
    }
    case EventKind::text: now_.text += event.text; return true;
    case EventKind::activate:
      if (now_.activate != 0) return false;
      now_.activate = event.id;
      now_.activate_ms = event.ms;
      return true;
    case EventKind::focus: now_.focus = event.id; return true;
    case EventKind::value:
      if (now_.value && now_.value_id != event.id) return false;
      now_.value_id = event.id;
      now_.value = event.text;
      return true;
  }
  return true;
}

bool Input::take_down(const Event& event) {
  if (button_changed_) return false;
  const bool is_touch = event.device == PointerKind::touch;
  if (is_touch) {
    for (const Touch& touch : touches_) {
      if (touch.pointer == event.pointer) return true;
    }
  }
  if (is_touch && !touches_.empty()) {
    touches_.push_back(Touch{event.pointer, event.at});
    if (now_.down) release(event.ms, true);
    locked_ = true;
    now_.pinching = touches_.size() == 2;
    return true;
  }
  if (now_.down && event.pointer != owner_) release(event.ms, true);   // two hands confirm nothing
  if (now_.down || now_.released || locked_) return true;
  if (event.id == 0 && (!now_.present || distance(now_.at, event.at) > 0.5F)) {
    // First the place, in this frame; the press comes in the next.
    now_.present = true;
    now_.at = event.at;
    now_.touch = is_touch;
    button_changed_ = true;
    leave_next_ = false;
    return false;
  }
  if (is_touch) touches_.push_back(Touch{event.pointer, event.at});
  owner_ = event.pointer;
  now_.touch = is_touch;
  now_.down = now_.pressed = true;
  now_.at = event.at;
  now_.present = true;
  now_.press_at = event.at;
  now_.press_item = event.id;
  now_.press_ms = event.ms;
  now_.travel = 0;
  samples_.clear();
  sample(event.ms, event.at);
  button_changed_ = true;
  return true;
}

void Input::take_up(const Event& event, bool cancelled) {
  for (std::size_t i = 0; i < touches_.size(); ++i) {
    if (touches_[i].pointer == event.pointer) {
      touches_.erase(touches_.begin() + static_cast<std::ptrdiff_t>(i));
      break;
    }
  }
  now_.pinching = false;
  if (now_.down && event.pointer == owner_) {
    if (!cancelled) {
      now_.at = event.at;
      now_.travel = std::max(now_.travel, distance(event.at, now_.press_at));
      sample(event.ms, event.at);
    }
    release(event.ms, cancelled);
  }
  if (touches_.empty()) locked_ = false;
}

void Input::take_move(const Event& event) {
  if (event.device == PointerKind::touch) {
    for (std::size_t i = 0; i < touches_.size(); ++i) {
      if (touches_[i].pointer != event.pointer) continue;
      if (now_.pinching && touches_.size() == 2) {
        const Vec first = touches_[0].at;
        const Vec second = touches_[1].at;
        touches_[i].at = event.at;
        take_pinch(first, second);
        return;
      }
      touches_[i].at = event.at;
    }
    if (!now_.down || event.pointer != owner_) return;
  }
  if (now_.down && event.pointer != owner_) return;
  now_.present = true;
  now_.at = event.at;
  now_.touch = event.device == PointerKind::touch;
  if (now_.down) {
    now_.travel = std::max(now_.travel, distance(event.at, now_.press_at));
    now_.moves.push_back(Sample{event.ms, event.at});
    sample(event.ms, event.at);
  }
}

void Input::take_pinch(Vec first_before, Vec second_before) {
  const Vec first = touches_[0].at;
  const Vec second = touches_[1].at;
  const float before = std::max(8.0F, distance(first_before, second_before));
  const float after = std::max(8.0F, distance(first, second));
  const Vec middle_before = (first_before + second_before) * 0.5F;
  const Vec middle = (first + second) * 0.5F;
  now_.pinch_scale *= after / before;
  now_.pinch_by = now_.pinch_by + (middle - middle_before);
  now_.pinch_at = middle;
}

void Input::release(double ms, bool cancelled) {
  now_.down = false;
  now_.released = true;
  now_.cancelled = cancelled;
  now_.release_ms = ms;
  button_changed_ = true;
  if (cancelled) now_.present = false;
  if (now_.touch) leave_next_ = true;
}

void Input::sample(double ms, Vec at) {
  samples_.push_back(Sample{ms, at});
  while (samples_.size() > 1 && samples_.front().ms < ms - kSampleMs) {
    samples_.pop_front();
  }
}

}  // namespace kp::ui
