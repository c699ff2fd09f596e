#pragma once

#include <variant>
#include <vector>

#include "base/findings.hpp"
#include "base/result.hpp"
#include "job/state.hpp"
#include "journal/format.hpp"

namespace kp::job::format1 {

inline constexpr int kFormat = 1;

/// A record of format 1: what it said of isolation, or the body of today that says the same.
using Record = std::variant<Said, Body>;

/// Reads a record with the kinds, members and words that format 1 had. A member that it did not
/// have is told in `notes` and says nothing. Errors: `unknown-kind`, and
/// `bad-payload` with the member as the place: absent, of another type, or a word or number that
/// format 1 did not have.
Result<Record> read(const journal::Entry& entry, Findings& notes);

/// Folds it: as the facts of today that it meant, and, of isolation, also as it was said. It asks no
/// pack; what format 1 got from the pack and did not write down is not known, and not made up.
void fold(State& state, const Stamp& stamp, const Record& record);

/// The facts that a word about isolation meant, for a job as it stood before it. None where no fact
/// of today says as little as was said: it stands in State::said only.
[[nodiscard]] std::vector<safety::Fact> facts_of(const Said& said, const State& before,
                                                 const Stamp& stamp);

}  // namespace kp::job::format1
