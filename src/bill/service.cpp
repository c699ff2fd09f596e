#include "bill/service.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::bill {
namespace {

void report(Findings& findings, const char* code, std::string what, std::string remedy) {
  Finding finding;
  finding.code = code;
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings.add(std::move(finding));
}

void check_handed_back(const ServiceRecord& record, Findings& findings) {
  for (const ReadingTaken& test : record.tests) {
    if (!test.pass) {
      report(findings, "test-failed", cat(test.title, " reads ", test.value, ", ", test.limit),
             "Repair the cause, or end the job as not to be used.");
    }
  }
  for (const Handled& handled : record.handled) {
    if (handled.removed && !handled.refitted) {
      report(findings, "not-refitted", cat(handled.name, " was removed and not refitted"),
             "Refit it, or write why it stays away.");
    }
  }
  for (const CheckDone& check : record.checks) {
    if (!check.done) {
      report(findings, "check-open", cat("not checked: ", check.title), "Do the check.");
    }
  }
  if (record.tests.empty()) {
    report(findings, "no-safety-test", "no test after the work is on record",
           "Do the electrical safety test before the machine is used.");
  }
}

void check_proofs(const ServiceRecord& record, Findings& findings) {
  for (const IsolationTaken& isolation : record.isolations) {
    if (isolation.isolated && !isolation.proved) {
      report(findings, "no-proof", cat(isolation.title, " was isolated and not proved away"),
             "Write who worked on it, and how it was safe.");
    }
  }
}

void check_left_isolated(const ServiceRecord& record, Findings& findings) {
  const auto holds = [&record](EnergyKind kind) {
    return std::any_of(record.isolations.begin(), record.isolations.end(),
                       [kind](const IsolationTaken& isolation) {
                         return isolation.energy == kind && isolation.isolated &&
                                !isolation.restored;
                       });
  };
  if (!holds(EnergyKind::electricity)) {
    report(findings, "not-isolated", "the electricity is not recorded as isolated",
           "Isolate it before you leave.");
  }
  if (!holds(EnergyKind::water)) {
    report(findings, "not-isolated", "the water is not recorded as shut",
           "Shut the valve before you leave.");
  }
}

}  // namespace

Findings check_record(const ServiceRecord& record) {
  Findings findings;
  check_proofs(record, findings);
  switch (record.work.outcome) {
    case Outcome::repaired:
    case Outcome::no_fault_found:
      check_handed_back(record, findings);
      break;
    case Outcome::waiting_for_parts:
    case Outcome::not_to_be_used:
      check_left_isolated(record, findings);
      break;
  }
  return findings;
}

const char* outcome_words(Outcome outcome) {
  switch (outcome) {
    case Outcome::repaired:
      return "Repaired";
    case Outcome::waiting_for_parts:
      return "Waiting for parts";
    case Outcome::not_to_be_used:
      return "Not to be used";
    case Outcome::no_fault_found:
      return "No fault found";
  }
  return "";
}

}  // namespace kp::bill
