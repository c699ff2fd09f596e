#pragma once

#include <cstdint>
#include <string>

#include "base/time.hpp"

namespace kp::port {

/// Two clocks read together. `mono_ms` only has meaning within one life of the program; it may
/// stop while the device sleeps. `hidden` says whether the screen was off or the page hidden at
/// any time since the last reading.
struct ClockReading {
  Moment wall;
  std::int64_t mono_ms = 0;
  bool hidden = false;
};

class Clock {
 public:
  virtual ~Clock() = default;
  virtual ClockReading read() = 0;
};

/// A file handed to the person: printed, shared or saved, as the platform can.
struct Document {
  std::string name;   ///< "invoice-2026-0114.pdf"
  std::string mime;
  std::string bytes;
};

class Share {
 public:
  virtual ~Share() = default;
  /// Offers the document; whether it was kept cannot be known, so nothing is returned.
  virtual void offer(const Document& document) = 0;
};

/// Random identities: the only source of chance, and it is outside the core.
class Identity {
 public:
  virtual ~Identity() = default;
  /// 16 lower-case hexadecimal digits, new each time.
  virtual std::string fresh() = 0;
};

}  // namespace kp::port
