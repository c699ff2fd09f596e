#include "app/standing.hpp"

#include <algorithm>

namespace kp::app {
namespace {

/// The greater of both clocks' time between: the steady one may have stood still while the device
/// slept, the wall's may have been set back.
std::int64_t between(const port::ClockReading& from, const port::ClockReading& to) {
  return std::max(to.wall.utc_ms - from.wall.utc_ms, to.mono_ms - from.mono_ms);
}

}  // namespace

bool Standing::gone(const std::optional<port::ClockReading>& since, std::int64_t ms,
                    const port::ClockReading& now) {
  return !since || between(*since, now) >= ms;
}

void Standing::write() {
  *this = {};
  role_ = Role::writer;
  whole_ = true;
}

void Standing::read() {
  *this = {};
  role_ = Role::reader;
}

bool Standing::look_due(const port::ClockReading& now) const {
  const bool wanted = role_ == Role::reader || (role_ == Role::writer && !whole_);
  // An answer that does not come is not waited for for ever.
  return wanted && gone(looked_, looking_ ? kSilentMs : kLookMs, now);
}

void Standing::looked(const port::ClockReading& now) {
  looking_ = true;
  looked_ = now;
}

void Standing::told(const std::string& sign, bool whole, const port::ClockReading& now) {
  looking_ = false;
  whole_ = whole;
  told_ = now;
  // The first sign may be an old one; one that differs from it is new.
  if (sign.empty()) {
    heard_.reset();
  } else if (!sign_.empty() && sign != sign_) {
    heard_ = now;
  }
  sign_ = sign;
}

void Standing::not_told() {
  looking_ = false;
  whole_ = false;
}

bool Standing::sign_due(const port::ClockReading& now) {
  if (role_ != Role::writer || !gone(signed_, kSignMs, now)) {
    return false;
  }
  signed_ = now;
  return true;
}

Knowledge Standing::knowledge(const port::ClockReading& now) const {
  if (role_ == Role::none || (role_ == Role::writer && whole_)) {
    return Knowledge::known;
  }
  if (!whole_ || gone(told_, kSilentMs, now)) {
    return Knowledge::stale;
  }
  return gone(heard_, kSilentMs, now) ? Knowledge::silent : Knowledge::known;
}

std::int64_t Standing::next_ms(const port::ClockReading& now) const {
  if (role_ == Role::none || (role_ == Role::writer && whole_)) {
    return -1;
  }
  const std::int64_t every = looking_ ? kSilentMs : kLookMs;
  return looked_ ? std::max<std::int64_t>(0, every - between(*looked_, now)) : 0;
}

}  // namespace kp::app
