#pragma once
// The heater circuit that many checks stand on: 120 V between E and N behind 0.40 ohm, door switch,
// three relays, cut-out, heater, motor (as a resistor) and valve coil.

#include <utility>
#include <vector>

#include "circuit/nets.hpp"

namespace kp::test {

struct HeaterCircuit {
  enum Node { kN, kE, kL, kD, kA, kB, kC, kM, kW };
  enum Item { kSupply, kSupplyLead, kDoor, kK1, kCutOut, kHeater, kReturn, kK2, kMotor, kK3, kValve };

  circuit::Netlist netlist = [] {
    using namespace circuit;
    Netlist n = net(9, {supply(kE, kN, 120.0),
                        part(Kind::wire, kE, kL, exact(0.40)),
                        part(Kind::switch_contact, kL, kD, exact(0.02)),
                        part(Kind::relay_contact, kD, kA, exact(0.03)),
                        part(Kind::thermostat, kA, kB, exact(0.05)),
                        part(Kind::heater, kB, kC, exact(16)),
                        part(Kind::wire, kC, kN, exact(0.10)),
                        part(Kind::relay_contact, kD, kM, exact(0.03)),
                        part(Kind::resistor, kM, kN, exact(40)),
                        part(Kind::relay_contact, kD, kW, exact(0.03)),
                        part(Kind::resistor, kW, kN, exact(1000))});
    const std::vector<const char*> names = {"Supply", "Supply lead", "Door switch", "Relay 1",
                                            "Cut-out", "Heater", "Return", "Relay 2", "Motor",
                                            "Relay 3", "Valve"};
    for (std::size_t i = 0; i < names.size(); ++i) n.elements[i].name = names[i];
    const std::vector<const char*> nodes = {"N", "E", "L", "D", "A", "B", "C", "M", "W"};
    for (std::size_t i = 0; i < nodes.size(); ++i) n.nodes[i].name = nodes[i];
    n.elements[kCutOut].rest_closed = true;
    n.elements[kCutOut].switch_celsius = 90;
    n.elements[kCutOut].back_kelvin = 15;
    return n;
  }();

  /// Door shut, these relays held closed, the others open.
  [[nodiscard]] static circuit::Setting with(bool k1, bool k2, bool k3, bool powered) {
    circuit::Setting setting;
    setting.powered = powered;
    setting.held = {{kDoor, true}, {kK1, k1}, {kK2, k2}, {kK3, k3}};
    return setting;
  }
};

}  // namespace kp::test
