#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "circuit/contact.hpp"
#include "circuit/heater_circuit.hpp"

namespace kp::circuit {
namespace {

using test::HeaterCircuit;
using H = HeaterCircuit;

std::vector<std::string> texts(const Netlist& netlist) {
  std::vector<std::string> all;
  const Findings found = check(netlist);
  for (const Finding& finding : found.all()) all.push_back(finding.code + " " + finding.pointer);
  return all;
}

}  // namespace

TEST_CASE("check: a sound netlist gives no findings") {
  CHECK(texts(HeaterCircuit().netlist).empty());
}

TEST_CASE("check: every fault is listed in one run, with its place") {
  Netlist netlist = HeaterCircuit().netlist;
  netlist.hertz = 0;
  netlist.neutral = 99;
  netlist.chart.steps.resize(2);
  netlist.chart.rows = {Row{"Cam 1", {true}}};
  netlist.elements[H::kDoor].a = -2;
  netlist.elements[H::kK1].row = 5;
  netlist.elements[H::kHeater].ohm = {20, 16, 22};
  netlist.elements[H::kMotor].ohm = {};
  netlist.elements[H::kValve].ohm.high = std::numeric_limits<double>::infinity();
  netlist.elements[H::kReturn].b = H::kC;
  CHECK(texts(netlist) == std::vector<std::string>{
                              "bad-hertz /hertz", "unknown-index /neutral", "bad-chart /chart/rows/0",
                              "unknown-index /elements/2/a", "unknown-index /elements/3/row",
                              "bad-value /elements/5/ohm", "self-loop /elements/6",
                              "no-value /elements/8/ohm", "bad-value /elements/10/ohm",
                              "node-floats /nodes/2"});
}

TEST_CASE("check: whole messages") {
  Netlist netlist = HeaterCircuit().netlist;
  netlist.elements[H::kHeater].ohm = {20, 16, 22};
  CHECK(check(netlist).all().front().text() ==
        "/elements/5/ohm: least 20, typical 16, most 22 are not in order from zero up. "
        "Write the least first and none below zero");
  netlist = HeaterCircuit().netlist;
  netlist.elements[H::kHeater].kind = Kind::ptc;
  CHECK(check(netlist).all().front().text() ==
        "/elements/5/table: Heater has fewer than two rows. Write its table");
}

TEST_CASE("thermostat: opens at 90 °C, closes again below 75 °C") {
  const HeaterCircuit unit;
  const auto at = [&](double celsius, bool cooling) {
    Setting setting;
    setting.warm = {{H::kCutOut, celsius, cooling}};
    const ContactState state = contact_state(unit.netlist, setting, {}, H::kCutOut);
    return why(unit.netlist, setting, H::kCutOut, state);
  };
  CHECK(at(20, false) == "closed below 90 °C");
  CHECK(at(89.9, false) == "closed below 90 °C");
  CHECK(at(90, false) == "open above 90 °C");
  CHECK(at(80, true) == "open above 75 °C");
  CHECK(at(80, false) == "closed below 90 °C");
  CHECK(at(75, true) == "closed below 90 °C");
}

TEST_CASE("contacts: what moves them, in order of rank") {
  HeaterCircuit unit;
  Netlist& netlist = unit.netlist;
  netlist.chart.steps = {Step{"Wash", 600}, Step{"Heat", 900}};
  netlist.chart.rows = {Row{"Cam 4", {false, true}}};
  netlist.elements[H::kK1].kind = Kind::cam_contact;
  netlist.elements[H::kK1].row = 0;
  Setting setting;
  setting.step = 1;
  std::vector<Fault> faults;
  const auto says = [&] {
    return why(netlist, setting, H::kK1, contact_state(netlist, setting, faults, H::kK1));
  };
  CHECK(says() == "closed by Cam 4 in step Heat");
  setting.step = 0;
  CHECK(says() == "open by Cam 4 in step Wash");
  netlist.elements[H::kK1].rest_closed = true;
  CHECK(says() == "closed by Cam 4 in step Wash");
  setting.step = -1;
  CHECK(says() == "closed at rest");
  netlist.elements[H::kK1].kind = Kind::relay_contact;
  setting.step = 1;
  CHECK(says() == "closed, without power");
  setting.powered = true;
  CHECK(says() == "open by Cam 4 in step Heat");
  setting.held = {{H::kK1, true}};
  CHECK(says() == "closed by hand");
  faults = {{H::kK1, FaultKind::stuck_open, {}, 0}};
  CHECK(says() == "open by a fault");
  setting.pulled = {H::kK1};
  CHECK(says() == "open, the lead is off");
}

// NTC: R = R25 exp(B (1/T - 1/298.15)), IEC 60539-1; 10 kilohm and 3950 K are a usual sensor, the
// values at 0 and 60 °C follow from the formula by hand: exp(3950 x 3.0695e-4), exp(-3950 x 3.5243e-4).
TEST_CASE("NTC by its beta, PTC by its table, copper by its coefficient") {
  Element ntc = part(Kind::ntc, 0, 1, exact(10e3));
  ntc.beta = exact(3950);
  CHECK(ohm_at(ntc, 25).typical == doctest::Approx(10e3));
  CHECK(ohm_at(ntc, 0).typical == doctest::Approx(33620).epsilon(2e-3));
  CHECK(ohm_at(ntc, 60).typical == doctest::Approx(2486).epsilon(2e-3));
  ntc.ohm = within(10e3, 0.05);
  ntc.beta = within(3950, 0.01);
  for (const double celsius : {0.0, 60.0}) {
    const Spread band = ohm_at(ntc, celsius);
    CHECK(band.low < band.typical * 0.95 + 1e-9);
    CHECK(band.high > band.typical * 1.05 - 1e-9);
  }
  Element ptc = part(Kind::ptc, 0, 1, exact(1));
  ptc.table = {{20, 100}, {80, 100}, {120, 10e3}};
  CHECK(ohm_at(ptc, 0).typical == doctest::Approx(100));
  CHECK(ohm_at(ptc, 50).typical == doctest::Approx(100));
  CHECK(ohm_at(ptc, 100).typical == doctest::Approx(1000));
  CHECK(ohm_at(ptc, 500).typical == doctest::Approx(10e3));
  // Copper gains 39.3 % from 20 to 120 °C (IEC 60028: 0.00393 per kelvin).
  Element winding = part(Kind::winding, 0, 1, exact(5));
  winding.per_kelvin = 0.00393;
  CHECK(ohm_at(winding, 120).typical == doctest::Approx(5 * 1.393));
}

TEST_CASE("kinds have a word each") {
  CHECK(kind_words().size() == to_size(static_cast<int>(Kind::supply)) + 1);
  CHECK(kind_words()[to_size(static_cast<int>(Kind::cam_contact))] == "cam-contact");
  CHECK(kind_words()[to_size(static_cast<int>(Kind::supply))] == "supply");
}

}  // namespace kp::circuit
