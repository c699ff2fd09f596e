#pragma once

#include <string>
#include <string_view>

namespace kp::bill {

/// The code points of a UTF-8 text (RFC 3629). A byte that belongs to none gives U+FFFD.
[[nodiscard]] std::u32string code_points_of(std::string_view utf8);

/// Adds one code point as UTF-8; what is not a scalar value is added as U+FFFD.
void append_utf8(std::string& out, char32_t point);

}  // namespace kp::bill
