#include "ui/glide.hpp"

#include <cmath>

namespace kp::ui {
namespace {

constexpr double kTauMs = 325;
constexpr float kRestSpeed = 6;    // px/s
constexpr float kMaxSpeed = 4000;
constexpr double kRestMs = 60;     // a finger that stood still this long throws nothing

}  // namespace

void Glide::start(float px_per_s, double ms) {
  speed_ = std::clamp(px_per_s, -kMaxSpeed, kMaxSpeed);
  start_ms_ = ms;
  done_ = 0;
  running_ = std::fabs(speed_) > kRestSpeed * 4;
}

float Glide::step(double ms) {
  if (!running_) return 0;
  const double elapsed = std::max(0.0, ms - start_ms_);
  const double decay = std::exp(-elapsed / kTauMs);
  float path = static_cast<float>(static_cast<double>(speed_) * kTauMs / 1000.0 * (1 - decay));
  if (std::fabs(static_cast<double>(speed_) * decay) < static_cast<double>(kRestSpeed)) {
    running_ = false;
    // The rest of the way is less than a pixel or two: the end is the same for every frame rate.
    path = static_cast<float>(static_cast<double>(speed_) * kTauMs / 1000.0);
  }
  const float moved = path - done_;
  done_ = path;
  return moved;
}

float throw_speed(const std::deque<Sample>& samples, double release_ms) {
  if (samples.size() < 2) return 0;
  const Sample& last = samples.back();
  const Sample& first = samples.front();
  // The release repeats the last place; look at when the finger last moved.
  double moved_ms = first.ms;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    if (std::fabs(samples[i].at.y - samples[i - 1].at.y) > 0.5F) moved_ms = samples[i].ms;
  }
  const double span = last.ms - first.ms;
  if (span < 1 || release_ms - moved_ms > kRestMs) return 0;
  return static_cast<float>(static_cast<double>(last.at.y - first.at.y) / span * 1000.0);
}

}  // namespace kp::ui
