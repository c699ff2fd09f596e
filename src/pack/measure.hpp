#pragma once

#include <string>
#include <vector>

#include "pack/access.hpp"

namespace kp::pack {

// What leads to the faulty part, and what proves the repair. All int members that name a thing are
// indices into the lists of the Pack.

struct Suspect {
  int part = 0;
  double weight = 0;                  ///< relative, > 0
  std::string fault;                  ///< "Heater open"
};

struct Symptom {
  std::string id;
  std::string title;                  ///< the customer's words: "Dishes wet and cold"
  std::vector<Suspect> suspects;
};

enum class Probe { look, ohm, volt_live, other };

/// A test in the Find stage. `low` and `high` bound what a good unit reads; equal: look only.
/// It can be made when the unit is in one of `positions` (empty: any), one alternative of `behind`
/// is away and all joints of `needs_released` are released.
struct Test {
  std::string id;
  std::string title;                  ///< "Heater, A to B, in ohms"
  std::string how;
  int part = 0;
  Probe probe = Probe::look;
  std::string unit;
  double low = 0, high = 0;
  double field_low = 0, field_high = 0;  ///< what the field accepts at all
  int seconds = 0;
  std::vector<int> positions;
  Access behind;
  std::vector<int> needs_released;
  std::string caution;
  std::string source;                 ///< where the band comes from
};

enum class ProveWhen { before_power, running, after };

/// A test after the repair. With a unit it takes a reading between low and high (at_most /
/// at_least: one bound only); without, it is looked at and confirmed.
struct ProveTest {
  std::string id;
  std::string title;
  std::string how;
  std::string source;                 ///< where the limit comes from
  ProveWhen when = ProveWhen::before_power;
  std::string unit;                   ///< empty: a look
  bool has_low = false, has_high = false;
  double low = 0, high = 0;
  double field_low = 0, field_high = 0;
  std::string caution;
};

}  // namespace kp::pack
