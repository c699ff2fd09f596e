#pragma once
// How two journals of one job stand to each other. Nothing merges them.

#include <cstdint>
#include <string>

#include "journal/format.hpp"

namespace kp::journal {

enum class Kinship {
  same,
  first_longer,   ///< the first goes on where the second ends
  second_longer,
  fork,           ///< two devices went on with one job: both begin alike and then part
  strangers       ///< not even the first record is common
};

struct Comparison {
  Kinship kinship = Kinship::strangers;
  std::uint32_t common = 0;   ///< records that both begin with; they part behind it
};

/// Compares what could be read of both, record by record, by the sums of their lines. Parts beside
/// the chain do not count: one of the two may have been erased.
[[nodiscard]] Comparison compare(const Loaded& first, const Loaded& second);

/// For a person: where they part, or which goes on where the other ends.
[[nodiscard]] std::string words_of(const Comparison& comparison, const std::string& first,
                                   const std::string& second);

}  // namespace kp::journal
