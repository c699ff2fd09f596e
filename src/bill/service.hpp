#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "bill/page.hpp"
#include "bill/record.hpp"

namespace kp::bill {

/// A reading with what it was held against. Texts are as shown: "0.11 Ω", "at most 0.30 Ω".
struct ReadingTaken {
  std::string title;
  std::string value;
  std::string limit;
  std::string source;  ///< where the limit comes from; "common practice, no source" where so
  bool pass = true;
  std::optional<Moment> at;
};

enum class EnergyKind { electricity, water, other };

/// One energy taken away, proved away, and given back. `evidence` are the readings that proved it.
struct IsolationTaken {
  EnergyKind energy = EnergyKind::electricity;
  std::string title;  ///< "Electricity", "Water"
  std::string how;    ///< "Breaker 7 off and locked"
  std::string by;
  std::optional<Moment> isolated;
  std::optional<Moment> proved;
  std::optional<Moment> restored;
  std::string voided;  ///< why an earlier proof no longer counted
  std::vector<ReadingTaken> evidence;
};

/// A part or a joint that was taken off, and put back with its checks.
struct Handled {
  std::string name;
  int count = 1;
  std::optional<Moment> removed;
  std::optional<Moment> refitted;
  std::vector<std::string> checks;
  bool replaced = false;  ///< a new part went in for it
};

struct CheckDone {
  std::string title;
  bool done = false;
  std::optional<Moment> at;
};

/// All that the service record says, and the notices that go with its outcome. The record's
/// segments, parts and corrections are those of `work`.
struct ServiceRecord {
  WorkRecord work;
  Shop shop;
  PageSize page = PageSize::a4;
  std::string number;
  bool practice = false;           ///< no real machine: said on top, and nothing is handed back
  Moment closed;
  std::vector<IsolationTaken> isolations;
  std::vector<Handled> handled;
  std::vector<CheckDone> checks;
  std::vector<ReadingTaken> tests;
  std::vector<PartUsed> awaited;   ///< ordered, not fitted
  std::string hazard;              ///< not to be used: what can hurt, in a sentence
  std::vector<std::string> remarks;
  std::string journal_mark;        ///< number and sum of the record that it was made from
  std::string signed_by;
  std::vector<Stroke> signature;
  double signature_ratio = 4;
};

/// Holds a record against its own outcome: `test-failed`, `not-refitted`, `check-open`,
/// `no-proof` (an isolation that was never proved), `no-safety-test`, for a machine that is handed
/// back for use; `not-isolated` for one that is left isolated. They are printed as open points.
[[nodiscard]] Findings check_record(const ServiceRecord& record);

/// "Repaired", "Waiting for parts", "Not to be used", "No fault found".
[[nodiscard]] const char* outcome_words(Outcome outcome);

}  // namespace kp::bill
