#pragma once

#include <string>

#include "base/result.hpp"
#include "bill/page.hpp"

namespace kp::bill {

/// The page as a PDF with "page x of y" on each sheet. It uses the typefaces that every reader
/// brings along, so it is small and needs no font file; they cover the Latin scripts, Greek
/// letters one by one, and technical signs. A character outside them is printed as "?", and a line at the end
/// says that the HTML page has the full text. The same page gives the same bytes, save for the
/// library's own version text. Errors: `pdf-failed` when memory runs out.
[[nodiscard]] Result<std::string> render_pdf(const Page& page);

}  // namespace kp::bill
