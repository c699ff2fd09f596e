#include "bill/pdf.hpp"

#include "bill/pdf_flow.hpp"

namespace kp::bill {

Result<std::string> render_pdf(const Page& page) {
  PdfPen pen(page.size);
  PdfFlow flow(pen);
  flow.run(page.blocks);
  if (pen.lost()) {
    flow(Paragraph{"Some characters cannot be printed here and stand as \"?\". The HTML page has "
                   "the full text.",
                   Tone::small});
  }
  flow.footers(page.footer);
  pen.describe(page.title, page.made);
  return pen.bytes();
}

}  // namespace kp::bill
