#pragma once

#include <vector>

#include "find/problem.hpp"

namespace kp::find {

enum class Kind {
  symptom,        ///< outcome 1: noticed, 0: asked for and not there
  answer,         ///< a test's outcome
  failed_repair,  ///< done and confirmed not to help
  cannot_test,    ///< this test cannot be done here
  cannot_repair   ///< this repair cannot be done here: no part
};

/// One entry of what is known. Beliefs are a function of the whole list, so an entry that proves
/// wrong is taken back by its flag, or left out, and nothing remembers it.
struct Evidence {
  Kind kind = Kind::answer;
  int index = 0;                   ///< symptom, test or repair
  int outcome = 0;
  std::vector<double> likelihood;  ///< of an answer, a fault each; empty: as the test's outcome says
  bool taken_back = false;
};

[[nodiscard]] Evidence noticed(int symptom, bool there = true);
[[nodiscard]] Evidence answered(int test, int outcome);
[[nodiscard]] Evidence failed(int repair);
[[nodiscard]] Evidence cannot(int test);

/// One fault, or two at once (b -1: none).
struct Hypothesis {
  int a = 0;
  int b = -1;
  double p = 0;
};

/// fits: some fault explains all. reading_fits_nothing: an entry is next to impossible with every
/// fault. readings_disagree: each fits some fault, and no fault fits all.
enum class Fit { fits, reading_fits_nothing, readings_disagree };

struct Belief {
  std::vector<Hypothesis> hypotheses;  ///< single faults in order, then pairs; their p sum to 1
  std::vector<double> fault;           ///< P(fault is present)
  Fit fit = Fit::fits;
  std::vector<int> odd;                ///< entries that were left aside because they fit nothing
};

struct BeliefRule {
  /// An entry fits nothing where no fault gives it this likelihood; entries disagree where the best
  /// joint likelihood is below this share of what each could have at best.
  double least_likelihood = 1e-4;
};

/// Bayes over single faults, and over pairs where `second_fault` is above zero; symptoms by
/// noisy-OR. A test answered twice counts once, by its last answer, unless a repair came between.
[[nodiscard]] Belief believe(const Problem& problem, const std::vector<Evidence>& evidence,
                             const BeliefRule& rule = {});

/// P(outcome | the two faults), see Test.
[[nodiscard]] double pair_likelihood(const Problem& problem, const Test& test, int outcome, int a,
                                     int b);

/// Tests that can still be done: not answered since the last repair, not marked as impossible.
[[nodiscard]] std::vector<bool> tests_open(const Problem& problem,
                                           const std::vector<Evidence>& evidence);
[[nodiscard]] std::vector<bool> repairs_open(const Problem& problem,
                                             const std::vector<Evidence>& evidence);

}  // namespace kp::find
