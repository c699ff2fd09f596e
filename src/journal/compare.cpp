#include "journal/compare.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::journal {
namespace {

/// The sum of an entry's line: the next line carries it, or it is the tip.
const std::string& sum_of(const Loaded& loaded, std::size_t index) {
  return index + 1 < loaded.entries.size() ? loaded.entries[index + 1].prev : loaded.tip_hash;
}

}  // namespace

Comparison compare(const Loaded& first, const Loaded& second) {
  const std::size_t shorter = std::min(first.entries.size(), second.entries.size());
  std::size_t common = 0;
  while (common < shorter && sum_of(first, common) == sum_of(second, common)) {
    ++common;
  }
  Comparison out;
  out.common = static_cast<std::uint32_t>(common);
  if (common == 0) {
    out.kinship = Kinship::strangers;
  } else if (common < shorter) {
    out.kinship = Kinship::fork;
  } else if (first.entries.size() == second.entries.size()) {
    out.kinship = Kinship::same;
  } else {
    out.kinship = first.entries.size() > shorter ? Kinship::first_longer : Kinship::second_longer;
  }
  return out;
}

std::string words_of(const Comparison& comparison, const std::string& first,
                     const std::string& second) {
  const std::string common = integer_text(comparison.common);
  switch (comparison.kinship) {
    case Kinship::same:
      return cat("Both hold the same ", common, " records.");
    case Kinship::first_longer:
      return cat(first, " goes on where ", second, " ends, after record ", common, ".");
    case Kinship::second_longer:
      return cat(second, " goes on where ", first, " ends, after record ", common, ".");
    case Kinship::fork:
      return cat("A fork: they part at record ", integer_text(std::int64_t{comparison.common} + 1),
                 ". Keep both; nothing merges them.");
    case Kinship::strangers:
      return "They are of two jobs: not even record 1 is common.";
  }
  return {};
}

}  // namespace kp::journal
