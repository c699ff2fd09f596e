#include "app/papers.hpp"

#include "app/offer.hpp"
#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/html.hpp"
#include "bill/pdf.hpp"
#include "job/bind_bill.hpp"
#include "job/paper.hpp"
#include "journal/mark.hpp"

namespace kp::app {

const std::vector<std::string>& paper_words() {
  static const std::vector<std::string> words = {"quote", "invoice", "record", "tag", "notice"};
  return words;
}

std::vector<Paper> papers_to_hand_over(const Desk& desk) {
  std::vector<Paper> out;
  const bool issued = !desk.state->invoice.body.number.empty();
  if (!desk.practice() && (desk.content->has_rates || issued)) {
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

std::vector<Paper> papers_of(const Desk& desk) {
  std::vector<Paper> out = papers_to_hand_over(desk);
  if (desk.state->agreed && desk.state->agreed->body.paper.kind != data::Kind::null) {
    out.push_back(Paper::quote);
  }
  return out;
}

std::optional<bill::StoredInvoice> issued_invoice(const Desk& desk) {
  const data::Value& paper = desk.state->invoice.body.paper;
  if (paper.kind == data::Kind::null) {
    return std::nullopt;
  }
  Findings findings;
  return bill::read_invoice(paper, findings);
}

bill::StoredInvoice invoice_as_it_stands(const Desk& desk, Findings& findings) {
  const bill::WorkRecord work = job::bind_work(*desk.state, desk.context());
  const bill::InvoiceHead head{job::invoice_number(*desk.state), desk.now.at};
  bill::StoredInvoice paper;
  paper.invoice = bill::make_invoice(work, desk.content->rates, head, findings);
  paper.invoice.draft = paper.invoice.draft || desk.state->outcome == job::Outcome::none;
  paper.segments = work.segments;
  paper.corrections = work.corrections;
  paper.rates = bill::write_rates(desk.content->rates);
  return paper;
}

std::string mark_of(const Desk& desk, Paper paper, const std::vector<std::string>& lines) {
  std::uint32_t record = desk.state->last_n;
  if (paper == Paper::invoice) {
    record = desk.state->invoice.stamp.n;
  } else if (paper == Paper::quote) {
    record = desk.state->agreed ? desk.state->agreed->stamp.n : 0;
  }
  return record < 1 || to_size(record) > lines.size()
             ? std::string()
             : journal::mark_text(record, lines[to_size(record) - 1]);
}

namespace {

bill::Page invoice_page_of(const Desk& desk, const std::vector<std::string>& lines) {
  const auto& issued = desk.state->invoice;
  const std::string mark = mark_of(desk, Paper::invoice, lines);
  if (issued.body.number.empty()) {
    Findings findings;
    return bill::invoice_page(invoice_as_it_stands(desk, findings), "");
  }
  if (const auto paper = issued_invoice(desk)) {
    return bill::invoice_page(*paper, mark);
  }
  bill::UnrecordedInvoice invoice;
  invoice.shop = desk.state->shop;
  invoice.number = issued.body.number;
  invoice.job = desk.state->job;
  invoice.issued = issued.stamp.at;
  invoice.total_minor = issued.body.total_minor;
  invoice.currency = currency_of(issued.body.currency).value_or(Currency{issued.body.currency, 2});
  invoice.mark = mark;
  return bill::unrecorded_invoice_page(invoice);
}

bill::Page quote_page_of(const Desk& desk, const std::vector<std::string>& lines) {
  if (desk.state->agreed) {
    Findings findings;
    if (const auto paper = bill::read_quote(desk.state->agreed->body.paper, findings)) {
      return bill::quote_page(paper->quote, mark_of(desk, Paper::quote, lines));
    }
  }
  return bill::quote_page(make_offer(desk).quote);
}

}  // namespace

bill::Page page_of(const Desk& desk, Paper paper, const std::vector<std::string>& lines) {
  if (paper == Paper::quote) {
    return quote_page_of(desk, lines);
  }
  if (paper == Paper::invoice) {
    return invoice_page_of(desk, lines);
  }
  const bill::ServiceRecord record =
      job::bind_record(*desk.state, desk.context(), desk.content->rates,
                       mark_of(desk, paper, lines), desk.now.at);
  if (paper == Paper::tag) {
    return bill::tag_page(record);
  }
  return paper == Paper::notice ? bill::notice_page(record) : bill::service_page(record);
}

Result<port::Document> document_of(const Desk& desk, Paper paper,
                                   const std::vector<std::string>& lines, bool as_html) {
  const bill::Page page = page_of(desk, paper, lines);
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
