#pragma once

#include <cstdint>
#include <string>
#include <vector>

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

/// What became of a document that was offered.
enum class Handing {
  completed,  ///< it was shared with somebody, or is written
  let_out,    ///< it went to a printer or into downloads: whether it was kept cannot be known
  failed      ///< it could not be written, or was put away untouched
};

struct Handed {
  int offer = 0;      ///< as offer() numbered it
  Handing how = Handing::failed;
  std::string why;    ///< of a failure that a person can mend, a sentence; may be empty
};

class Share {
 public:
  virtual ~Share() = default;
  /// Offers the document. The offer's number, from 1; what became of it is told by take_handed().
  virtual int offer(const Document& document) = 0;
  /// What became of offers since this was last asked, in order. One offer may be told of more than
  /// once (saved, then shared), or never.
  virtual std::vector<Handed> take_handed() = 0;
};

/// Random identities: the only source of chance, and it is outside the core.
class Identity {
 public:
  virtual ~Identity() = default;
  /// 16 lower-case hexadecimal digits, new each time.
  virtual std::string fresh() = 0;
};

}  // namespace kp::port
