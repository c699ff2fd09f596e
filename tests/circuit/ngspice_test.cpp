#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "circuit/random_net.hpp"
#include "circuit/spice.hpp"

// Source of the expected values: ngspice, in process, on the same networks. Without the library
// (WebAssembly, or not installed) this says so and compares nothing.

namespace kp::circuit {

#if defined(KP_NGSPICE)

namespace {

using test::Random;

/// The largest difference of a node's voltage over the size of that voltage. What is below a
/// billionth of the network's largest voltage is measured against that billionth: both programs
/// find it as a difference of large numbers.
double worst_difference(test::Spice& spice, const Network& network) {
  const Solution ours = solve(network);
  CHECK(ours.finite);
  spice.load(network);
  spice.run();
  double largest = 0;
  for (const Complex& volt : ours.volt) largest = std::max(largest, std::abs(volt));
  double worst = 0;
  for (int n = 0; n < network.nodes; ++n) {
    if (n == network.reference) continue;
    const Complex theirs = spice.volt(n);
    const double size = std::max(std::abs(theirs), 1e-9 * largest);
    const double difference = std::abs(ours.volt[to_size(n)] - theirs) / size;
    // Not a number counts as worst.
    if (!(difference <= worst)) worst = difference;
  }
  spice.forget();
  return worst;
}

}  // namespace

TEST_CASE("ngspice: networks of resistors agree to 1e-9") {
  test::Spice& spice = test::Spice::only();
  for (std::uint64_t seed = 1; seed <= 56; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    CAPTURE(spice.complaint());
    const int nodes = 4 + static_cast<int>(seed);
    Netlist netlist = test::random_resistors(random, nodes);
    netlist.elements.push_back(supply(nodes - 1, 0, 120, 0.4));
    netlist.elements.push_back(supply(nodes / 2, 0, -24, 3));
    Network network = live_network(netlist, Setting{.powered = true}, {});
    network.hertz = 0;
    CHECK(worst_difference(spice, network) < 1e-9);
  }
}

TEST_CASE("ngspice: networks with coils and capacitors agree to 1e-6") {
  test::Spice& spice = test::Spice::only();
  for (std::uint64_t seed = 1; seed <= 56; ++seed) {
    Random random(seed);
    CAPTURE(random.seed());
    CAPTURE(spice.complaint());
    const int nodes = 4 + static_cast<int>(seed);
    Netlist netlist = test::random_reactive(random, nodes);
    netlist.hertz = random.chance(0.5) ? 60 : 50;
    const Network network = live_network(netlist, Setting{.powered = true}, {});
    CHECK(worst_difference(spice, network) < 1e-6);
  }
}

#else

TEST_CASE("ngspice: networks agree") {
  std::printf("skipped: compared with ngspice only natively, where libngspice0-dev is installed\n");
}

#endif

}  // namespace kp::circuit
