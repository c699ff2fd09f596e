#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "find/advise.hpp"
#include "job/find_book.hpp"
#include "job/state.hpp"

namespace kp::job {

/// What is known of a job's fault, as find's evidence: the complaint, the readings in the order of the
/// record (those taken back are not there any more), parts that were swapped and did not help, tests
/// that cannot be done. Each entry's `record` is its number, 0 for the complaint.
struct Evidence {
  std::vector<find::Evidence> entries;
  std::vector<std::uint32_t> records;
};

/// `more`: ids of further complaints; `cannot`: ids of tests that cannot be done here.
[[nodiscard]] Evidence find_evidence(const Model& model, const FindBook& book, const State& state,
                                     const std::vector<std::string>& more = {},
                                     const std::vector<std::string>& cannot = {});

/// The outcome of the problem's test that a reading belongs to: `value` in the test's unit, infinity
/// for an open loop. -1: the test has no outcomes.
[[nodiscard]] int outcome_for(const Model& model, const FindBook& book, int test, double value);

/// The problem of the book from where the unit stands: the standing of now is added where it is none
/// of the known ones.
[[nodiscard]] find::Problem bind_find(const Model& model, const FindBook& book, const Standing& now);

/// How the unit of a job stands: under power unless it is isolated.
[[nodiscard]] Standing standing_of(const State& state);

/// The next step with its reasons, for the Find stage.
struct FindAdvice {
  find::Advice advice;
  std::vector<std::string> words;  ///< sentences of at most 20 words, but for long names
  int test = -1;                   ///< of the pack, where a test is next
  int part = -1;                   ///< to be swapped or mended, where a repair is next
  int mend = -1;                   ///< fault that is mended in place
};
[[nodiscard]] FindAdvice advise_find(const Model& model, const FindBook& book, const Standing& now,
                                     const Evidence& evidence,
                                     const find::AdviseOptions& options = {});

}  // namespace kp::job
