#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "journal/format.hpp"

namespace kp::journal {

/// Reads a file. A torn tail is cut and told; damage inside stops the reading there, and the
/// entries before it are kept. A byte-order mark and CR LF are read through and told. Never fails as
/// a whole: an empty text is an empty journal, `shape` says what the text looks like.
[[nodiscard]] Loaded read(std::string_view text);

/// Reads the entries of a store, each a line without its line feed, and its parts behind it. A store writes a line whole or not at
/// all, so there is no torn tail here, and a broken last line is damage like any other.
[[nodiscard]] Loaded read_lines(const std::vector<std::string>& lines);

}  // namespace kp::journal
