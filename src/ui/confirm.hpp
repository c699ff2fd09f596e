#pragma once
// The one gesture that confirms. It is decided by the events' own time stamps alone: how many
// frames were drawn between them, and when, changes nothing.

#include <cstdint>

namespace kp::ui {

/// Times of the confirm gesture, ours; bounded(…) keeps them where one touch confirms nothing.
struct ConfirmPolicy {
  int hold_ms = 700;         ///< at least this long on the button
  int hold_most_ms = 5000;   ///< longer is a resting hand or a wet cloth
  int apart_ms = 250;        ///< between the two presses of the alternative
  int second_within_ms = 6000;
};
[[nodiscard]] ConfirmPolicy bounded(ConfirmPolicy policy);

enum class Touch { press, move_out, release, cancel, second_pointer };

/// One thing the pointer or the keyboard did. Time is monotonic, in ms, of the event itself.
/// `spot` is the place pressed: 0 the hold button, 1 and 2 the two spots of the alternative.
struct TouchEvent {
  Touch touch = Touch::press;
  std::int64_t at_ms = 0;
  int spot = 0;
};

enum class ConfirmPhase {
  idle,
  holding,       ///< on the button, not yet long enough
  let_go,        ///< long enough: lift the finger to confirm
  first_down,    ///< first spot of the alternative pressed
  first_done,    ///< waiting for the second spot
  second_down,
  confirmed      ///< once; stays until reset()
};

/// One confirmation by press and hold, or by two separate presses on two spots. Lifting the finger
/// after the hold confirms; sliding off, a cancel, a second pointer or too long a hold does not,
/// nor does a gap in what is told: a press without the release before it, a time that runs
/// backwards. A finger that rests sends no events, so silence alone is no gap.
class ConfirmMachine {
 public:
  explicit ConfirmMachine(ConfirmPolicy policy = {}) : policy_(bounded(policy)) {}

  /// The phase after the event.
  ConfirmPhase on(TouchEvent event);
  /// The phase as a picture drawn at `now_ms` shows it; asking changes nothing.
  [[nodiscard]] ConfirmPhase phase(std::int64_t now_ms) const;
  /// 0 to 1, how far the gesture has come, for the bar.
  [[nodiscard]] double progress(std::int64_t now_ms) const;
  /// When the first press of what is under way began, in ms; meaningless while idle.
  [[nodiscard]] std::int64_t began_ms() const { return began_ms_; }
  /// When the phase that shows at `now_ms` changes by itself, in ms; below 0: it does not.
  [[nodiscard]] std::int64_t changes_ms(std::int64_t now_ms) const;
  void reset() { phase_ = ConfirmPhase::idle; }

 private:
  ConfirmPhase press(TouchEvent event);
  ConfirmPhase release(TouchEvent event);

  ConfirmPolicy policy_;
  ConfirmPhase phase_ = ConfirmPhase::idle;   ///< never let_go: that is a matter of the time
  std::int64_t began_ms_ = 0;
  std::int64_t since_ms_ = 0;
  std::int64_t last_ms_ = 0;
};

}  // namespace kp::ui
