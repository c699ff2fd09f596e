#include "ui/confirm.hpp"

#include <algorithm>

namespace kp::ui {

ConfirmPolicy bounded(ConfirmPolicy policy) {
  ConfirmPolicy out;
  out.hold_ms = std::clamp(policy.hold_ms, 500, 3000);
  out.hold_most_ms = std::clamp(policy.hold_most_ms, out.hold_ms + 1000, 10000);
  out.apart_ms = std::clamp(policy.apart_ms, 150, 1000);
  out.second_within_ms = std::clamp(policy.second_within_ms, out.apart_ms + 1000, 20000);
  return out;
}

ConfirmPhase ConfirmMachine::phase(std::int64_t now_ms) const {
  const std::int64_t held = now_ms - since_ms_;
  switch (phase_) {
    case ConfirmPhase::holding:
    case ConfirmPhase::let_go:
      if (held > policy_.hold_most_ms) {
        return ConfirmPhase::idle;
      }
      return held >= policy_.hold_ms ? ConfirmPhase::let_go : ConfirmPhase::holding;
    case ConfirmPhase::first_down:
    case ConfirmPhase::first_done:
    case ConfirmPhase::second_down:
      return held > policy_.second_within_ms ? ConfirmPhase::idle : phase_;
    case ConfirmPhase::idle:
    case ConfirmPhase::confirmed:
      break;
  }
  return phase_;
}

ConfirmPhase ConfirmMachine::press(TouchEvent event) {
  if (phase_ == ConfirmPhase::first_done && event.spot == 2) {
    const bool apart = event.at_ms - since_ms_ >= policy_.apart_ms;
    return apart ? ConfirmPhase::second_down : ConfirmPhase::idle;
  }
  since_ms_ = began_ms_ = event.at_ms;
  if (phase_ != ConfirmPhase::idle && phase_ != ConfirmPhase::first_done) {
    return ConfirmPhase::idle;  // a press without the release before it: events were lost
  }
  if (event.spot == 0) {
    return ConfirmPhase::holding;
  }
  return event.spot == 1 ? ConfirmPhase::first_down : ConfirmPhase::idle;
}

ConfirmPhase ConfirmMachine::release(TouchEvent event) {
  switch (phase(event.at_ms)) {
    case ConfirmPhase::let_go:
      return event.spot == 0 ? ConfirmPhase::confirmed : ConfirmPhase::idle;
    case ConfirmPhase::first_down:
      since_ms_ = event.at_ms;
      return event.spot == 1 ? ConfirmPhase::first_done : ConfirmPhase::idle;
    case ConfirmPhase::second_down:
      return event.spot == 2 ? ConfirmPhase::confirmed : ConfirmPhase::idle;
    case ConfirmPhase::first_done:
    case ConfirmPhase::confirmed:
      return phase_;
    case ConfirmPhase::idle:
    case ConfirmPhase::holding:
      break;
  }
  return ConfirmPhase::idle;
}

ConfirmPhase ConfirmMachine::on(TouchEvent event) {
  if (phase_ == ConfirmPhase::confirmed) {
    return phase_;
  }
  const bool backwards = phase_ != ConfirmPhase::idle && event.at_ms < last_ms_;
  last_ms_ = event.at_ms;
  if (backwards || phase(event.at_ms) == ConfirmPhase::idle) {
    phase_ = ConfirmPhase::idle;
  }
  switch (event.touch) {
    case Touch::press:
      phase_ = press(event);
      break;
    case Touch::release:
      phase_ = release(event);
      break;
    case Touch::move_out:
    case Touch::cancel:
    case Touch::second_pointer:
      phase_ = ConfirmPhase::idle;
      break;
  }
  return phase(event.at_ms);
}

double ConfirmMachine::progress(std::int64_t now_ms) const {
  switch (phase(now_ms)) {
    case ConfirmPhase::holding: {
      const double part = static_cast<double>(now_ms - since_ms_) / policy_.hold_ms;
      return std::clamp(part, 0.0, 1.0);
    }
    case ConfirmPhase::first_done:
    case ConfirmPhase::second_down:
      return 0.5;
    case ConfirmPhase::let_go:
    case ConfirmPhase::confirmed:
      return 1;
    case ConfirmPhase::idle:
    case ConfirmPhase::first_down:
      break;
  }
  return 0;
}

std::int64_t ConfirmMachine::changes_ms(std::int64_t now_ms) const {
  switch (phase(now_ms)) {
    case ConfirmPhase::holding:
      return since_ms_ + policy_.hold_ms;
    case ConfirmPhase::let_go:
      return since_ms_ + policy_.hold_most_ms + 1;
    case ConfirmPhase::first_down:
    case ConfirmPhase::first_done:
    case ConfirmPhase::second_down:
      return since_ms_ + policy_.second_within_ms + 1;
    case ConfirmPhase::idle:
    case ConfirmPhase::confirmed:
      break;
  }
  return -1;
}

}  // namespace kp::ui
