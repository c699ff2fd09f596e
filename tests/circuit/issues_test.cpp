#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "circuit/heater_circuit.hpp"
#include "circuit/random_net.hpp"
#include "circuit/read.hpp"

// What has no number has a name. Expected by Kirchhoff's laws.

namespace kp::circuit {
namespace {

using test::Live;
using test::net;
using Kinds = std::vector<Issue::Kind>;

Kinds kinds(const Solution& solution) {
  Kinds all;
  for (const Issue& issue : solution.issues) all.push_back(issue.kind);
  return all;
}

Element bridge(int a, int b) { return part(Kind::wire, a, b, exact(0)); }

bool all_finite(const Solution& solution) {
  for (const Complex& value : solution.volt) {
    if (!std::isfinite(value.real()) || !std::isfinite(value.imag())) return false;
  }
  for (const Complex& value : solution.ampere) {
    if (!std::isfinite(value.real()) || !std::isfinite(value.imag())) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("an ideal source on an ideal loop is a short circuit with its ring named") {
  Netlist netlist = net(3, {supply(1, 0, 120.0), bridge(1, 2), bridge(2, 0), resistor(1, 0, 5.0)});
  netlist.elements[0].name = "Supply";
  netlist.elements[1].name = "Door switch";
  netlist.elements[2].name = "Wire 4";
  const Live live(netlist);
  CHECK_FALSE(live.solution.finite);
  CHECK(kinds(live.solution) == Kinds{Issue::Kind::short_circuit});
  CHECK(issue_text(live.solution.issues[0], live.network, netlist) ==
        "short circuit through Supply, Door switch, Wire 4");
  CHECK(all_finite(live.solution));
  Setting on;
  on.powered = true;
  const Reading reading = read(netlist, {}, between(Mode::volts, 1, 0), on);
  CHECK(reading.state == State::short_circuit);
}

TEST_CASE("two ideal sources that disagree are a short, that agree are a loop") {
  CHECK(kinds(Live(net(2, {supply(1, 0, 120.0), supply(1, 0, 110.0)})).solution) ==
        Kinds{Issue::Kind::short_circuit});
  const Live agree(net(2, {supply(1, 0, 120.0), supply(1, 0, 120.0), resistor(1, 0, 12.0)}));
  CHECK(kinds(agree.solution) == Kinds{Issue::Kind::ideal_loop});
  CHECK(agree.volt(1).real() == doctest::Approx(120));
  CHECK((agree.ampere(0) + agree.ampere(1)).real() == doctest::Approx(-10));
}

TEST_CASE("a ring of closed contacts without resistance still gives voltages") {
  const Live live(net(4, {supply(1, 0, 120, 1.0), bridge(1, 2), bridge(2, 3), bridge(3, 1),
                          resistor(3, 0, 11.0)}));
  CHECK(kinds(live.solution) == Kinds{Issue::Kind::ideal_loop});
  CHECK(live.solution.issues[0].branches.size() == 3);
  CHECK(live.volt(3).real() == doctest::Approx(110));
  CHECK(live.ampere(4).real() == doctest::Approx(10));
}

TEST_CASE("currents of joints without resistance follow from the first law") {
  // Two bridges in a row, a load at each end.
  const Live live(net(4, {supply(1, 0, 100.0), bridge(1, 2), bridge(3, 2), resistor(2, 0, 10.0),
                          resistor(3, 0, 20.0)}));
  CHECK(live.solution.issues.empty());
  CHECK(live.ampere(1).real() == doctest::Approx(15));
  CHECK(live.ampere(2).real() == doctest::Approx(-5));
  CHECK(live.ampere(0).real() == doctest::Approx(-15));
}

TEST_CASE("parts that float are listed; a voltage across the gap reads nothing") {
  const Netlist netlist = net(6, {supply(1, 0, 120.0), resistor(1, 0, 10.0), resistor(2, 3, 5.0),
                                  supply(4, 5, 24.0), resistor(4, 5, 6.0)});
  const Live live(netlist);
  CHECK(floating(live.solution) == std::vector<std::vector<int>>{{2, 3}, {4, 5}});
  CHECK(live.volt(4, 5).real() == doctest::Approx(24));
  CHECK_FALSE(live.solution.joined(1, 4));
  Setting on;
  on.powered = true;
  const Reading across = read(netlist, {}, between(Mode::volts, 1, 3), on);
  CHECK(across.value == 0);
  CHECK(across.hangs_free);
  CHECK(read(netlist, {}, between(Mode::ohms, 1, 3), {}).text == "OL");
}

TEST_CASE("more than a fuse is made for is said") {
  Netlist netlist = net(3, {supply(1, 0, 120, 0.4), part(Kind::fuse, 1, 2, exact(0.05)),
                            resistor(2, 0, 0.1)});
  netlist.elements[1].rated_ampere = 15;
  const Live live(netlist);
  CHECK(kinds(live.solution) == Kinds{Issue::Kind::over_current});
  CHECK(live.ampere(1).real() == doctest::Approx(120 / 0.55));
  Setting on;
  on.powered = true;
  CHECK(read(netlist, {}, clamp({1}), on).does_not_last);
}

TEST_CASE("a coil and a capacitor that cancel") {
  // At w = 1000/s: 1 H and 1 uF have +1000 and -1000 ohm. In series they are a short, beside each
  // other an open loop; with a resistor both have an answer.
  const double hertz = 1000 / 6.283185307179586476925286766559;
  const auto at = [&](std::vector<Element> elements, int nodes) {
    Netlist netlist = net(nodes, std::move(elements));
    netlist.hertz = hertz;
    return netlist;
  };
  const Element henry = coil(1, 2, exact(0), exact(1));
  const Live series(at({supply(1, 0, 10, 5.0), henry, capacitor(2, 0, exact(1e-6))}, 3));
  CHECK(series.solution.finite);
  CHECK(std::abs(series.ampere(1)) == doctest::Approx(2));
  CHECK(std::abs(series.volt(2)) == doctest::Approx(2000));
  const Live trap(at({supply(1, 0, 10, 5.0), henry, capacitor(1, 2, exact(1e-6)), resistor(2, 0, 7.0)}, 3));
  CHECK(trap.solution.finite);
  CHECK(std::abs(trap.volt(2)) < 1e-9);
  const Live alone(at({supply(1, 0, 10.0), henry, capacitor(2, 0, exact(1e-6))}, 3));
  CHECK_FALSE(alone.solution.finite);
  CHECK(kinds(alone.solution) == Kinds{Issue::Kind::resonance});
  CHECK(all_finite(alone.solution));
}

TEST_CASE("random wiring with ideal joints and open ends never gives anything but numbers") {
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    test::Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(2, 20);
    std::vector<Element> elements;
    for (int k = random.between(0, 30); k > 0; --k) {
      const int a = random.between(0, nodes - 1);
      const int b = random.between(0, nodes - 1);
      if (a == b) continue;
      switch (random.between(0, 4)) {
        case 0: elements.push_back(bridge(a, b)); break;
        case 1: elements.push_back(supply(a, b, 120, random.chance(0.5) ? 0 : 1)); break;
        case 2: elements.push_back(coil(a, b, exact(0), exact(0.1))); break;
        case 3: elements.push_back(capacitor(a, b, exact(1e-6))); break;
        default: elements.push_back(resistor(a, b, 10.0)); break;
      }
    }
    const Netlist netlist = net(nodes, elements);
    const Live live(netlist);
    CHECK(all_finite(live.solution));
    for (const Mode mode : {Mode::ohms, Mode::volts, Mode::amperes}) {
      Probe probe = between(mode, 0, nodes - 1);
      if (!elements.empty()) probe.clamped = {0};
      Setting setting;
      setting.powered = mode != Mode::ohms;
      const Reading reading = read(netlist, {}, probe, setting);
      CHECK_FALSE(std::isnan(reading.exact));
      CHECK_FALSE(reading.text.empty());
    }
  }
}

}  // namespace kp::circuit
