#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/drawing.hpp"

namespace kp::scene {

/// Walks through the numbers of an SVG attribute: blanks and one comma between them (SVG 1.1,
/// section 4.2 and the grammar of section 8.3.9).
class SvgNumbers {
 public:
  explicit SvgNumbers(std::string_view text) : text_(text) {}

  /// The next number; none at the end, at something else, or out of the range of a drawing.
  std::optional<double> number();
  /// The next flag of an arc, "0" or "1", which need not be followed by a blank.
  std::optional<bool> flag();
  /// The next letter that is a path command; none at a number or at the end.
  std::optional<char> command();
  [[nodiscard]] bool at_end();
  /// True where a number would begin here.
  [[nodiscard]] bool number_next();
  /// How many bytes have been read.
  [[nodiscard]] int position() const;

 private:
  void skip();

  std::string_view text_;
  std::size_t at_ = 0;
};

/// No coordinate of a drawing may be larger.
inline constexpr double kLargestCoordinate = 10000;

struct PathResult {
  std::vector<Stroke> lines;
  std::string wrong;  ///< empty where all was read; else what stands in the way, and where
};

/// Reads path data (SVG 1.1, section 8.3): all commands, absolute and relative, curves flattened.
[[nodiscard]] PathResult read_path(std::string_view data, double tolerance);

}  // namespace kp::scene
