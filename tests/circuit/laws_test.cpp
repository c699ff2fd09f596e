#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "circuit/nets.hpp"
#include "circuit/random_net.hpp"

// Laws that hold for every network, tried on random ones. Sources: R. M. Foster, "The average
// impedance of an electrical network" (1949); B. D. H. Tellegen (1952); reciprocity and Rayleigh's
// monotonicity as in Doyle and Snell, "Random walks and electric networks" (1984).

namespace kp::circuit {
namespace {

using doctest::Approx;
using test::Random;

constexpr int kRuns = 60;

}  // namespace

TEST_CASE("Foster: R_eff over R, summed over all resistors, is the number of nodes less one") {
  for (std::uint64_t seed = 1; seed <= kRuns; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(5, 60);
    const Netlist netlist = test::random_resistors(random, nodes);
    const Solver solver(dead_network(netlist, {}, {}));
    double sum = 0;
    for (const Element& element : netlist.elements) {
      sum += solver.impedance_between(element.a, element.b).real() / element.ohm.typical;
    }
    CHECK(sum == Approx(nodes - 1).epsilon(1e-12));
  }
}

TEST_CASE("Tellegen: power balances, and each node's currents add up to nothing") {
  for (std::uint64_t seed = 1; seed <= kRuns; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    const test::Live live(test::random_reactive(random, random.between(5, 60)));
    REQUIRE(live.solution.finite);
    Complex total = 0;
    double size = 0;
    std::vector<Complex> leaving(live.solution.volt.size());
    double largest = 0;
    for (std::size_t k = 0; k < live.network.branches.size(); ++k) {
      const Branch& branch = live.network.branches[k];
      const Complex power = live.volt(branch.a, branch.b) * std::conj(live.solution.ampere[k]);
      total += power;
      size += std::abs(power);
      leaving[to_size(branch.a)] += live.solution.ampere[k];
      leaving[to_size(branch.b)] -= live.solution.ampere[k];
      largest = std::max(largest, std::abs(live.solution.ampere[k]));
    }
    CHECK(std::abs(total) < 1e-11 * size);
    for (const Complex& sum : leaving) CHECK(std::abs(sum) < 1e-11 * largest);
  }
}

TEST_CASE("reciprocity: source and meter may change places") {
  for (std::uint64_t seed = 1; seed <= kRuns; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(5, 60);
    const Network network = live_network(test::random_reactive(random, nodes), {}, {});
    const Solver solver(network);
    const int a = random.between(0, nodes - 1), b = random.between(0, nodes - 1);
    const int c = random.between(0, nodes - 1), d = random.between(0, nodes - 1);
    const std::vector<Complex> there = solver.respond(a, b);
    const std::vector<Complex> back = solver.respond(c, d);
    REQUIRE_FALSE(there.empty());
    const Complex at_cd = there[to_size(c)] - there[to_size(d)];
    const Complex at_ab = back[to_size(a)] - back[to_size(b)];
    const double scale = std::max({std::abs(at_cd), std::abs(solver.impedance_between(a, b)) * 1e-3, 1e-12});
    CHECK(std::abs(at_cd - at_ab) < 1e-10 * scale);
  }
}

TEST_CASE("scaling: k times all resistances reads k times the ohms") {
  for (std::uint64_t seed = 1; seed <= kRuns; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(5, 60);
    Netlist netlist = test::random_resistors(random, nodes);
    const double before = test::ohms(netlist, 0, nodes - 1);
    const double k = 0.01 + 1000 * random.unit();
    for (Element& element : netlist.elements) element.ohm = scaled(element.ohm, k);
    CHECK(test::ohms(netlist, 0, nodes - 1) == Approx(k * before).epsilon(1e-12));
  }
}

TEST_CASE("Rayleigh: one more resistor never raises a resistance") {
  for (std::uint64_t seed = 1; seed <= kRuns; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(5, 60);
    Netlist netlist = test::random_resistors(random, nodes);
    const double before = test::ohms(netlist, 0, nodes - 1);
    netlist.elements.push_back(resistor(random.between(0, nodes / 2), nodes - 1 - random.between(0, nodes / 3), 1.0));
    CHECK(test::ohms(netlist, 0, nodes - 1) <= before * (1 + 1e-13));
  }
}

TEST_CASE("a milliohm beside a megohm costs no digits") {
  // A chain of contacts that ends in insulation: the sum is known exactly.
  std::vector<Element> chain;
  double sum = 0;
  for (int k = 0; k < 40; ++k) {
    const double ohm = k % 4 == 3 ? 5e6 : 0.001 * (k + 1);
    chain.push_back(resistor(k, k + 1, ohm));
    sum += ohm;
  }
  const Netlist netlist = test::net(41, chain);
  CHECK(test::ohms(netlist, 0, 40) == Approx(sum).epsilon(1e-14));
  CHECK(test::ohms(netlist, 38, 39) == Approx(chain[38].ohm.typical).epsilon(1e-14));
}

}  // namespace kp::circuit
