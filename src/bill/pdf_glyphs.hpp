#pragma once

#include <string>
#include <string_view>

// Which of the standard typefaces can print a character, for the PDF renderer only.

namespace kp::bill {

/// A text as the PDF will print it: marks joined with their letters where there is a letter for
/// it, odd blanks and hyphens made plain, direction marks and joiners dropped, tabs as blanks.
/// Line breaks stay.
[[nodiscard]] std::u32string plain_points(std::string_view utf8);

/// The code of a Greek letter or a technical sign in the Symbol face, 0 where it has none.
[[nodiscard]] unsigned char symbol_code(char32_t point);

}  // namespace kp::bill
