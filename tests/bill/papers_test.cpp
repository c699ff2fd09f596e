#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/html.hpp"
#include "bill/pdf.hpp"
#include "bill/pdf_reader.hpp"
#include "bill/record_case.hpp"
#include "support/random.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

std::string without_blanks(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ' && c != '\n') {
      out += c;
    }
  }
  return out;
}

/// What a reader of the page sees: no tags, no styles, escapes undone.
std::string seen_text(const std::string& html) {
  std::string out;
  std::size_t at = html.find("<body>");
  while (at < html.size()) {
    if (html[at] == '<') {
      at = html.find('>', at) + 1;
      out += ' ';
    } else if (html[at] == '&') {
      const auto end = html.find(';', at);
      const std::string name = html.substr(at + 1, end - at - 1);
      out += name == "amp" ? "&" : name == "lt" ? "<" : name == "gt" ? ">" : name == "quot" ? "\"" : "'";
      at = end + 1;
    } else {
      out += html[at++];
    }
  }
  return out;
}

/// All amounts with two decimals that stand in a text, sorted.
std::vector<std::string> amounts(const std::string& text) {
  std::vector<std::string> found;
  const auto digit = [&text](std::size_t i) {
    return i < text.size() && text[i] >= '0' && text[i] <= '9';
  };
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '.' && i > 0 && digit(i - 1) && digit(i + 1) && digit(i + 2) && !digit(i + 3)) {
      std::size_t start = i;
      while (start > 0 && digit(start - 1)) {
        --start;
      }
      found.push_back(text.substr(start, i + 3 - start));
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::string pdf_of(const Page& page) {
  const auto bytes = render_pdf(page);
  REQUIRE(bytes.has_value());
  return *bytes;
}

Invoice heater_invoice(const WorkRecord& work) {
  Findings findings;
  return make_invoice(work, demo_card(), head(), findings);
}

WorkRecord quoted_job() {
  WorkRecord work = heater_job();
  work.quote = QuoteGiven{21000, 26500, on("10:36"), "Wren Abernethy"};
  work.changes = {Change{"Goodwill", -1003, LineKind::labour, "Late arrival", "Ines Okafor", {}}};
  work.corrections = {
      TimeCorrection{SegmentKind::labour, -360, "Call from the shop", "Ines Okafor", {}}};
  work.segments[3].flag = "screen off 12:03 of it";
  work.paid_minor = 5000;
  work.cash = true;
  return work;
}

ServiceRecord waiting_record() {
  ServiceRecord record = service_record();
  record.work.outcome = Outcome::waiting_for_parts;
  record.isolations[0].restored.reset();
  record.isolations[1].restored.reset();
  record.awaited = {part("HE-120-9", "Heater element", 4875)};
  return record;
}

ServiceRecord unsafe_record() {
  ServiceRecord record = waiting_record();
  record.work.outcome = Outcome::not_to_be_used;
  record.tests[1].pass = false;
  record.tests[1].value = "0.2 MΩ";
  record.hazard = "The heater leaks current to its sheath. Touching it can give a shock.";
  return record;
}

Quote heater_quote() {
  QuoteRequest request;
  request.number = "Q-0114";
  request.at = on("10:35");
  request.plan_seconds = 48 * 60;
  request.parts = heater_job().parts;
  request.customer = heater_job().customer;
  request.machine = heater_job().machine;
  request.complaint = heater_job().complaint;
  Findings findings;
  return make_quote(request, demo_card(), findings);
}

std::vector<Page> all_pages() {
  const WorkRecord work = quoted_job();
  const Invoice invoice = heater_invoice(work);
  return {invoice_page(invoice, work),
          invoice_page(credit_of(invoice, head("2026-0115"), "Wrong customer"), work),
          quote_page(heater_quote()),
          service_page(service_record()),
          service_page(unsafe_record()),
          tag_page(waiting_record()),
          notice_page(unsafe_record())};
}

}  // namespace

TEST_CASE("HTML and PDF say every text of a page") {
  for (const Page& page : all_pages()) {
    const std::string html = without_blanks(seen_text(render_html(page)));
    const std::string pdf = without_blanks(PdfReader(pdf_of(page)).text());
    for (const std::string& text : page_texts(page)) {
      CAPTURE(page.title);
      CAPTURE(text);
      CHECK(html.find(without_blanks(text)) != std::string::npos);
      CHECK(pdf.find(without_blanks(text)) != std::string::npos);
    }
  }
}

TEST_CASE("the sums in the PDF are the sums in the HTML, and those of the invoice") {
  const WorkRecord work = quoted_job();
  const Invoice invoice = heater_invoice(work);
  const Page page = invoice_page(invoice, work);
  const std::string html = seen_text(render_html(page));
  const std::string pdf = PdfReader(pdf_of(page)).text();
  CHECK(amounts(html) == amounts(pdf));
  const Totals& totals = invoice.totals;
  CHECK(totals.rounding_minor != 0);
  for (const std::int64_t minor : {totals.net_minor, totals.tax_minor, totals.gross_minor,
                                   -totals.paid_minor, totals.rounding_minor}) {
    const std::string sum = minor_text(minor, invoice.currency);
    CAPTURE(sum);
    CHECK(html.find(sum) != std::string::npos);
    CHECK(pdf.find(sum) != std::string::npos);
  }
  const std::string due = minor_text(totals.due_minor, invoice.currency) + " USD";
  CHECK(html.find(due) != std::string::npos);
  CHECK(pdf.find(due) != std::string::npos);
}

TEST_CASE("amounts agree on random invoices") {
  for (std::uint64_t seed = 1; seed <= 25; ++seed) {
    kp::test::Random random(seed);
    CAPTURE(random.seed());
    WorkRecord work = heater_job();
    for (int i = random.between(0, 40); i > 0; --i) {
      work.parts.push_back(part("P-1", "Part", random.between(1, 99999),
                                Ratio{random.between(1, 12), random.between(1, 4)}));
    }
    const Invoice invoice = heater_invoice(work);
    CHECK(verify(invoice).faults() == 0);
    const Page page = invoice_page(invoice, work);
    CHECK(amounts(seen_text(render_html(page))) == amounts(PdfReader(pdf_of(page)).text()));
  }
}

TEST_CASE("a foreign reader finds the same sum in the PDF") {
  // pdftotext of poppler, where it is installed; a second opinion on our own reader.
  if (std::system(nullptr) == 0 || std::system("pdftotext -v 2>/dev/null") != 0) {
    MESSAGE("pdftotext is not here: skipped");
    return;
  }
  const WorkRecord work = quoted_job();
  const Invoice invoice = heater_invoice(work);
  const std::string bytes = pdf_of(invoice_page(invoice, work));
  std::FILE* file = std::fopen("bill-test.pdf", "wb");
  REQUIRE(file != nullptr);
  std::fwrite(bytes.data(), 1, bytes.size(), file);
  std::fclose(file);
  REQUIRE(std::system("pdftotext -layout bill-test.pdf bill-test.txt") == 0);
  const std::string text = read_file("bill-test.txt");
  CHECK(text.find(minor_text(invoice.totals.due_minor, invoice.currency) + " USD") !=
        std::string::npos);
  CHECK(text.find("page 1 of ") != std::string::npos);
  std::remove("bill-test.pdf");
  std::remove("bill-test.txt");
}

TEST_CASE("the HTML needs nothing from outside and lets nothing in") {
  WorkRecord work = quoted_job();
  work.customer.name = "<script>alert(\"1\")</script> & 'Sons'";
  work.note = "line one\nline <two>\x01";
  const std::string html = render_html(invoice_page(heater_invoice(work), work));
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("http") == std::string::npos);
  CHECK(html.find("data:") == std::string::npos);
  CHECK(html.find("src=") == std::string::npos);
  CHECK(html.find("url(") == std::string::npos);
  CHECK(html.find("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt; &amp; &#39;Sons&#39;") !=
        std::string::npos);
  CHECK(html.find("line one\nline &lt;two&gt;\xEF\xBF\xBD") != std::string::npos);
  CHECK(html.find("@media print") != std::string::npos);
}

TEST_CASE("every script survives in HTML; the PDF says what it cannot print") {
  WorkRecord work = heater_job();
  const std::string note = "Позвонить: Ωμέγα, 日本語, שלום, 😀, é Ł ő ğ €";
  work.note = note;
  const Page page = invoice_page(heater_invoice(work), work);
  CHECK(render_html(page).find(note) != std::string::npos);
  const std::string pdf = PdfReader(pdf_of(page)).text();
  CHECK(pdf.find("HTML page has") != std::string::npos);
  CHECK(pdf.find("?????????:") != std::string::npos);
  CHECK(pdf.find("???, ????, ?,") != std::string::npos);

  work.note = "Größe, Çà, Łódź, ős, ığ, 0.11 Ω, ≤ 3 µF, → ok, e\xCC\x81t\xC3\xA9";
  const std::string plain = PdfReader(pdf_of(invoice_page(heater_invoice(work), work))).text();
  CHECK(plain.find("HTML page has") == std::string::npos);
  CHECK(plain.find("Größe, Çà, ") != std::string::npos);
  CHECK(plain.find("été") != std::string::npos);
}

TEST_CASE("text that is no UTF-8 harms neither") {
  WorkRecord work = heater_job();
  work.note = std::string("ok \xC3\x28 \xED\xA0\x80 \xF0\x9F") + '\0' + "\xFF end (\\)";
  const Page page = invoice_page(heater_invoice(work), work);
  CHECK(render_html(page).find("end (\\)") != std::string::npos);
  CHECK(PdfReader(pdf_of(page)).text().find("end (\\)") != std::string::npos);
}

TEST_CASE("long papers run over sheets: heads repeat, rows stay whole, all of it on the paper") {
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    ServiceRecord record = service_record();
    record.page = size;
    for (int i = 0; i < 150; ++i) {
      record.handled.push_back(record.handled[to_size(i % 5)]);
      record.handled.back().name += cat(" no. ", i);
    }
    record.work.note = std::string(3000, 'x') + "\n";
    for (int i = 0; i < 400; ++i) {
      record.work.note += "many words that go on and on, ";
    }
    record.handled[3].checks = {record.work.note};
    const PdfReader pdf(pdf_of(service_page(record)));
    REQUIRE(pdf.sheets().size() > 4);
    int heads = 0;
    for (std::size_t i = 0; i < pdf.sheets().size(); ++i) {
      const Sheet& sheet = pdf.sheets()[i];
      CHECK(sheet.wide == doctest::Approx(size == PageSize::a4 ? 595.276 : 612));
      CHECK(sheet.high == doctest::Approx(size == PageSize::a4 ? 841.89 : 792));
      bool counted = false;
      for (const Piece& piece : sheet.pieces) {
        CHECK(piece.x >= 50);
        CHECK(piece.x <= sheet.wide - 50);
        CHECK(piece.y >= 20);
        CHECK(piece.y <= sheet.high - 40);
        counted = counted || piece.text == cat("page ", to_int(i) + 1, " of ",
                                               to_int(pdf.sheets().size()));
        heads += piece.text == "Refitted" ? 1 : 0;
      }
      CHECK(counted);
    }
    CHECK(heads > 3);
    CHECK(pdf.text().find("no. 149") != std::string::npos);
  }
}

TEST_CASE("a heading never stands alone at the foot of a sheet") {
  for (int rows = 0; rows < 45; ++rows) {
    CAPTURE(rows);
    ServiceRecord record = service_record();
    record.handled.resize(1);
    for (int i = 0; i < rows; ++i) {
      record.handled.push_back(record.handled[0]);
    }
    const Page page = service_page(record);
    std::vector<std::string> headings;
    for (const Block& block : page.blocks) {
      if (const auto* heading = std::get_if<Heading>(&block)) {
        headings.push_back(heading->text);
      }
    }
    const PdfReader pdf(pdf_of(page));
    for (const Sheet& sheet : pdf.sheets()) {
      // The last two pieces are the footer's.
      REQUIRE(sheet.pieces.size() > 2);
      const std::string& last = sheet.pieces[sheet.pieces.size() - 3].text;
      CHECK(std::find(headings.begin(), headings.end(), last) == headings.end());
    }
  }
}

TEST_CASE("figures stand at the right edge") {
  const WorkRecord work = heater_job();
  const Page page = invoice_page(heater_invoice(work), work);
  const PdfReader pdf(pdf_of(page));
  // Courier is 0.6 of its size wide: 10 points, so a figure of n characters starts 6 n from the edge.
  for (const Piece& piece : pdf.sheets()[0].pieces) {
    if (amounts(piece.text).size() == 1 && piece.x > 400 && piece.text.find("USD") == std::string::npos) {
      CHECK(piece.x + 6.0 * static_cast<double>(piece.text.size()) ==
            doctest::Approx(612 - 54).epsilon(0.001));
    }
  }
}

TEST_CASE("the same page gives the same bytes") {
  const Page page = service_page(service_record());
  CHECK(pdf_of(page) == pdf_of(page));
  CHECK(render_html(page) == render_html(page));
}

TEST_CASE("a signature with points off the field or not a number stays on the field") {
  ServiceRecord record = service_record();
  record.signature[0].points.emplace_back(1e300, -5);
  record.signature[0].points.emplace_back(HUGE_VAL, std::nan(""));
  record.signature.push_back({});
  record.signature_ratio = 0;
  CHECK(pdf_of(service_page(record)).find("nan") == std::string::npos);
  CHECK(render_html(service_page(record)).find("nan") == std::string::npos);
}

TEST_CASE("papers have the names of files") {
  CHECK(file_name(invoice_page(heater_invoice(heater_job()), heater_job())) ==
        "invoice-2026-0114");
  CHECK(file_name(tag_page(waiting_record())) == "tags-s-2026-0114");
  CHECK(file_name(Page{}) == "paper");
}

TEST_CASE("a page shows controls that turn the direction of reading for what they are") {
  CHECK(html_text("a\xE2\x80\xAE" "b\xE2\x81\xA9") == "a\xEF\xBF\xBD" "b\xEF\xBF\xBD");
  CHECK(html_text("\xE2\x80\x8F") == "\xE2\x80\x8F");
}
