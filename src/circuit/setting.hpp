#pragma once

#include <vector>

#include "circuit/spread.hpp"

namespace kp::circuit {

/// A contact in a position that is known: a door that is shut, a button that is pressed, a relay
/// that is held in by hand.
struct Held {
  int element = 0;
  bool closed = false;
};

/// A part at a temperature of its own. `cooling`: it was hotter before, which a thermostat
/// remembers.
struct Warm {
  int element = 0;
  double celsius = 20;
  bool cooling = false;
};

/// How the unit stands while it is measured.
struct Setting {
  bool powered = false;        ///< the supply is on; without it relays and triacs are at rest
  int step = -1;               ///< of the chart, -1: off, no row is moved
  double celsius = 20;         ///< of all that `warm` does not list
  std::vector<Held> held = {};
  std::vector<Warm> warm = {};
  std::vector<int> pulled = {};  ///< elements with a lead off: nothing flows through them
};

enum class FaultKind {
  open,          ///< nothing flows through it
  shorted,       ///< `amount` ohm instead of what it is
  high_joint,    ///< `amount` ohm more, in series
  stuck_open,    ///< a contact that never closes
  stuck_closed,  ///< a contact that never opens, at its closed ohms
  drifted,       ///< its ohm, henry and farad are `amount` times what they were made for
  earth_leak     ///< `amount` ohm from it to earth, at the share `at` of the way from a to b
};

struct Fault {
  int element = 0;
  FaultKind kind = FaultKind::open;
  Spread amount;               ///< ohm, or a factor, by kind
  double at = 0;               ///< 0: at a, 1: at b, between only where it has ohms
};

}  // namespace kp::circuit
