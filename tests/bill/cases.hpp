#pragma once
// What the tests of bill share: the demo card, one worked job, and small helpers.

#include <cstdio>
#include <string>

#include <doctest/doctest.h>

#include "bill/invoice.hpp"
#include "bill/rates.hpp"

namespace kp::bill::test {

inline std::string read_file(const std::string& path) {
  std::string bytes;
  std::FILE* file = std::fopen(path.c_str(), "rb");
  REQUIRE_MESSAGE(file != nullptr, path);
  char part[4096];
  std::size_t got = 0;
  while ((got = std::fread(part, 1, sizeof part, file)) > 0) {
    bytes.append(part, got);
  }
  std::fclose(file);
  return bytes;
}

inline std::string all_text(const Findings& findings) {
  std::string text;
  for (const Finding& finding : findings.all()) {
    text += finding.text() + "\n";
  }
  return text;
}

inline RateCard demo_card() {
  Findings findings;
  auto card = load_rates(read_file(KP_SOURCE_DIR "/assets/demo/rates.json"), findings);
  REQUIRE_MESSAGE(card.has_value(), all_text(findings));
  return *card;
}

inline Moment at(const char* text) {
  const auto moment = parse_rfc3339(text);
  REQUIRE(moment.has_value());
  return *moment;
}

inline Segment stretch(SegmentKind kind, const char* start, const char* end) {
  Segment segment;
  segment.kind = kind;
  segment.start = at(start);
  segment.end = at(end);
  return segment;
}

inline PartUsed part(const char* stock, const char* name, std::int64_t cost_minor,
                     Ratio quantity = {1, 1}) {
  PartUsed used;
  used.stock = stock;
  used.name = name;
  used.cost_minor = cost_minor;
  used.quantity = quantity;
  return used;
}

/// A heater changed in an afternoon; 66 minutes of diagnosis and labour.
inline WorkRecord heater_job() {
  WorkRecord work;
  work.job = "J-0114";
  work.customer.name = "Wren Abernethy";
  work.customer.address = {"4 Quarry Lane", "Pell Harbour 00417"};
  work.customer.country = "US";
  work.customer.phone = "555 0177";
  work.machine = Machine{"Quern & Daughters", "QN 410-P", "7730-118", "Pump module, fixed riser",
                         "Kitchen, under the counter"};
  work.complaint = "Dishes wet and cold";
  work.technician = "Ines Okafor";
  const char* day = "2026-03-04T";
  const auto add = [&work, day](SegmentKind kind, const char* start, const char* end) {
    work.segments.push_back(stretch(kind, (std::string(day) + start + ":00-05:00").c_str(),
                                    (std::string(day) + end + ":00-05:00").c_str()));
  };
  add(SegmentKind::travel, "10:20", "10:28");
  add(SegmentKind::diagnosis, "10:28", "10:38");
  add(SegmentKind::labour, "10:38", "10:52");
  add(SegmentKind::labour, "10:52", "11:14");
  add(SegmentKind::waiting, "11:14", "11:21");
  add(SegmentKind::labour, "11:21", "11:41");
  work.parts = {part("HE-120-9", "Heater element", 4875), part("", "Pump seal", 1120)};
  work.parts[1].note = "while it was open";
  return work;
}

inline InvoiceHead head(const char* number = "2026-0114") {
  return InvoiceHead{number, at("2026-03-04T11:45:00-05:00")};
}

}  // namespace kp::bill::test
