#include "bill/service.hpp"

#include <string>

#include <doctest/doctest.h>

#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/html.hpp"
#include "bill/papers.hpp"
#include "bill/record_case.hpp"

using namespace kp;
using namespace kp::bill;
using namespace kp::bill::test;

namespace {

std::string all(const Page& page) { return join(page_texts(page), "\n"); }

bool says(const Page& page, const std::string& text) {
  return all(page).find(text) != std::string::npos;
}

int words(const std::string& sentence) {
  int count = 0;
  for (const std::string& word : split(sentence, ' ')) {
    count += word.empty() ? 0 : 1;
  }
  return count;
}

}  // namespace

TEST_CASE("a whole record has no open points, and says that local codes prevail") {
  const ServiceRecord record = service_record();
  CHECK_MESSAGE(check_record(record).all().empty(), all_text(check_record(record)));
  const Page page = service_page(record);
  CHECK(says(page, "Local codes and licensed practice prevail"));
  CHECK(!says(page, "Open points"));
  CHECK(says(page, "Repaired. The machine was handed back for use."));
  for (const char* text :
       {"Breaker 7 off and locked, by Ines Okafor", "Electricity: Line to neutral", "0.0 V",
        "below 50 V", "29 CFR 1910.333(a)(1)", "Heater element, replaced", "seal sits all round",
        "0.11 Ω", "at most 0.30 Ω", "Limits that name no source are common practice.", "HE-120-9",
        "10:42", "11:25",
        "From 10:52, labour: screen off 12:03 of it.", "Recorded 2026-03-04 10:20 to 11:41.",
        "mark 9f2c61ab04d7"}) {
    CAPTURE(text);
    CHECK(says(page, text));
  }
}

TEST_CASE("what a record lacks for its outcome is an open point on the paper") {
  ServiceRecord record = service_record();
  record.tests[0].pass = false;
  record.handled[2].refitted.reset();
  record.checks[1].done = false;
  record.isolations[1].proved.reset();
  const Findings findings = check_record(record);
  for (const char* code : {"test-failed", "not-refitted", "check-open", "no-proof"}) {
    CAPTURE(code);
    CHECK(findings.has(code));
  }
  CHECK(findings.faults() == 4);
  const Page page = service_page(record);
  CHECK(says(page, "Open points"));
  CHECK(says(page, "Heater nuts was removed and not refitted."));
  CHECK(says(page, "Failed. VDE 0701-0702:2008"));

  record = service_record();
  record.tests.clear();
  CHECK(check_record(record).has("no-safety-test"));
  record.work.outcome = Outcome::no_fault_found;
  CHECK(check_record(record).has("no-safety-test"));
}

TEST_CASE("a machine that stays open must stay isolated") {
  ServiceRecord record = service_record();
  for (const Outcome outcome : {Outcome::waiting_for_parts, Outcome::not_to_be_used}) {
    record.work.outcome = outcome;
    CHECK(check_record(record).faults() == 2);  // both were restored
    CHECK(check_record(record).has("not-isolated"));
  }
  record.isolations[0].restored.reset();
  record.isolations[1].restored.reset();
  CHECK(check_record(record).faults() == 0);
  record.isolations.clear();
  CHECK(check_record(record).faults() == 2);
  CHECK(says(service_page(record), "No isolation is on record."));
}

TEST_CASE("each isolated energy gets a tag that says who, since when, and why") {
  ServiceRecord record = service_record();
  record.work.outcome = Outcome::waiting_for_parts;
  record.isolations[0].restored.reset();
  record.isolations[1].restored.reset();
  record.awaited = {part("HE-120-9", "Heater element", 4875)};
  const Page page = tag_page(record);
  int tags = 0;
  for (const Block& block : page.blocks) {
    if (const auto* panel = std::get_if<Panel>(&block)) {
      ++tags;
      CHECK(panel->tag);
      CHECK(panel->sign == (tags == 1 ? Sign::do_not_switch : Sign::do_not_open));
    }
  }
  CHECK(tags == 2);
  for (const char* text : {"DO NOT SWITCH ON", "DO NOT OPEN THE VALVE", "Ines Okafor",
                           "2026-03-04 10:40", "555 0142", "Heater element HE-120-9",
                           "Electricity: Breaker 7 off and locked", "J-0114"}) {
    CAPTURE(text);
    CHECK(says(page, text));
  }
  record.isolations[0].restored = on("11:25");
  record.isolations[1].restored = on("11:25");
  CHECK(says(tag_page(record), "No isolation is on record."));
}

TEST_CASE("the notice forbids use, names the hazard, and is signed for") {
  ServiceRecord record = service_record();
  record.work.outcome = Outcome::not_to_be_used;
  record.isolations[0].restored.reset();
  record.tests[1].pass = false;
  record.hazard = "Touching the machine can give an electric shock.";
  const Page page = notice_page(record);
  for (const char* text :
       {"WARNING", "Do not use this machine.", "Touching the machine can give an electric shock.",
        "Insulation at 500 V", "Leave this as it is: electricity", "Local codes", "Received"}) {
    CAPTURE(text);
    CHECK(says(page, text));
  }
  CHECK(!says(page, "Leave this as it is: water"));
  CHECK(!says(page, "Earth, plug pin to frame"));  // it passed
}

TEST_CASE("sentences of the papers are short, one instruction each") {
  // Rule of the house after ASD-STE100: at most 20 words, and no "and then".
  ServiceRecord record = service_record();
  record.work.outcome = Outcome::not_to_be_used;
  record.hazard = "Touching the machine can give an electric shock.";
  for (const Page& page : {service_page(record), notice_page(record), tag_page(record)}) {
    for (const Block& block : page.blocks) {
      const auto* paragraph = std::get_if<Paragraph>(&block);
      if (paragraph == nullptr) {
        continue;
      }
      for (const std::string& sentence : split(paragraph->text, '.')) {
        CAPTURE(sentence);
        CHECK(words(sentence) <= 20);
        CHECK(sentence.find(" and then ") == std::string::npos);
      }
    }
  }
}

TEST_CASE("an hour that comes twice is billed once and prints with its offset") {
  // Autumn change, computed: 01:30 summer time to 01:30 winter time is 60 minutes.
  WorkRecord work = heater_job();
  work.segments = {stretch(SegmentKind::labour, "2026-11-01T01:30:00-04:00",
                           "2026-11-01T01:30:00-05:00")};
  CHECK(work.segments[0].milliseconds() == 3600000);
  CHECK(stamps_for(work).offset);
  CHECK(!stamps_for(work).date);
  CHECK(recorded_times(work) == "Recorded 2026-11-01 01:30 -04:00 to 01:30 -05:00.");
  Findings findings;
  const Invoice invoice = make_invoice(work, demo_card(), head(), findings);
  CHECK(invoice.lines[1].title == "Labour, 1 h at 95.00");
  CHECK(says(invoice_page(invoice, work), "01:30 -04:00 to 01:30 -05:00"));

  // Spring change, computed: 01:30+01:00 to 03:30+02:00 is 60 minutes.
  work.segments = {stretch(SegmentKind::labour, "2026-03-29T01:30:00+01:00",
                           "2026-03-29T03:30:00+02:00")};
  CHECK(work.segments[0].milliseconds() == 3600000);
  work.segments[0].end.offset_min = 60;
  CHECK(!stamps_for(work).offset);
}

TEST_CASE("the clock's choices and all corrections are on the sheet") {
  WorkRecord work = heater_job();
  work.segments[2].counted_ms = 5 * 60000;
  work.segments[2].flag = "clock changed +1:00:00";
  work.segments[4].unanswered = true;
  work.corrections = {
      TimeCorrection{SegmentKind::labour, 900, "Forgot to start", "Ines Okafor", {}}};
  const std::string remarks = join(time_remarks(work), "\n");
  CHECK(remarks ==
        "From 10:38, labour: clock changed +1:00:00.\n"
        "From 11:14, waiting: not known how long. Not counted.\n"
        "More labour, 15 min: Forgot to start (Ines Okafor).");
  Findings findings;
  const Invoice invoice = make_invoice(work, demo_card(), head(), findings);
  CHECK(invoice.draft);
  const Page page = invoice_page(invoice, work);
  CHECK(says(page, "Draft of an invoice"));
  CHECK(says(page, "Nothing is to be paid yet."));
}

TEST_CASE("two visits are two lines of recorded time") {
  WorkRecord work = heater_job();
  work.segments.push_back(stretch(SegmentKind::labour, "2026-03-09T09:00:00-05:00",
                                  "2026-03-09T09:40:00-05:00"));
  work.call_outs = 2;
  CHECK(recorded_times(work) ==
        "Recorded 2026-03-04 10:20 to 11:41, 2026-03-09 09:00 to 09:40.");
  ServiceRecord record = service_record();
  record.work.segments = work.segments;
  record.work.segments[3].flag = "screen off 12:03 of it";
  const Page page = service_page(record);
  CHECK(says(page, "2026-03-04\n10:42"));
  CHECK(says(page, "From 2026-03-04 10:52, labour: screen off 12:03 of it."));
}
