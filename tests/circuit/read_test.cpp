#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "circuit/heater_circuit.hpp"
#include "circuit/read.hpp"

// Source: the project's own set S1, worked out by hand and checked with a circuit simulator
// (ngspice) where a row says so. Volts to 0.0005 V; what floats may differ by 0.001 V with the way
// it is tied down.

namespace kp::circuit {
namespace {

using test::HeaterCircuit;
using H = HeaterCircuit;

struct Expected {
  const char* id;
  std::vector<double> volts;  // L-N, L-D, D-A, A-B, B-C, C-N, A-N, B-N
  double supply_ampere;
};

void check_row(const Expected& row, const Setting& setting, const std::vector<Fault>& faults = {}) {
  CAPTURE(row.id);
  const HeaterCircuit unit;
  const Meter meter;
  const std::vector<std::pair<int, int>> points = {{H::kL, H::kN}, {H::kL, H::kD}, {H::kD, H::kA},
                                                   {H::kA, H::kB}, {H::kB, H::kC}, {H::kC, H::kN},
                                                   {H::kA, H::kN}, {H::kB, H::kN}};
  for (std::size_t i = 0; i < points.size(); ++i) {
    CAPTURE(i);
    const Probe probe = between(Mode::volts, points[i].first, points[i].second);
    const Reading reading = read(unit.netlist, meter, probe, setting, faults);
    CHECK(std::abs(reading.exact - row.volts[i]) < (faults.empty() && row.supply_ampere > 0 ? 0.0005 : 0.001));
  }
  const Reading current = read(unit.netlist, meter, clamp({H::kSupplyLead}), setting, faults);
  CHECK(std::abs(current.exact - row.supply_ampere) < 0.0005);
}

Fault open(int element) { return {element, FaultKind::open, {}, 0}; }

double ohms_at(int a, int b, const Setting& setting, const std::vector<Fault>& faults = {},
               const Meter& meter = {}) {
  return read(HeaterCircuit().netlist, meter, between(Mode::ohms, a, b), setting, faults).exact;
}

}  // namespace

TEST_CASE("X1: heating, motor off") {
  check_row({"X1", {117.1084, 0.1446, 0.2169, 0.3614, 115.6626, 0.7229, 116.7470, 116.3855}, 7.2289},
            H::with(true, false, false, true));
}

TEST_CASE("X2: heating with the motor") {
  const Setting setting = H::with(true, true, false, true);
  check_row({"X2", {115.9808, 0.2010, 0.2147, 0.3578, 114.4918, 0.7156, 115.5651, 115.2073}, 10.0481},
            setting);
  const Reading motor = read(HeaterCircuit().netlist, {}, between(Mode::volts, H::kM, H::kN), setting);
  CHECK(std::abs(motor.exact - 115.6930) < 0.0005);
}

TEST_CASE("X3: heater open") {
  check_row({"X3", {120, 0, 0, 0, 120, 0, 120, 120}, 0}, H::with(true, false, false, true),
            {open(H::kHeater)});
}

TEST_CASE("X4: cut-out open, by fault and by heat") {
  const Expected row{"X4", {120, 0, 0, 119.9998, 0, 0, 120, 0}, 0};
  check_row(row, H::with(true, false, false, true), {open(H::kCutOut)});
  Setting hot = H::with(true, false, false, true);
  hot.warm = {{H::kCutOut, 95, false}};
  check_row(row, hot);
}

TEST_CASE("X5: relay 1 open") {
  check_row({"X5", {120, 0, 119.9998, 0, 0, 0, 0, 0}, 0}, H::with(false, false, false, true));
}

TEST_CASE("X6: door switch open") {
  Setting setting = H::with(true, true, false, true);
  setting.held[0].closed = false;
  check_row({"X6", {120, 119.9999, 0, 0, 0, 0, 0, 0}, 0}, setting);
}

TEST_CASE("X8 to X15: ohms with the plug out") {
  const double tolerance = 0.00005;
  CHECK(std::abs(ohms_at(H::kB, H::kC, H::with(true, false, false, false)) - 16.0000) < tolerance);
  // Heater open, and yet no open loop: the way through motor and valve. One lead must come off.
  CHECK(std::abs(ohms_at(H::kB, H::kC, H::with(true, true, true, false), {open(H::kHeater)}) - 38.6693) <
        tolerance);
  CHECK(std::abs(ohms_at(H::kL, H::kN, H::with(true, true, true, false)) - 11.4113) < tolerance);
  CHECK(std::abs(ohms_at(H::kL, H::kN, H::with(true, false, false, false)) - 16.2000) < tolerance);
  const Reading none = read(HeaterCircuit().netlist, {}, between(Mode::ohms, H::kL, H::kN),
                            H::with(false, false, false, false));
  CHECK(none.state == State::over);
  CHECK(none.text == "OL");
  Meter leads;
  leads.leads_nulled = false;
  CHECK(std::abs(ohms_at(H::kB, H::kC, H::with(true, false, false, false), {}, leads) - 16.2000) <
        tolerance);
}

TEST_CASE("relays fall back with the plug out, cams stay") {
  HeaterCircuit unit;
  unit.netlist.chart.steps = {Step{"Heat", 600}};
  unit.netlist.chart.rows = {Row{"Output heat", {true}}};
  unit.netlist.elements[H::kK1].row = 0;
  Setting setting;
  setting.held = {{H::kDoor, true}};
  setting.step = 0;
  const Probe plug = between(Mode::ohms, H::kL, H::kN);
  CHECK(read(unit.netlist, {}, plug, setting).text == "OL");
  unit.netlist.elements[H::kK1].kind = Kind::cam_contact;
  CHECK(read(unit.netlist, {}, plug, setting).text == "16.2 Ω");
  setting.powered = true;
  unit.netlist.elements[H::kK1].kind = Kind::relay_contact;
  CHECK(read(unit.netlist, {}, between(Mode::volts, H::kB, H::kC), setting).text == "115.7 V");
  CHECK(read(unit.netlist, {}, plug, setting).state == State::live_circuit);
}

TEST_CASE("X16 to X18: ghost voltage in three meters") {
  // 120 V reach the open lead through 5 megohm.
  const Netlist ghost = test::net(3, {supply(1, 0, 120.0), resistor(1, 2, 5e6)});
  Setting on;
  on.powered = true;
  const Reading usual = read(ghost, {}, between(Mode::volts, 2, 0), on);
  CHECK(usual.text == "80.0 V");
  CHECK(usual.hangs_free == false);
  Meter other;
  other.volts_input_ohm = 400e3;
  CHECK(std::abs(read(ghost, other, between(Mode::volts, 2, 0), on).exact - 8.8889) < 0.00005);
  const Reading low = read(ghost, {}, between(Mode::volts_low_z, 2, 0), on);
  CHECK(std::abs(low.exact - 0.07196) < 0.000005);
  CHECK(low.text == "0.072 V");
}

TEST_CASE("X20, X21: leakage by a clamp round both conductors") {
  // Live and neutral feed a load of 100 ohm; from its live end a path leads to earth, which is tied
  // to neutral at the supply.
  struct Case {
    double leak_ohm;
    double milliampere;
    const char* text;
  };
  for (const Case& one : {Case{100e3, 2.3000, "2.30 mA"}, Case{5e3, 46.0, "46.00 mA"}}) {
    Netlist netlist = test::net(5, {supply(1, 0, 230.0), part(Kind::wire, 1, 2, exact(0)),
                                    resistor(2, 3, 100.0), part(Kind::wire, 0, 3, exact(0)),
                                    part(Kind::wire, 4, 0, exact(0))});
    netlist.earth = 4;
    Setting on;
    on.powered = true;
    const Fault fault{2, FaultKind::earth_leak, exact(one.leak_ohm), 0};
    const Reading reading = read(netlist, leakage_clamp(), clamp({1, 3}), on, {&fault, 1});
    // Out by the live wire, back by the neutral: what is missing has gone to earth.
    CHECK(reading.exact == doctest::Approx(one.milliampere * 1e-3));
    CHECK(reading.text == one.text);
  }
}

}  // namespace kp::circuit
