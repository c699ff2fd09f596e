#pragma once
// What a sound machine and a sound tester answer, and what decide() answered.

#include "base/text.hpp"
#include "job/bind_prove.hpp"
#include "job/decide.hpp"
#include "job/event.hpp"
#include "pack/model.hpp"
#include "safety/guide.hpp"

namespace kp::test {

/// A good reading of what a series wants.
[[nodiscard]] inline safety::ReadingTaken good_reading(const safety::Todo& todo) {
  safety::ReadingTaken fact;
  fact.place = todo.place.id;
  fact.role = todo.wanted.role;
  fact.a = todo.wanted.pair.a;
  fact.b = todo.wanted.pair.b;
  fact.tester = "M1";
  switch (fact.role) {
    case safety::Role::known_before:
    case safety::Role::known_after:
      fact.shown.volts = 121;
      fact.band_low = 104;
      fact.band_high = 127;
      break;
    case safety::Role::earth_shown:
      fact.function = safety::MeterFunction::ohms;
      fact.shown.volts = 0.3;
      break;
    case safety::Role::pair:
      if (todo.wanted.low_impedance) {
        fact.function = safety::MeterFunction::volts_ac_low_impedance;
        break;
      }
      fact.shown.none_lit = true;
      break;
    case safety::Role::pair_dc:
      fact.function = safety::MeterFunction::volts_dc;
      fact.shown.volts = 0.2;
      break;
  }
  return fact;
}

/// A result of a prove test in the middle of its band.
[[nodiscard]] inline job::ProveRecorded good_result(const pack::ProveTest& test) {
  job::ProveRecorded body;
  body.test = test.id;
  body.passed = true;
  const double low = test.has_low ? test.low : test.field_low;
  const double high = test.has_high ? test.high : test.field_high;
  body.value = test.unit.empty() ? 0 : (low + high) / 2;
  return body;
}

/// The prove tests that are made on the closed machine.
inline int outside_tests(const pack::Pack& pack) {
  int count = 0;
  for (const pack::ProveTest& one : pack.prove_tests) {
    count += job::has_place(one) ? 0 : 1;
  }
  return count;
}

/// True when one of the reasons has this code.
inline bool says(const job::Decision& decision, std::string_view code) {
  for (const safety::Reason& reason : decision.reasons) {
    if (reason.code == code) {
      return true;
    }
  }
  return false;
}

inline std::string codes_of(const job::Decision& decision) {
  std::string out;
  for (const safety::Reason& reason : decision.reasons) {
    out += cat(out.empty() ? "" : " ", reason.code);
  }
  return out;
}

}  // namespace kp::test
