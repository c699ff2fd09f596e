// table: bodies of records about papers and money; all bodies: event.hpp.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "data/value.hpp"

namespace kp::job {

/// `paper` is the quote as it was given (bill/stored.hpp); it is printed from that alone.
struct QuoteGiven {
  static constexpr const char* kKind = "quote-given";
  std::int64_t low_minor = 0, high_minor = 0;
  std::string currency;
  bool accepted = false;
  data::Value paper = {};  ///< null in journals of format 1
  bool erased = false;     ///< the paper's customer is
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("lowMinor", s.low_minor), v("highMinor", s.high_minor), v("currency", s.currency),
        v("accepted", s.accepted), v("paper", s.paper);
  }
};

/// The customer did not agree to a quote.
struct QuoteRefused {
  static constexpr const char* kKind = "quote-refused";
  std::uint32_t quote = 0;        ///< the record that gave it
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("quote", s.quote);
  }
};

struct Signed {
  static constexpr const char* kKind = "signed";
  std::string name;
  std::vector<double> strokes;  ///< x, y in 0..1; a negative x ends a stroke
  std::vector<std::uint32_t> times = {};  ///< of the points, in ms from the first; empty: not kept
  bool erased = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("name", s.name), v("strokes", s.strokes), v("times", s.times);
  }
};

/// `paper` is the invoice as it was issued (bill/stored.hpp); it is printed from that alone.
struct InvoiceIssued {
  static constexpr const char* kKind = "invoice-issued";
  std::string number;
  std::int64_t total_minor = 0;  ///< tax included, whatever was paid
  std::string currency;
  data::Value paper = {};        ///< null in journals of format 1
  bool erased = false;           ///< the paper's customer is
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("number", s.number), v("totalMinor", s.total_minor), v("currency", s.currency),
        v("paper", s.paper);
  }
};

/// A paper was made from the record. `mark` is that of the last record that it was made from.
struct PaperIssued {
  static constexpr const char* kKind = "paper-issued";
  std::string paper;      ///< "record", "tag", "notice", "quote", "invoice"
  std::string number;
  std::string mark;
  std::string sha256;     ///< of its bytes
  bool erased = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("paper", s.paper), v("number", s.number), v("mark", s.mark), v("sha256", s.sha256);
  }
};

struct PartsOrdered {
  static constexpr const char* kKind = "parts-ordered";
  std::string part;       ///< id in the pack
  std::string name;       ///< of it, for the record without the pack
  std::string stock;
  int count = 1;
  std::int64_t price_minor = 0;   ///< of one
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("part", s.part), v("name", s.name), v("stock", s.stock), v("count", s.count),
        v("priceMinor", s.price_minor);
  }
};

/// A document left the program. `completed`: the platform said that it was shared or written;
/// otherwise it was offered, and whether it was kept cannot be known.
struct HandedOver {
  static constexpr const char* kKind = "handed-over";
  std::string document;
  std::string sha256;
  bool completed = false;
  bool erased = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("document", s.document), v("sha256", s.sha256), v("completed", s.completed);
  }
};

}  // namespace kp::job
