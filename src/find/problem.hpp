#pragma once
// find: which fault it is and what to do next, over a plain problem of its own. It knows nothing of
// packs, circuits, planners or screens: faults with weights, tests with what each answer says,
// repairs, and what it costs to bring the unit from one standing to another.
//
// All costs are in seconds; money is turned into seconds by whoever states the problem. Numbers that
// name a thing are indices into the lists of the problem.

#include <string>
#include <vector>

#include "base/findings.hpp"

namespace kp::find {

inline constexpr int kMaxTests = 256;
inline constexpr int kMaxRepairs = 256;

struct Fault {
  std::string name;
  double weight = 1;              ///< relative prior, >= 0
};

/// Something that was noticed and that several faults cause, each on its own (noisy-OR, Pearl 1988):
/// P(noticed | faults) = 1 - (1 - leak) * product of (1 - causes[fault]).
struct Symptom {
  std::string name;
  double leak = 0;                ///< P(noticed) although no fault here causes it
  std::vector<double> causes;     ///< a fault each
};

struct Outcome {
  std::string name;
  std::vector<double> likelihood; ///< P(this outcome | fault), a fault each
  double good = 0;                ///< P(this outcome | good unit)
};

/// What a test says of a unit with two faults, where that is known.
struct PairAnswer {
  int a = 0;
  int b = 0;
  std::vector<double> likelihood; ///< an outcome each
};

/// A test without outcomes cannot be done at all. The first outcome is that of a good unit. Where
/// `pairs` is silent on two faults: if one of them leaves the test as a good unit does, the other one
/// speaks; otherwise the first outcome needs both to miss (noisy-OR), and the rest is shared as the
/// two faults share it alone.
struct Test {
  std::string name;
  double seconds = 0;
  int standing = 0;               ///< how the unit must stand: opened and dead, closed and running …
  std::vector<Outcome> outcomes;  ///< exclude each other; their likelihoods sum to 1 for each fault
  std::vector<PairAnswer> pairs;
};

/// A repair is tried and confirmed: its seconds hold the confirmation.
struct Repair {
  std::string name;
  double seconds = 0;
  double price_seconds = 0;       ///< the part, in seconds' worth
  int standing = 0;               ///< how the unit must stand
  int leaves = -1;                ///< how it stands when confirmed, -1: as before
  std::vector<int> clears;        ///< faults
  double mends = 1;               ///< P(the repair takes), in (0, 1]
};

/// repaired: until a repair is confirmed, the last one paid too. identified: until the tests leave
/// one fault (or faults that no test tells apart); repairs are not looked at.
enum class Goal { repaired, identified };

struct Problem {
  std::vector<Fault> faults;
  std::vector<Symptom> symptoms;
  std::vector<Test> tests;
  std::vector<Repair> repairs;
  /// moves[from][to] in seconds, as given; a detour that is cheaper is taken. Empty: one standing.
  std::vector<std::vector<double>> moves;
  int standing = 0;               ///< now
  double second_fault = 0;        ///< P(a faulty unit has another fault too, independent of the first)
  /// Handing the unit over, open to choice at any time. Below 0: not offered, and what no repair
  /// here mends costs nothing more.
  double give_up_seconds = -1;
  /// A repair that mends with this chance is advised without one more test, whatever that costs.
  /// Above 1: cost alone decides.
  double confidence = 2;
  Goal goal = Goal::repaired;
};

/// Every fault of a problem in one run. Codes: no-faults, bad-weight, unknown-index, bad-cost,
/// bad-likelihood, bad-sum, bad-moves, too-many.
[[nodiscard]] Findings check(const Problem& problem);

/// A test whose outcome depends on the fault alone: outcome_of[fault] is its index.
[[nodiscard]] Test certain_test(std::string name, double seconds, const std::vector<int>& outcome_of,
                                std::vector<std::string> outcomes);

}  // namespace kp::find
