#pragma once
// journal: what happened on a job, as lines of text that hold each other by their sums.
// It knows the frame of an event and nothing of what events mean. FORMAT.md is the specification.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "base/time.hpp"
#include "data/value.hpp"

namespace kp::journal {

/// The number that line 1 carries in its data. Smaller ones are read and no longer continued, a
/// larger one is shown as far as it goes.
inline constexpr int kFormat = 2;

/// What line 1 carries in place of a sum: 64 zeros.
inline constexpr std::string_view kNoPrev =
    "0000000000000000000000000000000000000000000000000000000000000000";

/// What is personal of a record. It lies beside the chain, so that it can be erased: the record's
/// line holds its sum alone.
struct Part {
  std::string whose;           ///< "customer", "people": what can be erased by itself
  std::string sum;             ///< line_hash of the part's own line
  bool erased = true;          ///< it is not here, or it is not what the sum says
  std::string salt;            ///< 32 hexadecimal digits, so that nobody finds the words by trying
  data::Value words = data::Value::object();
};

/// One event in its frame.
struct Entry {
  std::uint32_t seq = 0;       ///< from 1
  Moment at;
  std::int64_t mono_ms = 0;    ///< of the steady clock, within one life
  std::string life;            ///< 16 lower-case hexadecimal digits
  std::string by;
  std::string kind;
  data::Value payload = data::Value::object();
  std::vector<Part> parts;     ///< that lie beside it, at most one of each `whose`
  std::string prev{kNoPrev};   ///< line_hash of the line before
};

/// What a text looks like before a record of it is read.
enum class Shape {
  journal,  ///< a journal, or what is left of one
  empty,    ///< nothing, or blanks only
  other,    ///< some other text
  utf16     ///< text in UTF-16, which no journal is written in
};

/// A part that does not belong to what the chain says.
struct PartFault {
  std::uint32_t record = 0;    ///< that it says it is of; 0: it does not say
  std::string code;            ///< `part-altered`, `part-of-none`, `bad-part`
  std::string what;
};

/// What could be read of a journal. `entries` are good and in order, in every case.
struct Loaded {
  std::vector<Entry> entries;
  std::string tip_hash{kNoPrev};  ///< line_hash of the last entry's line: the next one's `prev`
  /// Why reading stopped before the end. Then the journal must not be continued. Codes:
  /// `bad-line`, `wrong-number`, `wrong-chain`, `no-format`, `newer-format` (entries are what
  /// could be understood of it).
  std::optional<Error> damage;
  int damage_line = 0;            ///< the first line not believed, from 1; 0 without damage
  bool torn_tail = false;         ///< an unfinished last line was cut
  bool tail_ended = false;        ///< that line had its line feed: no cut explains it
  std::int64_t good_bytes = 0;    ///< the length of the entries' lines, each with its line feed
  Shape shape = Shape::journal;
  bool byte_order_mark = false;   ///< one stood in front and was passed over
  int crlf_lines = 0;             ///< lines that ended with CR LF and were read as if with LF
  std::vector<PartFault> part_faults;
  /// In a newer format: why reading stopped before the end all the same. `damage` says that the
  /// format is newer.
  std::optional<Error> further_damage;
  int further_line = 0;           ///< as damage_line
};

/// SHA-256 of a line without its line feed, in hexadecimal. What stands behind a line feed does not
/// count: a store keeps the parts of a record there (writer.hpp).
[[nodiscard]] std::string line_hash(std::string_view line);

/// How many parts the records name that are not here.
[[nodiscard]] int erased_parts(const Loaded& loaded);

}  // namespace kp::journal
