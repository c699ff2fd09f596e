#pragma once

#include <string>
#include <vector>

#include "journal/format.hpp"

namespace kp::journal {

/// The entry as one line, without a line feed. Line 1 must carry `format` in its payload; life
/// must be 16 hexadecimal digits, prev 64, kind not empty, payload an object, seq at least 1:
/// anything else is our own mistake and ends the program.
[[nodiscard]] std::string write_line(const Entry& entry);

/// The lines of a store as the text of a file.
[[nodiscard]] std::string to_file(const std::vector<std::string>& lines);

}  // namespace kp::journal
