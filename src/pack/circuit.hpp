#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "pack/access.hpp"

namespace kp::pack {

// The machine's wiring and programme, the points where a probe goes, and the faults it can have.
// All int members that name a thing are indices into the lists of the Pack or of its Circuit.

/// A value as parts are made: the least, the typical and the most that a good one has. In a pack
/// one number, or three in this order.
struct Spread {
  double low = 0;
  double typical = 0;
  double high = 0;
  friend bool operator==(const Spread&, const Spread&) = default;
};

enum class ElementKind {
  resistor, heater, coil, capacitor, winding, fuse, thermostat, ntc, ptc,
  switch_contact, push_button, cam_contact, relay_contact, triac, connector, wire
};

/// What moves a switch from its rest.
enum class MovedBy { hand, door_shut, float_up };

struct TableRow {
  double celsius = 0;
  double ohm = 0;
};

/// One thing between two nodes. Which values count depends on the kind, see circuit/netlist.hpp.
struct Element {
  std::string id;
  std::string name;             ///< "Heater"
  ElementKind kind = ElementKind::resistor;
  int a = 0, b = 0;             ///< nodes
  int part = -1;                ///< the part that it is in, -1: the house's wiring
  std::string terminal;         ///< "A": it joins this terminal of its part, and can be parted there
  int joint = -1;               ///< parted when this joint is released
  Spread ohm;
  Spread millihenry;
  Spread microfarad;
  double per_kelvin = 0;        ///< share by which its ohms grow per kelvin above 20 °C
  bool closed_at_rest = false;
  MovedBy moved_by = MovedBy::hand;
  int row = -1;                 ///< of the programme, moves a cam contact, relay contact or triac
  double switch_celsius = 0;    ///< thermostat: leaves its rest at this
  double back_kelvin = 0;       ///< thermostat: comes back this far below
  Spread beta;                  ///< NTC, kelvin
  std::vector<TableRow> table;  ///< PTC
  double rated_amperes = 0;     ///< fuse: more does not last; 0: no limit known
};

/// Where the mains comes in. Volts and hertz stand in the pack's supply.
struct Mains {
  int line = 0, neutral = 0;    ///< nodes
  int earth = -1;               ///< node of the protective conductor at the machine, -1: none
  Spread volts;
  Spread ohm;                   ///< of the branch circuit up to the machine
};

/// A place where a probe goes. It is reached when the unit is in one of `positions` (empty: any)
/// and one alternative of `behind` is away, with these joints released.
struct TestPoint {
  std::string id;
  std::string title;            ///< "Heater leg A"
  int node = 0;
  int part = 0;                 ///< what the probe touches
  std::optional<std::pair<double, double>> at;  ///< ... and where, x and y on its drawing
  std::vector<int> positions;
  Access behind;
  std::vector<int> needs_released;
  std::vector<Contact> contacts;
  bool house_side = false;      ///< stays live when the machine is isolated: the feed of a switch
};

struct ProgrammeStep {
  std::string id;
  std::string title;            ///< "Heat hold"
  int seconds = 0;
};

struct ProgrammeRow {
  std::string id;
  std::string title;            ///< "Cam 4, heater"
  std::vector<bool> on;         ///< one for each step: the contacts of this row are moved
};

/// The chart: cam steps × contacts, or phases × controller outputs.
struct Programme {
  std::vector<ProgrammeStep> steps;
  std::vector<ProgrammeRow> rows;
};

struct Circuit {
  std::vector<std::string> nodes;   ///< ids
  Mains mains;
  std::vector<Element> elements;
  std::vector<TestPoint> points;
  Programme programme;

  /// A pack may have none.
  [[nodiscard]] bool there() const { return !nodes.empty(); }
  /// Index of the thing of that id, or -1.
  [[nodiscard]] int node(std::string_view node_id) const;
  [[nodiscard]] int element(std::string_view element_id) const;
  [[nodiscard]] int point(std::string_view point_id) const;
  [[nodiscard]] int step(std::string_view step_id) const;
  /// The element that joins this terminal of a part, or -1.
  [[nodiscard]] int terminal(int part, std::string_view terminal) const;
};

/// What a fault does to its element; mechanical: nothing, it speaks through tables only.
enum class Effect {
  mechanical, open, shorted, high_joint, stuck_open, stuck_closed, drifted, earth_leak
};

struct Fault {
  std::string id;
  std::string title;            ///< "Heater open"
  int part = 0;                 ///< what is swapped, or mended
  double weight = 1;            ///< prior, relative, > 0
  Effect effect = Effect::mechanical;
  int element = -1;
  Spread amount;                ///< ohm (shorted, high joint, earth leak) or a factor (drifted)
  double at = 0;                ///< earth leak: 0 at the element's a, 1 at its b
  std::string mend;             ///< "Clear the hose." Empty: a new part is fitted
  int mend_seconds = 0;         ///< of mending in place of fitting a new one
};

/// How surely a fault gives a sign: of a complaint, or of a test that is not good.
struct Shows {
  int fault = 0;
  double chance = 0;            ///< (0, 1]
};

}  // namespace kp::pack
