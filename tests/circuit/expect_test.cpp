#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "circuit/expect.hpp"
#include "circuit/heater_circuit.hpp"
#include "circuit/random_net.hpp"
#include "circuit/sampled.hpp"

// Bands are held against units drawn at random and against all corners of the tolerances, worked
// out one by one. Tolerances: heater power +5 % or -10 % after IEC 60335-1, table 1; capacitor and
// sensor as data sheets have them; contacts, coils and wires common practice, no source.

namespace kp::circuit {
namespace {

using test::HeaterCircuit;
using test::Random;
using H = HeaterCircuit;

/// The heater circuit with tolerances and an earth.
Netlist heater_unit() {
  Netlist netlist = HeaterCircuit().netlist;
  const auto ohm = [&](int element, Spread spread) { netlist.elements[to_size(element)].ohm = spread; };
  netlist.elements[H::kSupply].volt = {114, 120, 126};
  ohm(H::kSupplyLead, {0.1, 0.4, 0.8});
  for (const int contact : {H::kDoor, H::kK1, H::kK2, H::kK3, H::kCutOut}) ohm(contact, {0, 0.03, 0.2});
  ohm(H::kHeater, {15.2, 16, 17.8});
  ohm(H::kReturn, {0, 0.1, 0.2});
  ohm(H::kMotor, within(40, 0.15));
  ohm(H::kValve, within(1000, 0.1));
  netlist.nodes.push_back({"PE"});
  netlist.elements.push_back(part(Kind::wire, 9, H::kN, exact(0.5)));
  netlist.earth = 9;
  return netlist;
}

/// A motor with a main and a start winding, its capacitor, and a drain valve beside it.
/// Nodes: 0 neutral, 1 line, 2 behind the contact, 3 between capacitor and start winding.
Netlist motor_unit() {
  Netlist netlist = test::net(4, {supply(1, 0, {114, 120, 126}, {0.2, 0.4, 0.6}),
                                  part(Kind::cam_contact, 1, 2, {0, 0.03, 0.2}),
                                  coil(2, 0, within(6, 0.1), within(0.12, 0.1)),
                                  capacitor(2, 3, within(45e-6, 0.1)),
                                  coil(3, 0, within(14, 0.1), within(0.09, 0.1)),
                                  coil(2, 0, within(850, 0.1), within(4, 0.15))});
  netlist.elements[1].rest_closed = true;
  for (const int winding : {2, 4}) netlist.elements[to_size(winding)].kind = Kind::winding;
  return netlist;
}

struct Trial {
  Netlist netlist;
  Setting setting;
  std::vector<Fault> faults;
  std::vector<Probe> probes;
};

/// No sampled unit reads outside of its bands, on the display or before.
void check_contains(const Trial& trial, int units, std::uint64_t seed) {
  const Meter meter;
  std::vector<Band> bands;
  for (const Probe& probe : trial.probes) {
    bands.push_back(expect(trial.netlist, meter, probe, trial.setting, trial.faults));
    CHECK(bands.back().bounded);
    CHECK(bands.back().low <= bands.back().typical);
    CHECK(bands.back().typical <= bands.back().high);
  }
  Random random(seed);
  CAPTURE(random.seed());
  int outside = 0;
  for (int unit = 0; unit < units; ++unit) {
    const Netlist one = test::sampled(random, trial.netlist);
    const std::vector<Fault> faults = test::sampled(random, trial.faults);
    for (std::size_t i = 0; i < trial.probes.size(); ++i) {
      const Reading reading = read(one, meter, trial.probes[i], trial.setting, faults);
      const double shown = reading.state == State::over ? std::numeric_limits<double>::infinity() : reading.value;
      const bool inside = bands[i].low <= reading.exact && reading.exact <= bands[i].high && bands[i].holds(shown);
      if (!inside) ++outside;
    }
  }
  CHECK(outside == 0);
}

std::vector<Probe> heater_volts() {
  return {between(Mode::volts, H::kL, H::kN), between(Mode::volts, H::kL, H::kD),
          between(Mode::volts, H::kB, H::kC), between(Mode::volts, H::kA, H::kN),
          between(Mode::volts_low_z, H::kM, H::kN), clamp({H::kSupplyLead})};
}

std::vector<Probe> heater_ohms() {
  return {between(Mode::ohms, H::kB, H::kC), between(Mode::ohms, H::kL, H::kN),
          between(Mode::ohms, H::kL, 9)};
}

}  // namespace

TEST_CASE("10,000 good heater units read within their bands, live and dead") {
  check_contains({heater_unit(), H::with(true, true, false, true), {}, heater_volts()}, 10'000, 1);
  check_contains({heater_unit(), H::with(true, true, true, false), {}, heater_ohms()}, 10'000, 2);
}

TEST_CASE("10,000 good motor units read within their bands") {
  Setting on;
  on.powered = true;
  check_contains({motor_unit(), on, {}, {between(Mode::volts, 2, 0), between(Mode::volts, 2, 3),
                                         between(Mode::volts, 3, 0), clamp({1}), clamp({2}), clamp({4})}},
                 10'000, 3);
  check_contains({motor_unit(), {}, {}, {between(Mode::ohms, 2, 0), between(Mode::ohms, 3, 0)}}, 10'000, 4);
}

TEST_CASE("units with each single fault read within the bands of that fault") {
  const Netlist heater = heater_unit();
  std::uint64_t seed = 100;
  for (int element = 0; element < to_int(heater.elements.size()); ++element) {
    for (const Fault& fault : single_faults(heater, element)) {
      CAPTURE(element);
      CAPTURE(static_cast<int>(fault.kind));
      check_contains({heater, H::with(true, true, false, true), {fault}, heater_volts()}, 60, ++seed);
      check_contains({heater, H::with(true, true, true, false), {fault}, heater_ohms()}, 60, ++seed);
    }
  }
  const Netlist motor = motor_unit();
  Setting on;
  on.powered = true;
  for (int element = 0; element < to_int(motor.elements.size()); ++element) {
    for (const Fault& fault : single_faults(motor, element)) {
      CAPTURE(element);
      CAPTURE(static_cast<int>(fault.kind));
      check_contains({motor, on, {fault}, {between(Mode::volts, 2, 3), clamp({1})}}, 60, ++seed);
    }
  }
}

TEST_CASE("a band of resistances is exactly that of its corners") {
  // Bridge on 120 V: the sign of its middle voltage depends on the tolerances, so no corner is
  // known beforehand.
  Trial trial;
  trial.netlist = test::net(4, {supply(3, 0, {114, 120, 126}), resistor(3, 1, within(100, 0.1)),
                                resistor(1, 0, within(200, 0.1)), resistor(3, 2, within(180, 0.1)),
                                resistor(2, 0, within(300, 0.1)), resistor(1, 2, within(500, 0.2))});
  trial.setting.powered = true;
  for (const Probe& probe : {between(Mode::volts, 1, 0), between(Mode::volts, 1, 2),
                             between(Mode::volts, 3, 1), clamp({1}), clamp({5})}) {
    const Band band = expect(trial.netlist, {}, probe, trial.setting);
    double low = std::numeric_limits<double>::infinity();
    double high = 0;
    bool plus = false, minus = false;
    for (int corner = 0; corner < 64; ++corner) {
      Netlist one = trial.netlist;
      for (int k = 0; k < 6; ++k) {
        Element& element = one.elements[to_size(k)];
        Spread& spread = k == 0 ? element.volt : element.ohm;
        spread = exact((corner >> k & 1) != 0 ? spread.high : spread.low);
      }
      const Reading reading = read(one, {}, probe, trial.setting);
      low = std::min(low, reading.exact);
      high = std::max(high, reading.exact);
      const test::Live live(one);
      const double sign = probe.mode == Mode::volts ? live.volt(probe.a, probe.b).real()
                                                    : live.ampere(probe.clamped[0]).real();
      (sign > 0 ? plus : minus) = true;
    }
    if (plus && minus) low = 0;
    CHECK(band.low <= low);
    CHECK(band.high >= high);
    CHECK(band.low == doctest::Approx(low).epsilon(1e-6));
    CHECK(band.high == doctest::Approx(high).epsilon(1e-6));
  }
}

TEST_CASE("bands of a motor are not much wider than what its corners read") {
  const Netlist motor = motor_unit();
  Setting on;
  on.powered = true;
  const Meter meter;
  for (const Probe& probe : {between(Mode::volts, 2, 0), between(Mode::volts, 2, 3), between(Mode::volts, 3, 0),
                             clamp({1}), clamp({2}), clamp({4}), clamp({5})}) {
    const Band band = expect(motor, meter, probe, on);
    Random random(7);
    double low = band.typical, high = band.typical;
    for (int unit = 0; unit < 4000; ++unit) {
      Netlist one = motor;
      for (Element& element : one.elements) {
        for (Spread* spread : {&element.ohm, &element.henry, &element.farad, &element.volt}) {
          *spread = exact(random.chance(0.5) ? spread->low : spread->high);
        }
      }
      const double value = read(one, meter, probe, on).exact;
      low = std::min(low, value);
      high = std::max(high, value);
    }
    CHECK(band.high - band.low <= 1.25 * (high - low));
  }
}

TEST_CASE("known bands by hand") {
  const Netlist heater = heater_unit();
  const Band alone = expect(heater, {}, between(Mode::ohms, H::kB, H::kC), H::with(false, false, false, false));
  CHECK(alone.low == doctest::Approx(15.2));
  CHECK(alone.typical == doctest::Approx(16));
  CHECK(alone.high == doctest::Approx(17.8));
  // 0.9 % and three digits of 0.1 ohm, half a digit for rounding.
  CHECK(alone.shown_low == doctest::Approx(15.2 - 0.009 * 15.2 - 0.35).epsilon(0.002));
  CHECK(alone.shown_high == doctest::Approx(17.8 + 0.009 * 17.8 + 0.35).epsilon(0.002));
  const Fault open{H::kHeater, FaultKind::open, {}, 0};
  const Band none = expect(heater, {}, between(Mode::ohms, H::kB, H::kC),
                           H::with(false, false, false, false), {&open, 1});
  CHECK(std::isinf(none.low));
  CHECK(none.holds(std::numeric_limits<double>::infinity()));
  CHECK_FALSE(none.holds(16));
  CHECK(expect(heater, {}, between(Mode::ohms, H::kB, H::kC), H::with(true, true, true, true)).state ==
        State::live_circuit);
  // Straight from the supply: its own tolerance and nothing else.
  const Band supply_volts = expect(heater, {}, between(Mode::volts, H::kE, H::kN),
                                   H::with(false, false, false, true));
  CHECK(supply_volts.low == doctest::Approx(114));
  CHECK(supply_volts.high == doctest::Approx(126));
}

TEST_CASE("a resonance within the tolerances is said, not guessed") {
  Netlist netlist = test::net(3, {supply(1, 0, 10.0), coil(1, 2, exact(0), within(0.5, 0.3)),
                                  capacitor(2, 0, within(1.407e-5, 0.3))});
  Setting on;
  on.powered = true;
  const Band band = expect(netlist, {}, between(Mode::volts, 2, 0), on);
  CHECK_FALSE(band.bounded);
  CHECK(band.low == 0);
  CHECK(std::isinf(band.high));
}

}  // namespace kp::circuit
