// Times one whole solve (topology, elimination, voltages and currents) of random wiring of 10, 40
// and 100 nodes, resistive and reactive, and ngspice in process on the same networks: its run from a
// loaded netlist, its command line and its result vectors included. A reading and a band of a heater circuit of a machine's size. One JSON object a
// line; without libngspice the lines of ngspice are missing.

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "circuit/expect.hpp"
#include "circuit/heater_circuit.hpp"
#include "circuit/random_net.hpp"
#include "circuit/spice.hpp"
#include "support/bench.hpp"

namespace kp::circuit {
namespace {

Network wiring(int nodes, bool reactive) {
  test::Random random(static_cast<std::uint64_t>(nodes));
  Netlist netlist = reactive ? test::random_reactive(random, nodes) : test::random_resistors(random, nodes);
  netlist.elements.push_back(supply(nodes - 1, 0, 120, 0.4));
  Setting on;
  on.powered = true;
  Network network = live_network(netlist, on, {});
  if (!reactive) network.hertz = 0;
  return network;
}

void bench_size(int nodes, bool reactive) {
  const Network network = wiring(nodes, reactive);
  const std::string name = cat(reactive ? "complex_" : "real_", nodes, "_nodes");
  test::bench(cat("circuit_solve_", name).c_str(), 2000, nodes == 40 ? 50 : -1, [&] {
    test::keep(solve(network));
  });
#if defined(KP_NGSPICE)
  test::Spice& spice = test::Spice::only();
  spice.load(network);
  test::bench(cat("ngspice_run_", name).c_str(), 200, -1, [&] { spice.run(); });
  const Solution ours = solve(network);
  double largest = 0;
  double worst = 0;
  for (const Complex& volt : ours.volt) largest = std::max(largest, std::abs(volt));
  for (int n = 0; n < network.nodes; ++n) {
    if (n != network.reference) worst = std::max(worst, std::abs(ours.volt[to_size(n)] - spice.volt(n)));
  }
  std::printf("{\"compare\":\"%s\",\"worst_difference_of_largest\":%.3g}\n", name.c_str(), worst / largest);
  spice.forget();
#endif
}

/// The heater circuit with tolerances, and as many idle elements as a machine has besides.
void bench_machine() {
  Netlist netlist = test::HeaterCircuit().netlist;
  for (Element& element : netlist.elements) element.ohm = within(element.ohm.typical, 0.1);
  for (int k = 0; k < 10; ++k) {
    const int contact = to_int(netlist.nodes.size());
    netlist.nodes.resize(netlist.nodes.size() + 2);
    netlist.elements.push_back(part(Kind::cam_contact, test::HeaterCircuit::kD, contact, within(0.03, 0.5)));
    netlist.elements.push_back(part(Kind::wire, contact, contact + 1, within(0.05, 0.5)));
    netlist.elements.push_back(coil(contact + 1, 0, within(800, 0.1), within(3, 0.1)));
    netlist.elements[netlist.elements.size() - 3].rest_closed = k < 3;
  }
  using H = test::HeaterCircuit;
  const Setting dead = H::with(true, true, false, false);
  const Setting live = H::with(true, true, false, true);
  const Meter meter;
  const Probe ohms = between(Mode::ohms, H::kB, H::kC);
  const Probe volts = between(Mode::volts, H::kB, H::kC);
  const Fault joint{H::kHeater, FaultKind::high_joint, {2, 10, 50}, 0};
  test::bench("circuit_read_ohms_29_nodes", 2000, -1, [&] { test::keep(read(netlist, meter, ohms, dead)); });
  test::bench("circuit_read_volts_29_nodes", 2000, -1, [&] { test::keep(read(netlist, meter, volts, live)); });
  test::bench("circuit_expect_ohms_29_nodes", 2000, -1, [&] { test::keep(expect(netlist, meter, ohms, dead)); });
  test::bench("circuit_expect_volts_29_nodes", 500, -1, [&] { test::keep(expect(netlist, meter, volts, live)); });
  test::bench("circuit_expect_volts_fault_29_nodes", 200, -1,
              [&] { test::keep(expect(netlist, meter, volts, live, {&joint, 1})); });
}

}  // namespace
}  // namespace kp::circuit

int main() {
  for (const int nodes : {10, 40, 100}) {
    kp::circuit::bench_size(nodes, false);
    kp::circuit::bench_size(nodes, true);
  }
  kp::circuit::bench_machine();
  return 0;
}
