#pragma once

#include <string>
#include <vector>

#include "safety/gate.hpp"

namespace kp::safety {

/// How the switch contact and the valve are drawn. open: the line is broken (power off, water
/// shut). crossed: off and proved, with the time.
enum class Symbol { closed, open, crossed };
/// Meanings, not paints: danger red, not proved yellow, safe green (ISO 3864).
enum class Meaning { danger, not_proved, safe };

struct StripSide {
  Symbol symbol = Symbol::closed;
  Meaning meaning = Meaning::danger;
  std::string word;                    ///< "LIVE", "NOT PROVED", "DEAD", "OPEN", "SHUT"
  std::string line;                    ///< "Power, proved 10:42"
  std::vector<std::string> evidence;   ///< shown when the strip is touched
  /// Of the series that runs or ran last. Whoever has the whole record tells every series.
  std::vector<std::string> readings = {};
};

struct Strip {
  StripSide power;
  StripSide water;
};

/// Green only while the gate itself would believe the proof at that time.
[[nodiscard]] Strip summarise(const State& state, Now now, const Policy& policy);

/// What is shown where nothing can be known: taken as live and open, with the reason as evidence.
[[nodiscard]] Strip unknown(const std::string& reason);

}  // namespace kp::safety
