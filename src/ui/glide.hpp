#pragma once

#include <deque>

#include "ui/input.hpp"

namespace kp::ui {

/// The throw of a scrolled list: velocity decays by exp(-t / tau). The path is a closed formula
/// of time, so that it rests at the same place whatever the frame rate.
class Glide {
 public:
  /// Starts with `px_per_s` at `ms`; a throw slower than a few px/s is none.
  void start(float px_per_s, double ms);
  void stop() { running_ = false; }
  [[nodiscard]] bool running() const { return running_; }

  /// Distance travelled between the last call (or the start) and `ms`.
  float step(double ms);

 private:
  bool running_ = false;
  float speed_ = 0;
  double start_ms_ = 0;
  float done_ = 0;
};

/// Vertical velocity in px/s of the samples' end; 0 when the finger had come to rest.
[[nodiscard]] float throw_speed(const std::deque<Sample>& samples, double release_ms);

}  // namespace kp::ui
