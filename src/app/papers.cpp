#include "app/papers.hpp"

#include "app/offer.hpp"
#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/html.hpp"
#include "bill/pdf.hpp"
#include "job/bind_bill.hpp"

namespace kp::app {

const std::vector<std::string>& paper_words() {
  static const std::vector<std::string> words = {"quote", "invoice", "record", "tag", "notice"};
  return words;
}

std::vector<Paper> papers_of(const Desk& desk) {
  std::vector<Paper> out;
  if (!desk.practice() && desk.content->has_rates) {
    out.push_back(Paper::invoice);
  }
  out.push_back(Paper::record);
  if (desk.state->outcome == job::Outcome::waiting_for_parts) {
    out.push_back(Paper::tag);
  }
  if (desk.state->outcome == job::Outcome::not_to_be_used) {
    out.push_back(Paper::notice);
  }
  return out;
}

bill::Invoice invoice_of(const Desk& desk) {
  const auto& issued = desk.state->invoice;
  bill::InvoiceHead head;
  const bool final = !issued.body.number.empty();
  head.number = final ? issued.body.number : desk.state->job;
  head.issued = final ? issued.stamp.at : desk.now.at;
  Findings findings;
  bill::Invoice invoice = bill::make_invoice(job::bind_work(*desk.state, desk.context()),
                                             desk.content->rates, head, findings);
  invoice.draft = invoice.draft || desk.state->outcome == job::Outcome::none;
  return invoice;
}

bill::Page page_of(const Desk& desk, Paper paper, const std::string& tip) {
  switch (paper) {
    case Paper::quote:
      return bill::quote_page(make_offer(desk).quote);
    case Paper::invoice:
      return bill::invoice_page(invoice_of(desk), job::bind_work(*desk.state, desk.context()));
    case Paper::record:
      return bill::service_page(job::bind_record(*desk.state, desk.context(), desk.content->rates,
                                                 tip, desk.now.at));
    case Paper::tag:
      return bill::tag_page(job::bind_record(*desk.state, desk.context(), desk.content->rates, tip,
                                             desk.now.at));
    case Paper::notice:
      return bill::notice_page(job::bind_record(*desk.state, desk.context(), desk.content->rates,
                                                tip, desk.now.at));
  }
  return {};
}

Result<port::Document> document_of(const Desk& desk, Paper paper, const std::string& tip,
                                   bool as_html) {
  const bill::Page page = page_of(desk, paper, tip);
  port::Document document;
  document.name = cat(bill::file_name(page), as_html ? ".html" : ".pdf");
  if (as_html) {
    document.mime = "text/html";
    document.bytes = bill::render_html(page);
    return document;
  }
  auto pdf = bill::render_pdf(page);
  if (!pdf.has_value()) {
    return fail(pdf.error());
  }
  document.mime = "application/pdf";
  document.bytes = std::move(pdf.value());
  return document;
}

}  // namespace kp::app
