#include <doctest/doctest.h>

#include <vector>

#include "circuit/nets.hpp"

// Source of the numbers: OpenStax, University Physics volume 2, chapter 10, and College Physics,
// section 21.1 (both CC BY 4.0); the books' rounding is the tolerance. Direct current there; a
// network of resistors answers the same at any frequency.

namespace kp::circuit {
namespace {

using doctest::Approx;
using test::Live;
using test::net;

double real(Complex value) {
  CHECK(value.imag() == 0);
  return value.real();
}

}  // namespace

TEST_CASE("C1: five resistors in series on 9 V") {
  const Netlist netlist = net(6, {supply(5, 0, 9), resistor(5, 4, 20.0), resistor(4, 3, 20.0),
                                  resistor(3, 2, 20.0), resistor(2, 1, 20.0), resistor(1, 0, 10.0)});
  CHECK(test::ohms(netlist, 5, 0) == Approx(90));
  const Live live(netlist);
  CHECK(real(live.ampere(1)) == Approx(0.10));
  for (int node = 5; node > 1; --node) CHECK(real(live.volt(node, node - 1)) == Approx(2.0));
  CHECK(real(live.volt(1)) == Approx(1.0));
  CHECK(real(live.watt(0)) == Approx(-0.9));
}

TEST_CASE("C2: 1, 2 and 2 ohm in parallel on 3 V") {
  const Netlist netlist = net(2, {supply(1, 0, 3), resistor(1, 0, 1.0), resistor(1, 0, 2.0),
                                  resistor(1, 0, 2.0)});
  CHECK(test::ohms(netlist, 1, 0) == Approx(0.50));
  const Live live(netlist);
  CHECK(real(live.ampere(0)) == Approx(-6.0));
  CHECK(real(live.ampere(1)) == Approx(3.0));
  CHECK(real(live.ampere(2)) == Approx(1.5));
  CHECK(real(live.watt(1)) == Approx(9.0));
  CHECK(real(live.watt(2)) == Approx(4.5));
}

TEST_CASE("C3: 7 ohm before 10 ohm beside 6 + 4 ohm, on 24 V") {
  const Netlist netlist = net(4, {supply(3, 0, 24), resistor(3, 2, 7.0), resistor(2, 0, 10.0),
                                  resistor(2, 1, 6.0), resistor(1, 0, 4.0)});
  CHECK(test::ohms(netlist, 3, 0) == Approx(12.0));
  const Live live(netlist);
  CHECK(real(live.ampere(1)) == Approx(2.0));
  CHECK(real(live.volt(3, 2)) == Approx(14));
  CHECK(real(live.volt(2)) == Approx(10));
  CHECK(real(live.volt(2, 1)) == Approx(6));
  CHECK(real(live.volt(1)) == Approx(4));
}

TEST_CASE("C4: one loop of 1, 2 and 3 ohm on 12 V") {
  const Live live(net(3, {supply(2, 0, 12, 1.0), resistor(2, 1, 2.0), resistor(1, 0, 3.0)}));
  CHECK(real(live.ampere(1)) == Approx(2.00));
}

TEST_CASE("C5: two sources, 130 W in and 130 W out") {
  const Live live(net(4, {supply(1, 0, 24), resistor(1, 2, 3.0), resistor(2, 0, 3.0),
                          resistor(2, 3, 3.0 + 4.0), supply(3, 0, 29)}));
  // The book's branch in the middle is 3 ohm, the other 3 + 4 ohm in series with 29 V.
  CHECK(real(live.ampere(1)) == Approx(3.0));
  CHECK(real(live.ampere(2)) == Approx(5.0));
  CHECK(real(live.ampere(3)) == Approx(-2.0));
  CHECK(real(live.watt(4)) == Approx(-58));
  CHECK(real(live.watt(0)) + real(live.watt(4)) == Approx(-130));
  CHECK(real(live.watt(1)) + real(live.watt(2)) + real(live.watt(3)) == Approx(130));
}

TEST_CASE("C6: three sources, 0.20, 0.30 and 0.50 A") {
  // From the loop sums I1 + I2 = I3, 3 I1 - 8 I2 = -1.8, 8 I2 + I3 = 2.9: V1 with R1 and R4 in one
  // way, V3 with R2, R3 and R6 in the second, V2 with R5 in the third.
  const Live live(net(8, {supply(2, 0, 0.5), resistor(2, 3, 1.0), resistor(3, 1, 2.0),
                          supply(4, 0, 2.3), resistor(4, 5, 5.0), resistor(5, 6, 1.0),
                          resistor(6, 1, 2.0), resistor(1, 7, 1.0), supply(0, 7, 0.6)}));
  CHECK(real(live.ampere(1)) == Approx(0.20));
  CHECK(real(live.ampere(4)) == Approx(0.30));
  CHECK(real(live.ampere(7)) == Approx(0.50));
  double watts = 0;
  for (const int resistor : {1, 2, 4, 5, 6, 7}) watts += real(live.watt(resistor));
  CHECK(watts == Approx(1.09));
}

TEST_CASE("C8: 24 V against 12 V through 10 and 30 kilohm") {
  const Live live(net(4, {supply(1, 0, 24), resistor(1, 2, 10e3), supply(2, 3, 12), resistor(3, 0, 30e3)}));
  CHECK(real(live.ampere(1)) == Approx(0.30e-3));
  CHECK(real(live.watt(0)) == Approx(-7.20e-3));
}

TEST_CASE("C9: 1, 6 and 13 ohm in parallel on 12 V") {
  const Netlist netlist = net(2, {supply(1, 0, 12), resistor(1, 0, 1.0), resistor(1, 0, 6.0),
                                  resistor(1, 0, 13.0)});
  CHECK(test::ohms(netlist, 1, 0) == Approx(0.804).epsilon(1e-3));
  const Live live(netlist);
  CHECK(real(live.ampere(0)) == Approx(-14.92).epsilon(1e-3));
  CHECK(real(live.ampere(1)) == Approx(12));
  CHECK(real(live.ampere(2)) == Approx(2));
  CHECK(real(live.ampere(3)) == Approx(0.92).epsilon(5e-3));
  CHECK(real(live.watt(1)) == Approx(144));
  CHECK(real(live.watt(2)) == Approx(24));
  CHECK(real(live.watt(3)) == Approx(11.1).epsilon(5e-3));
  CHECK(real(live.watt(0)) == Approx(-179).epsilon(1e-3));
}

TEST_CASE("C10: 1 ohm before 6 beside 13 ohm, on 12 V") {
  const Netlist netlist = net(3, {supply(2, 0, 12), resistor(2, 1, 1.0), resistor(1, 0, 6.0),
                                  resistor(1, 0, 13.0)});
  CHECK(test::ohms(netlist, 2, 0) == Approx(97.0 / 19).epsilon(1e-14));
  const Live live(netlist);
  CHECK(real(live.ampere(1)) == Approx(2.350515).epsilon(1e-6));
  CHECK(real(live.volt(1)) == Approx(9.649485).epsilon(1e-6));
  CHECK(real(live.volt(2, 1)) == Approx(2.35).epsilon(1e-3));
  CHECK(real(live.ampere(2)) == Approx(1.61).epsilon(2e-3));
  CHECK(real(live.watt(2)) == Approx(15.5).epsilon(2e-3));
}

}  // namespace kp::circuit
