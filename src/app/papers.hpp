#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/desk.hpp"
#include "base/result.hpp"
#include "bill/invoice.hpp"
#include "bill/page.hpp"
#include "bill/stored.hpp"
#include "port/outside.hpp"

namespace kp::app {

/// The papers of a job. Which of them exist depends on how it ended.
enum class Paper { quote, invoice, record, tag, notice };

/// "quote", "invoice" …, as actions name them.
[[nodiscard]] const std::vector<std::string>& paper_words();

/// The papers that a person may be handed now, the most wanted first.
[[nodiscard]] std::vector<Paper> papers_of(const Desk& desk);

/// The papers that "hand over" means without naming one.
[[nodiscard]] std::vector<Paper> papers_to_hand_over(const Desk& desk);

/// The invoice that was issued on this visit, as it was issued; nothing where none was, or where a
/// journal of format 1 kept its number and sum only.
[[nodiscard]] std::optional<bill::StoredInvoice> issued_invoice(const Desk& desk);

/// The invoice as it stands, with the number that it will have: a draft until the work has ended and
/// nothing stands against it. What does is told in `findings`.
[[nodiscard]] bill::StoredInvoice invoice_as_it_stands(const Desk& desk, Findings& findings);

/// The page of a paper. What is issued is printed from its own record and from nothing else. `lines`
/// are the journal's, for the mark.
[[nodiscard]] bill::Page page_of(const Desk& desk, Paper paper,
                                 const std::vector<std::string>& lines);

/// The mark that the paper carries: of the record that it was made from. Empty: there is none yet.
[[nodiscard]] std::string mark_of(const Desk& desk, Paper paper,
                                  const std::vector<std::string>& lines);

/// The paper as a file, PDF or HTML. Errors as bill::render_pdf.
Result<port::Document> document_of(const Desk& desk, Paper paper,
                                   const std::vector<std::string>& lines, bool as_html);

}  // namespace kp::app
