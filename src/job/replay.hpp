#pragma once

#include <optional>

#include "base/findings.hpp"
#include "job/apply.hpp"
#include "job/personal.hpp"
#include "journal/format.hpp"

namespace kp::job {

struct Replayed {
  State state;
  People people;                   ///< for whoever writes the next record
  Findings notes;                  ///< members and kinds that this program does not know, by line
  std::optional<Error> damage;     ///< why not all of it could be taken
  int damage_line = 0;
  int format = 0;                  ///< of the first line; 0: there is none
  /// Kinds or rows of a newer program stand in it: it is shown, read-only and as live.
  bool newer = false;
  /// May be gone on with: whole, of this format, nothing newer in it.
  [[nodiscard]] bool continues() const {
    return !damage.has_value() && !newer && format == journal::kFormat;
  }
  /// It is of an older format: shown, read-only and as live. A new job can go on with it
  /// (job/unit_found.hpp).
  [[nodiscard]] bool older() const { return format > 0 && format < journal::kFormat; }
};

/// The format that the first line of a journal names; 0: there is none.
[[nodiscard]] int format_of(const journal::Loaded& loaded);

/// The state of a journal that was read, of this format or of format 1, and the same bound to the
/// packs at hand. It never asks the
/// pack: a journal whose pack is not here opens with its own words (model -1). Stops where a line
/// is damaged; a line of an unknown kind is passed over and told.
[[nodiscard]] Replayed replay(const journal::Loaded& loaded, const Library& library);

/// Where a record stands in the journal, by the name or code that its line holds.
[[nodiscard]] Stamp stamp_of(const journal::Entry& entry);

/// A record with what was beside its line put back.
struct Read {
  Stamp stamp;
  Body body;
};

/// Reads the records of one journal of this format, in their order: names are given where they are
/// met first.
class RecordReader {
 public:
  /// Errors and notes as decode().
  Result<Read> read(const journal::Entry& entry, Findings& notes);
  [[nodiscard]] const People& people() const { return people_; }

 private:
  People people_;
};

/// A record as a line of the journal, what is personal of it beside. `people` are those of the
/// records before it.
[[nodiscard]] journal::Entry entry_of(const Stamp& stamp, const Body& body, std::string prev,
                                      People& people, const Salt& salt);

}  // namespace kp::job
