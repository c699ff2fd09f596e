#pragma once
// One service record, for the tests of the papers.

#include "bill/cases.hpp"
#include "bill/service.hpp"

namespace kp::bill::test {

inline Moment on(const char* clock) {
  return at((std::string("2026-03-04T") + clock + ":00-05:00").c_str());
}

inline ReadingTaken reading(const char* title, const char* value, const char* limit,
                            const char* source, const char* clock) {
  return ReadingTaken{title, value, limit, source, true, on(clock)};
}

inline IsolationTaken electricity() {
  IsolationTaken taken;
  taken.energy = EnergyKind::electricity;
  taken.title = "Electricity";
  taken.how = "Breaker 7 off and locked";
  taken.by = "Ines Okafor";
  taken.isolated = on("10:40");
  taken.proved = on("10:42");
  taken.restored = on("11:25");
  const char* source = "tester proved before and after, common practice";
  taken.evidence = {reading("Tester on a known source, before", "121 V", "shows the source", source, "10:41"),
                    reading("Line to neutral", "0.0 V", "below 50 V", "29 CFR 1910.333(a)(1)", "10:41"),
                    reading("Line to earth", "0.0 V", "below 50 V", "29 CFR 1910.333(a)(1)", "10:42"),
                    reading("Neutral to earth", "0.0 V", "below 50 V", "29 CFR 1910.333(a)(1)", "10:42"),
                    reading("Tester on a known source, after", "121 V", "shows the source", source, "10:42")};
  return taken;
}

inline IsolationTaken water() {
  IsolationTaken taken;
  taken.energy = EnergyKind::water;
  taken.title = "Water";
  taken.how = "Angle valve below the sink shut, hose opened, sump emptied";
  taken.by = "Ines Okafor";
  taken.isolated = on("10:43");
  taken.proved = on("10:44");
  taken.restored = on("11:23");
  return taken;
}

inline ServiceRecord service_record() {
  ServiceRecord record;
  record.work = heater_job();
  record.work.segments[3].flag = "screen off 12:03 of it";
  record.shop = demo_card().shop;
  record.page = PageSize::letter;
  record.number = "S-2026-0114";
  record.closed = on("11:45");
  record.isolations = {electricity(), water()};
  const auto handled = [&record](const char* name, int count, const char* removed,
                                 const char* refitted, std::vector<std::string> checks) {
    record.handled.push_back(Handled{name, count, on(removed), on(refitted), std::move(checks), false});
  };
  handled("Toe panel screws", 2, "10:46", "11:20", {});
  handled("Toe panel", 1, "10:47", "11:19", {"edge behind the frame"});
  handled("Heater nuts", 2, "10:52", "11:08", {"drawn tight by hand", "no drip after two minutes"});
  handled("Heater element", 1, "10:58", "11:06", {"seal sits all round"});
  record.handled.back().replaced = true;
  handled("Pump seal", 1, "11:00", "11:05", {"ring sits all round", "wetted"});
  record.handled.back().replaced = true;
  record.checks = {CheckDone{"Hoses: clamps on, no kink", true, on("11:21")},
                   CheckDone{"Nothing loose, nothing left inside", true, on("11:22")},
                   CheckDone{"Level, fixed, does not tip", true, on("11:40")}};
  record.tests = {
      reading("Earth, plug pin to frame", "0.11 Ω", "at most 0.30 Ω",
              "VDE 0701-0702:2008, lead up to 5 m", "11:18"),
      reading("Insulation at 500 V", "> 20 MΩ", "at least 1.0 MΩ", "VDE 0701-0702:2008, class I",
              "11:19"),
      reading("Water at the end of the wash", "54 °C", "49 to 60 °C", "common practice, no source",
              "11:38")};
  record.journal_mark = "9f2c61ab04d7";
  record.signed_by = "Wren Abernethy";
  Stroke stroke;
  for (int i = 0; i <= 60; ++i) {
    const double t = i / 60.0;
    const double wave = (i % 12 < 6 ? i % 12 : 12 - i % 12) / 6.0;
    stroke.points.emplace_back(0.08 + 0.75 * t, 0.8 - 0.6 * wave * (1 - 0.7 * t));
  }
  record.signature = {stroke};
  return record;
}

}  // namespace kp::bill::test
