#pragma once

#include <string>

#include "bill/page.hpp"

namespace kp::bill {

/// The page as one HTML file that needs nothing else: styles and drawings are inside, all text is
/// escaped, no script. Reads on a phone; prints on A4 and Letter without cutting a row.
[[nodiscard]] std::string render_html(const Page& page);

/// Text with the characters that HTML gives a meaning escaped. Control characters that HTML does
/// not allow become U+FFFD; line breaks stay.
[[nodiscard]] std::string html_text(const std::string& text);

}  // namespace kp::bill
