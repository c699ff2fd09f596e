#pragma once

#include <cstdint>

namespace kp::safety {

/// Times of the confirm gesture, ours; bounded(…) keeps them where one touch confirms nothing.
struct ConfirmPolicy {
  int hold_ms = 700;         ///< at least this long on the button
  int hold_most_ms = 5000;   ///< longer is a resting hand or a wet cloth
  int gap_ms = 400;          ///< no news for longer than this breaks a hold
  int apart_ms = 250;        ///< between the two presses of the alternative
  int second_within_ms = 6000;
};
[[nodiscard]] ConfirmPolicy bounded(ConfirmPolicy policy);

enum class Touch { press, move_in, move_out, release, cancel, second_pointer, tick };

/// One thing the pointer, keyboard or clock did. Time is monotonic, in ms. `spot` is the place
/// pressed: 0 the hold button, 1 and 2 the two spots of the alternative.
struct TouchEvent {
  Touch touch = Touch::tick;
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
/// after the hold confirms; sliding off, a cancel, a second pointer, a gap or too long a hold
/// does not. The caller keys the result by step and revision and resets for the next step.
class ConfirmMachine {
 public:
  explicit ConfirmMachine(ConfirmPolicy policy = {}) : policy_(bounded(policy)) {}

  /// The phase after the event.
  ConfirmPhase on(TouchEvent event);
  [[nodiscard]] ConfirmPhase phase() const { return phase_; }
  /// 0 to 1, how far the hold has come, for the ring.
  [[nodiscard]] double progress(std::int64_t now_ms) const;
  void reset() { phase_ = ConfirmPhase::idle; }

 private:
  ConfirmPhase press(TouchEvent event);
  ConfirmPhase release(TouchEvent event);
  ConfirmPhase pass_time(std::int64_t at_ms);

  ConfirmPolicy policy_;
  ConfirmPhase phase_ = ConfirmPhase::idle;
  std::int64_t since_ms_ = 0;
  std::int64_t last_ms_ = 0;
};

}  // namespace kp::safety
