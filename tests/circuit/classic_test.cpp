#include <doctest/doctest.h>

#include <cmath>
#include <utility>
#include <vector>

#include "circuit/nets.hpp"

// Networks of unit resistors whose answers are exact fractions, known from symmetry; the sources
// stand beside each. Tolerance: the last digits of a double.

namespace kp::circuit {
namespace {

using doctest::Approx;
using test::net;
using test::ohms;
using test::units;

constexpr double kLast = 1e-13;

/// Every pair of the nodes for which `linked` holds.
template <class F>
std::vector<std::pair<int, int>> pairs(int nodes, F linked) {
  std::vector<std::pair<int, int>> all;
  for (int a = 0; a < nodes; ++a) {
    for (int b = a + 1; b < nodes; ++b) {
      if (linked(a, b)) all.push_back({a, b});
    }
  }
  return all;
}

Netlist ladder(int sections) {
  std::vector<std::pair<int, int>> all;
  for (int k = 1; k <= sections; ++k) {
    all.push_back({k == 1 ? sections + 1 : k - 1, k});
    all.push_back({k, 0});
  }
  return units(sections + 2, all);
}

}  // namespace

// van Steenwijk, "Equivalent resistors of polyhedral resistive structures", Am. J. Phys. 66 (1998).
TEST_CASE("C11: cube, along an edge, a face and the body") {
  const Netlist cube = units(8, pairs(8, [](int a, int b) {
    const int differ = a ^ b;
    return differ == 1 || differ == 2 || differ == 4;
  }));
  REQUIRE(cube.elements.size() == 12);
  CHECK(ohms(cube, 0, 1) == Approx(7.0 / 12).epsilon(kLast));
  CHECK(ohms(cube, 0, 3) == Approx(3.0 / 4).epsilon(kLast));
  CHECK(ohms(cube, 0, 7) == Approx(5.0 / 6).epsilon(kLast));
}

// By symmetry 2/n between any two nodes of a complete graph of n.
TEST_CASE("C12: complete graphs of 4, 5 and 6 nodes") {
  for (int n = 4; n <= 6; ++n) {
    const Netlist complete = units(n, pairs(n, [](int, int) { return true; }));
    for (int a = 0; a < n; ++a) {
      for (int b = a + 1; b < n; ++b) CHECK(ohms(complete, a, b) == Approx(2.0 / n).epsilon(kLast));
    }
  }
}

TEST_CASE("C13: octahedron, neighbours and opposites") {
  const Netlist octahedron = units(6, pairs(6, [](int a, int b) { return a / 2 != b / 2; }));
  REQUIRE(octahedron.elements.size() == 12);
  CHECK(ohms(octahedron, 0, 2) == Approx(5.0 / 12).epsilon(kLast));
  CHECK(ohms(octahedron, 0, 1) == Approx(1.0 / 2).epsilon(kLast));
}

// Ratios of neighbouring Fibonacci numbers F(2n+1)/F(2n).
TEST_CASE("C16, C17: ladders of unit sections, and the endless one") {
  const std::vector<std::pair<int, double>> known = {
      {1, 2.0}, {2, 5.0 / 3}, {3, 13.0 / 8}, {4, 34.0 / 21}, {5, 89.0 / 55}, {6, 233.0 / 144},
      {10, 10946.0 / 6765}};
  for (const std::pair<int, double>& row : known) {
    const int n = row.first;
    CAPTURE(n);
    CHECK(ohms(ladder(n), n + 1, 0) == Approx(row.second).epsilon(kLast));
  }
  CHECK(std::abs(ohms(ladder(10), 11, 0) - (1 + std::sqrt(5.0)) / 2) < 1e-8);
}

TEST_CASE("C18: R-2R ladder of four bits gives its code in volts") {
  for (int code = 0; code < 16; ++code) {
    CAPTURE(code);
    // Node 4 is the end of the most significant bit; bit k feeds node k + 1 through 2 ohm.
    std::vector<Element> elements{resistor(1, 0, 2.0)};
    for (int bit = 0; bit < 4; ++bit) {
      elements.push_back(supply(5 + bit, 0, (code >> bit & 1) != 0 ? 16.0 : 0.0));
      elements.push_back(resistor(5 + bit, 1 + bit, 2.0));
      if (bit > 0) elements.push_back(resistor(bit, bit + 1, 1.0));
    }
    const test::Live live(net(9, elements));
    CHECK(live.volt(4).real() == Approx(code).epsilon(kLast));
  }
}

TEST_CASE("C19: a balanced bridge reads nothing across its middle") {
  const test::Live live(net(4, {supply(3, 0, 10), resistor(3, 1, 100.0), resistor(1, 0, 200.0),
                                resistor(3, 2, 200.0), resistor(2, 0, 400.0)}));
  CHECK(std::abs(live.volt(1, 2)) < 1e-12);
}

TEST_CASE("C21: unbalanced bridge, 61/21 ohm") {
  const Netlist bridge = net(4, {resistor(0, 1, 1.0), resistor(0, 2, 2.0), resistor(1, 2, 3.0),
                                 resistor(1, 3, 4.0), resistor(2, 3, 5.0)});
  CHECK(ohms(bridge, 0, 3) == Approx(61.0 / 21).epsilon(kLast));
}

}  // namespace kp::circuit
