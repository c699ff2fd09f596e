#pragma once
// The mark that a paper carries: number and sum of the record that it was made from.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "base/result.hpp"
#include "journal/format.hpp"

namespace kp::journal {

struct Mark {
  std::uint32_t record = 0;  ///< 0: not said
  std::string sum;           ///< the first 8 to 64 digits, lower case
};

/// As papers print it: "41-" and the sum of the record's line.
[[nodiscard]] std::string mark_text(std::uint32_t record, std::string_view line);

/// Reads what a person copies from paper: a sum or its first digits, with or without the number in
/// front ("41-4c1f09ab", "41 4C1F09AB"). Error `bad-mark`.
Result<Mark> parse_mark(std::string_view text);

/// The records whose sum begins with those digits, by number; the mark's own number is not asked.
[[nodiscard]] std::vector<std::uint32_t> records_of(const Loaded& loaded, const Mark& mark);

/// Where the mark stands. Note `mark-stands` with the record as its line; faults `mark-nowhere`,
/// `mark-elsewhere` (another number than the mark says), `mark-ambiguous` (too few digits).
[[nodiscard]] Findings look_up(const Loaded& loaded, const Mark& mark);

}  // namespace kp::journal
