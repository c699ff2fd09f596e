#pragma once

#include <optional>
#include <string>
#include <vector>

#include "circuit/netlist.hpp"
#include "find/problem.hpp"
#include "find/reading.hpp"
#include "job/state.hpp"

namespace kp::job {

/// What the plan does not know of the cost of finding. The seconds are common practice, no source.
struct FindCosts {
  int isolate_seconds = 240;      ///< from running to proved dead: switch off, lock, prove
  int restore_seconds = 60;       ///< from dead to running
  int confirm_seconds = 300;      ///< a run that shows the complaint gone
  int fit_seconds = 30;           ///< to take the new part from its box and compare it
  int give_up_seconds = 8 * 3600; ///< another visit with help
  std::int64_t hour_minor = 9000; ///< what an hour is worth, to weigh parts against time
};

/// How the unit stands: what is open, where it stands, whether it is under power.
struct Standing {
  plan::State unit;
  bool live = false;
  friend bool operator==(const Standing&, const Standing&) = default;
};

/// A pack and its circuit as find's problem, worked out once a pack: likelihoods of all tests,
/// repairs, standings and the way between them. Test t of the problem is test t of the pack; those
/// that cannot be made at all have no outcomes.
struct FindBook {
  find::Problem problem;          ///< from the closed unit, under power
  std::vector<find::Bins> bins;   ///< a test each; empty where it is looked at, or has a band of its own
  std::vector<int> swaps;         ///< repair -> part that is swapped, or -1
  std::vector<int> mends;         ///< repair -> fault that is mended in place, or -1
  std::vector<Standing> standings;
  std::vector<std::int64_t> position_ms;  ///< [from * positions + to], detours taken
  FindCosts costs;

  /// Repair that fits a new part of this index, or -1.
  [[nodiscard]] int swap_of(int part) const;
};

/// Costs of standings: from the closed unit and back to it what the planner finds; between two others,
/// the work on what is open in one and not in the other, with each tool taken once and the turns.
[[nodiscard]] FindBook make_find_book(const Model& model, const FindCosts& costs = {});

/// Seconds from one way of standing to another, as above but never from the planner.
[[nodiscard]] double change_seconds(const Model& model, const FindBook& book, const Standing& from,
                                    const Standing& to);

/// The plan that uncovers what a test needs, from the unit as it is: parts away, joints released, the
/// position. With an error where there is no way.
struct TestReach {
  plan::Plan plan;
  plan::State unit;               ///< after it
};
[[nodiscard]] TestReach reach_test(const Model& model, const plan::State& unit, int test);

}  // namespace kp::job
