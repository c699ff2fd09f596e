#pragma once

#include <string>
#include <vector>

#include "pack/access.hpp"

namespace kp::pack {

// What the house gives the machine: electricity and water. All int members that name a thing are
// indices into the lists of the Pack or of its Circuit.

enum class Connection { cord, fixed };
/// One line conductor and neutral, or two lines (120/240 V split phase).
enum class System { single, split };

/// Where it is proved that fixed wiring is dead.
struct SupplyProof {
  std::vector<int> points;  ///< test points: the line(s), neutral, earth last
  std::string place;        ///< "Junction box behind the toe panel"
};

struct Supply {
  double volts = 120;
  double hertz = 60;
  double breaker_amperes = 20;
  Connection connection = Connection::fixed;
  System system = System::single;
  /// What a house supplies from line to neutral. Both 0: it follows from `volts` (job::house_band).
  double volts_low = 0, volts_high = 0;
  std::string isolation;    ///< the usual means, in words
  /// Empty of a machine with a cord: there it is the pins of the pulled plug.
  SupplyProof proof;
};

struct Water {
  std::string valve;                  ///< where the supply is shut
  std::string relieve;                ///< how pressure and sump are relieved
  std::vector<int> relieve_joints;    ///< what is loosened to relieve; none: no joint is
  std::vector<int> relieve_positions; ///< where the unit can stand for it; empty: anywhere
  Access relieve_behind;              ///< a cover that must be away for it
  int watch_seconds = 120;            ///< how long the relieved joint is watched
  double fill_litres = 0;
  double fill_seconds = 0;
  double wash_celsius_low = 0, wash_celsius_high = 0;
};

}  // namespace kp::pack
