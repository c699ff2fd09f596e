#pragma once

#include <string>
#include <string_view>

#include "pack/model.hpp"

namespace kp::pack {

/// How well a typed model number fits a pattern; a later one fits better.
enum class PlateFit {
  none,
  partial,    ///< the beginning of such a number: go on typing
  corrected,  ///< fits when signs that plates confuse are read the other way
  exact,
};

struct PlateMatch {
  PlateFit fit = PlateFit::none;
  int plate = -1;          ///< index into Pack::plates
  int corrections = 0;
  std::string read_as;     ///< what was typed, in capitals, as it was understood
  std::string message;     ///< "Read as QN 410-P: O for 0", empty without a correction
};

/// Matches what a person read from a rating plate. Blanks, hyphens and the case of letters do not
/// count. Corrected are O and 0, I and 1, S and 5, B and 8, each where the pattern says that the
/// other stands there; what '*' takes is left as it is. The best plate wins, then the fewest
/// corrections, then the first.
[[nodiscard]] PlateMatch match_plate(const Pack& pack, std::string_view typed);

}  // namespace kp::pack
