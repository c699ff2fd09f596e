#pragma once
// circuit: a machine's wiring as a netlist, what a meter reads in it, and which way the current
// takes. It knows ohms, volts and contacts; it knows nothing of packs, jobs, screens or who is
// allowed to touch what.
//
//   netlist   what is wired to what, the programme chart            (plain input)
//   setting   how the unit stands while it is measured, faults      (plain input)
//   contact   which contact is closed then, and why
//   network   the linear branches that remain, with their tolerances
//   solve     node voltages and branch currents of one network
//   read      what a meter shows between two points
//   expect    the band in which a good unit reads, or one with a fault
//   strip     the one live path that feeds a load, ways round it, its ladder
//
// Volts and amperes are RMS of one sine at the supply frequency. All int members that name a thing
// are indices into the lists of the netlist.

#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "circuit/spread.hpp"

namespace kp::circuit {

inline constexpr int kMaxNodes = 512;

enum class Kind {
  resistor, heater, coil, capacitor, winding, fuse, thermostat, ntc, ptc,
  switch_contact, push_button, cam_contact, relay_contact, triac, connector, wire, supply
};

/// The words of the kinds in their order, as a pack writes them: "push-button", "cam-contact".
[[nodiscard]] const std::vector<std::string>& kind_words();

/// A place where leads meet; a point to which a probe can go.
struct Node {
  std::string name;
};

/// Resistance at a temperature, for a PTC.
struct TablePoint {
  double celsius = 0;
  double ohm = 0;
};

/// One thing between nodes `a` and `b`. Which members count depends on the kind:
///   resistor, heater, wire, connector, fuse: ohm. Zero ohm is an ideal joint.
///   coil, winding: ohm and henry in series.        capacitor: farad, ohm in series with it.
///   supply: volt and degrees (of a over b), ohm and henry in series.
///   thermostat, switch_contact, push_button, cam_contact, relay_contact, triac: ohm while closed.
///   ntc: ohm at 25 °C, beta.                       ptc: table, ohm.low/high as shares of it.
struct Element {
  Kind kind = Kind::resistor;
  std::string name;
  int a = 0;
  int b = 0;
  Spread ohm;                    ///< at 20 °C
  Spread henry;
  Spread farad;
  Spread volt;
  double degrees = 0;            ///< phase of a supply
  double per_kelvin = 0;         ///< share by which ohm grows per kelvin above 20 °C (copper 0.00393)
  bool rest_closed = false;      ///< a contact that nothing moves: closed
  int row = -1;                  ///< chart row that moves a cam contact, relay contact or triac
  double switch_celsius = 0;     ///< thermostat: leaves its rest position at this
  double back_kelvin = 0;        ///< thermostat: comes back this far below
  Spread beta;                   ///< NTC, kelvin
  std::vector<TablePoint> table; ///< PTC, by rising temperature, at least two rows
  double rated_ampere = 0;       ///< fuse, supply: more does not last; 0: no limit known
  bool pullable = false;         ///< can be parted by hand for a measurement
};

/// The programme: cam steps × contacts, or phases × controller outputs.
struct Step {
  std::string name;
  double seconds = 0;
};

struct Row {
  std::string name;              ///< "Cam 4", "Output heat"
  std::vector<bool> on;          ///< one for each step: the contacts of this row are moved
};

struct Chart {
  std::vector<Step> steps;
  std::vector<Row> rows;
};

struct Netlist {
  double hertz = 60;
  std::vector<Node> nodes;
  std::vector<Element> elements;
  Chart chart;
  int neutral = 0;               ///< node that voltages are given against
  int earth = -1;                ///< node of the protective conductor, -1: none

  /// Index of the thing of that name, or -1.
  [[nodiscard]] int node(std::string_view name) const;
  [[nodiscard]] int element(std::string_view name) const;
};

/// Whether the kind has an open and a closed position.
[[nodiscard]] bool is_contact(Kind kind);
/// Whether the kind uses power for its purpose: what a strip circuit is drawn for.
[[nodiscard]] bool is_load(Kind kind);

/// Every fault of a netlist in one run. `pointer` is "/elements/3/ohm" and the like. Everything
/// else in this room needs a netlist without faults. Codes: unknown-index, too-large, bad-value
/// (not finite, negative, low above high), no-value (a coil without ohm and henry, a table of one
/// row), bad-hertz, bad-chart (a row longer or shorter than the steps), self-loop (both ends on one
/// node); warnings: node-floats (nothing, or one element only, joins it), no-row (a cam contact that
/// no row moves).
[[nodiscard]] Findings check(const Netlist& netlist);

// For writing netlists down: elements with the values that count.

[[nodiscard]] Element resistor(int a, int b, Spread ohm);
[[nodiscard]] Element coil(int a, int b, Spread ohm, Spread henry);
[[nodiscard]] Element capacitor(int a, int b, Spread farad);
/// Any kind that only has ohms: contacts, fuses, heaters, wires, connectors.
[[nodiscard]] Element part(Kind kind, int a, int b, Spread ohm);
/// `volt` of a over b behind `ohm`.
[[nodiscard]] Element supply(int a, int b, Spread volt, Spread ohm = exact(0));

[[nodiscard]] inline Element resistor(int a, int b, double ohm) { return resistor(a, b, exact(ohm)); }
[[nodiscard]] inline Element supply(int a, int b, double volt, double ohm = 0) {
  return supply(a, b, exact(volt), exact(ohm));
}

}  // namespace kp::circuit
