#pragma once

#include <string>
#include <vector>

#include "journal/format.hpp"

namespace kp::journal {

/// The entry as one line, without a line feed. Line 1 must carry `format` in its payload; life
/// must be 16 hexadecimal digits, prev 64, kind not empty, payload an object, seq at least 1:
/// anything else is our own mistake and ends the program.
[[nodiscard]] std::string write_line(const Entry& entry);

/// A part as one line, without a line feed; its sum is the line_hash of this. The salt must be 32
/// hexadecimal digits.
[[nodiscard]] std::string write_part(std::uint32_t record, const Part& part);

/// The entry as a store keeps it: its line, and behind a line feed each the parts that are here.
[[nodiscard]] std::string write_entry(const Entry& entry);

/// A store's entry without the parts of these; nothing named: without any.
[[nodiscard]] std::string without_parts(std::string_view stored, const std::vector<std::string>& whose);

/// The entries of a store as the text of a file: the lines, then the parts beside them.
[[nodiscard]] std::string to_file(const std::vector<std::string>& entries);

/// A file's text without the parts of these (nothing named: without any), and nothing else changed;
/// `erased` counts them. A part that cannot be read goes with them.
[[nodiscard]] std::string file_without_parts(std::string_view text,
                                             const std::vector<std::string>& whose, int& erased);

}  // namespace kp::journal
