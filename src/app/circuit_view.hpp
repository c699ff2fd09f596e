#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/action.hpp"

namespace kp::app {

/// What stands in a strip circuit; drawn as IEC 60617 has it.
enum class CircuitKind {
  contact, push_button, cam, relay, thermostat, fuse, resistor, heater, coil, capacitor, motor,
  sensor, triac, connector
};

/// One symbol in a cell of its own. `along` counts cells from the line to the neutral, `lane` is 0
/// on the strip itself and more for each way round it. Both are the cell's middle.
struct CircuitSymbol {
  CircuitKind kind = CircuitKind::contact;
  std::string name;                ///< short, under the symbol: "Cam 4"
  std::string state;               ///< for a reader: "closed by cam 4 in Heat"
  double along = 0;
  int lane = 0;
  bool closed = true;              ///< as it is now
  bool rest_closed = false;        ///< a break contact
  bool load = false;               ///< what the strip feeds
  bool suspect = false;
};

struct CircuitWire {
  double from_along = 0, to_along = 0;
  int from_lane = 0, to_lane = 0;
};

/// A place where a probe can go.
struct CircuitPoint {
  std::string name;                ///< "Heater, line end"
  std::string letter;              ///< "A" or "B" where the test wants the probes; else empty
  double along = 0;
  int lane = 0;
  std::optional<Action> tap;
};

/// The one live path that feeds a load, and the ways round it.
struct CircuitView {
  std::string caption;             ///< "Heat, step 9: the one live path"
  std::string spoken;              ///< the same with each contact and its state
  std::string meter;               ///< in the badge between the probes: "Ω"
  double cells = 0;
  int lanes = 1;
  std::vector<CircuitSymbol> symbols;
  std::vector<CircuitWire> wires;
  std::vector<CircuitPoint> points;
  std::vector<std::string> notes;  ///< "Current also flows through Relay 2, Motor. Pull Return."
};

/// The programme chart: which contacts are moved in which step.
struct ChartView {
  struct Line {
    std::string name;              ///< "Cam 4, heater"
    std::vector<bool> on;          ///< one for each step
    bool on_strip = false;         ///< moves a contact of the strip that is shown
  };
  std::vector<std::string> steps;  ///< their titles
  std::vector<Line> lines;
  int present = -1;                ///< the step that is looked at
};

}  // namespace kp::app
