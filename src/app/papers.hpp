#pragma once

#include <string>
#include <vector>

#include "app/desk.hpp"
#include "base/result.hpp"
#include "bill/invoice.hpp"
#include "bill/page.hpp"
#include "port/outside.hpp"

namespace kp::app {

/// The papers of a job. Which of them exist depends on how it ended.
enum class Paper { quote, invoice, record, tag, notice };

/// "quote", "invoice" …, as actions name them.
[[nodiscard]] const std::vector<std::string>& paper_words();

/// The papers that a person may be handed now.
[[nodiscard]] std::vector<Paper> papers_of(const Desk& desk);

/// The invoice as it stands: a draft until the work has ended and no gap in the time is open.
[[nodiscard]] bill::Invoice invoice_of(const Desk& desk);

/// The page of a paper; `tip` is the sum of the journal's last line.
[[nodiscard]] bill::Page page_of(const Desk& desk, Paper paper, const std::string& tip);

/// The paper as a file, PDF or HTML. Errors as bill::render_pdf.
Result<port::Document> document_of(const Desk& desk, Paper paper, const std::string& tip,
                                   bool as_html);

}  // namespace kp::app
