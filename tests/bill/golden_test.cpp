// The papers of one job as text, held against tests/golden/bill. After an intended change, run
// with KP_WRITE_GOLDEN=1 and read the difference.

#include <cstdio>
#include <cstdlib>
#include <string>

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/record_case.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

const char* const kBlockNames[] = {"head", "heading", "paragraph", "columns", "table",
                                   "sums", "bar",     "signature", "panel"};

std::string dump(const Page& page) {
  std::string out = cat("title: ", page.title, "\nfooter: ", page.footer, "\nfile: ",
                        file_name(page), "\n");
  for (const Block& block : page.blocks) {
    out += cat("\n[", kBlockNames[block.index()], "]\n");
    if (const auto* table = std::get_if<Table>(&block)) {
      for (const Table::Row& row : table->rows) {
        out += join(row.cells, " | ") + (row.detail.empty() ? "" : "  (" + row.detail + ")") + "\n";
      }
    } else if (const auto* sums = std::get_if<Sums>(&block)) {
      for (const Sums::Row& row : sums->rows) {
        out += cat(row.title, row.detail.empty() ? "" : ", ", row.detail, " = ", row.value, "\n");
      }
    } else {
      Page one;
      one.blocks.push_back(block);
      out += join(page_texts(one), "\n") + "\n";
    }
  }
  return out;
}

void check_golden(const std::string& name, const Page& page) {
  const std::string path = cat(KP_SOURCE_DIR "/tests/golden/bill/", name, ".txt");
  const std::string text = dump(page);
  if (std::getenv("KP_WRITE_GOLDEN") != nullptr) {
    std::FILE* file = std::fopen(path.c_str(), "wb");
    REQUIRE(file != nullptr);
    std::fwrite(text.data(), 1, text.size(), file);
    std::fclose(file);
  }
  CHECK(text == read_file(path));
}

}  // namespace

TEST_CASE("the papers of the heater job") {
  WorkRecord work = heater_job();
  work.quote = QuoteGiven{21540, 25340, on("10:36"), "Wren Abernethy"};
  Findings findings;
  const Invoice invoice = make_invoice(work, demo_card(), head(), findings);
  check_golden("invoice", invoice_page(invoice, work));
  check_golden("credit", invoice_page(credit_of(invoice, head("2026-0115"), "Wrong customer"), work));

  QuoteRequest request;
  request.number = "Q-0114";
  request.at = on("10:35");
  request.plan_seconds = 48 * 60;
  request.parts = work.parts;
  request.customer = work.customer;
  request.machine = work.machine;
  request.complaint = work.complaint;
  request.technician = work.technician;
  check_golden("quote", quote_page(make_quote(request, demo_card(), findings)));
  CHECK(findings.faults() == 0);

  ServiceRecord record = service_record();
  check_golden("service", service_page(record));
  record.isolations[0].restored.reset();
  record.isolations[1].restored.reset();
  record.work.outcome = Outcome::waiting_for_parts;
  record.awaited = {part("HE-120-9", "Heater element", 4875)};
  check_golden("tags", tag_page(record));
  record.work.outcome = Outcome::not_to_be_used;
  record.tests[1].pass = false;
  record.tests[1].value = "0.2 MΩ";
  record.hazard = "Touching the machine can give an electric shock.";
  check_golden("notice", notice_page(record));
}
