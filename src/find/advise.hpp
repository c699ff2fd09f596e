#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "find/belief.hpp"

namespace kp::find {

enum class Move { test, repair, give_up, nothing };

struct Share {
  int fault = 0;
  double p = 0;                 ///< P(the fault is present)
};

/// What an outcome of the advised step would leave.
struct Leaves {
  int outcome = 0;              ///< of the test; of a repair: 0 mended, 1 not
  std::string name;
  double p = 0;
  std::vector<Share> faults;    ///< most likely first, down to 1 %, at most five
  Move then = Move::nothing;    ///< what would come next
  int then_index = 0;
};

/// Why not something else: what the whole job would cost on average if it began so.
struct Alternative {
  enum class Why { likeliest_repair, best_ratio, plain_order, cheapest_test, most_bits };
  Why why = Why::plain_order;
  Move move = Move::repair;
  int index = 0;
  double expected_seconds = 0;
};

struct Advice {
  Move move = Move::nothing;
  int index = 0;
  double own_seconds = 0;       ///< of this step: its work and its part
  double move_seconds = 0;      ///< to bring the unit to where the step is done
  double expected_seconds = 0;  ///< from now to the confirmed repair, by the policy that was found
  double lower_bound_seconds = 0;
  bool proved = false;          ///< no policy has a lower expected cost
  double sure = 0;              ///< above 0: advised since it mends with this chance, see confidence
  double gap = 0;               ///< (expected - lower bound) / expected
  double test_seconds = 0;      ///< parts of expected_seconds
  double change_seconds = 0;
  double repair_seconds = 0;
  double part_seconds = 0;
  double gain_bits = 0;         ///< what a test tells of the fault
  double entropy_bits = 0;      ///< of the fault, now
  std::vector<Leaves> leaves;
  std::vector<Alternative> alternatives;
  double left_out = 0;          ///< mass of unlikely pairs that the search did not look at
  std::uint64_t opened = 0;     ///< work done
  Belief belief;
};

struct AdviseOptions {
  std::uint64_t openings = 300;   ///< choices looked into; more: closer to the optimum
  double pair_floor = 0.01;       ///< pairs of faults less likely than this are not searched
  BeliefRule rule;
};

/// The next step of least expected cost to a confirmed repair. The problem must pass check().
/// The same input gives the same advice on every target.
[[nodiscard]] Advice advise(const Problem& problem, const std::vector<Evidence>& evidence,
                            const AdviseOptions& options = {});

/// The reasons in sentences of at most 20 words, short names taken for granted.
[[nodiscard]] std::vector<std::string> explain(const Problem& problem,
                                               const std::vector<Evidence>& evidence,
                                               const Advice& advice);

}  // namespace kp::find
