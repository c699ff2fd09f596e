#pragma once

#include <string>
#include <vector>

namespace kp::pack {

/// The directions in which a part comes away, as they stand in a pack, and as unit vectors.
///
/// All places of a pack lie on one sheet: the front elevation of the assembled machine, about 300
/// units wide, one unit near 2 mm, x to the right and y downwards, the top of the tub's floor at
/// y = 0, the module's axis at x = 0. A place is where the origin of the part's drawing stands.
/// The sheet has no depth, so what comes forward is drawn to the left and what goes back is drawn
/// to the right, as if the machine had turned its side to the reader.
struct AwayWord {
  const char* word;
  double x;
  double y;
};
[[nodiscard]] const std::vector<AwayWord>& away_directions();
[[nodiscard]] const std::vector<std::string>& away_words();

/// "a", "b" as a list for a message: `"a", "b" and "c"`.
[[nodiscard]] std::string quoted_list(const std::vector<std::string>& words);

}  // namespace kp::pack
