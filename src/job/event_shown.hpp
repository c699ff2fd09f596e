// table: bodies of records of what was shown, refused and written down beside the work; all bodies:
// event.hpp.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "safety/fact.hpp"

namespace kp::job {

/// The gate refused what hands wanted to do: the rows of its table that spoke. Nothing was done.
struct Refused {
  static constexpr const char* kKind = "refused";
  safety::Act act = safety::Act::hands_in;
  std::string what;       ///< id of the step, part or test in the pack
  std::vector<std::uint32_t> rows;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("act", s.act), v("what", s.what), v("rows", s.rows);
  }
};

/// A caution stood on the card of an act: for these contacts, in the words of packs.
struct CautionShown {
  static constexpr const char* kKind = "caution-shown";
  safety::SignalWord word = safety::SignalWord::danger;
  safety::Act act = safety::Act::hands_in;
  std::string what;
  std::vector<std::string> contacts;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("word", s.word), v("act", s.act), v("what", s.what), v("contacts", s.contacts);
  }
};

/// A photograph, known by its sum; the picture itself is kept elsewhere.
struct PhotoTaken {
  static constexpr const char* kKind = "photo-taken";
  std::string sha256;     ///< of its bytes
  std::int64_t bytes = 0;
  std::string what;       ///< id of the part or joint that it shows; empty: the machine
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("sha256", s.sha256), v("bytes", s.bytes), v("what", s.what);
  }
};

/// The machine's serial number, read after it was identified.
struct SerialNoted {
  static constexpr const char* kKind = "serial-noted";
  std::string serial;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("serial", s.serial);
  }
};

/// The tester that readings name by its number.
struct TesterNamed {
  static constexpr const char* kKind = "tester-named";
  std::string make, number;
  std::string calibrated; ///< YYYY-MM-DD; empty: not known
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("make", s.make), v("number", s.number), v("calibrated", s.calibrated);
  }
};

}  // namespace kp::job
