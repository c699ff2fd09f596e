#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace kp::scene {

/// Width of a line of words in some face and size.
using LineWidth = std::function<double(std::string_view)>;

/// Width of a line in B612, regular or bold alike: the advance widths of that face lie on a grid
/// of a twentieth of the size, so the sum is exact for ASCII. Other characters count as wide ones.
[[nodiscard]] double words_width(std::string_view text, double size);

/// The longest beginning of the text, in whole characters of UTF-8, that fits with an ellipsis;
/// the text itself where it fits.
[[nodiscard]] std::string shortened(std::string_view text, double width, const LineWidth& measure);

/// Breaks a name at its blanks into lines of at most `width`, three at most; what does not fit is
/// shortened. A no-break space (U+00A0) holds its neighbours together and comes out as a blank.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, double width,
                                               const LineWidth& measure);

}  // namespace kp::scene
