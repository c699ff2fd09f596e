#include "circuit/read.hpp"

#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "circuit/joints.hpp"
#include "circuit/probe_network.hpp"

namespace kp::circuit {
namespace {

double input_ohm(const Meter& meter, Mode mode) {
  if (is_ohms(mode)) return meter.ohms_input_ohm;
  return mode == Mode::volts_low_z ? meter.low_z_input_ohm : meter.volts_input_ohm;
}

Sensed sense_ohms(Network network, const Meter& meter, const Probe& probe) {
  Sensed sensed;
  const double leads = meter.leads_nulled ? 0 : meter.lead_ohm;
  const Solver solver(std::move(network));
  if (!solver.joined(probe.a, probe.b)) {
    sensed.state = State::over;
    sensed.value = std::numeric_limits<double>::infinity();
    return sensed;
  }
  sensed.value = solver.impedance_between(probe.a, probe.b) + leads;
  return sensed;
}

/// Whether the two points hang together by anything but the meter itself, its last branch.
bool joined_without_meter(const Network& network, const Probe& probe) {
  Network bare = network;
  bare.branches.pop_back();
  const Joints joints = find_joints(bare);
  return joints.part_of(probe.a) == joints.part_of(probe.b);
}

}  // namespace

Network probed_network(const Netlist& netlist, const Meter& meter, const Probe& probe,
                       const Setting& setting, std::span<const Fault> faults) {
  Network network = is_ohms(probe.mode) ? dead_network(netlist, setting, faults)
                                        : live_network(netlist, setting, faults);
  if (probe.mode == Mode::amperes || probe.a == probe.b) return network;
  Branch input;
  input.a = probe.a;
  input.b = probe.b;
  input.ohm = input_ohm(meter, probe.mode);
  if (input.ohm > 0) network.branches.push_back(input);
  return network;
}

Sensed sense(const Network& network, const Meter& meter, const Probe& probe) {
  if (is_ohms(probe.mode)) return sense_ohms(network, meter, probe);
  Sensed sensed;
  const Solution solution = solve(network);
  for (const Issue& issue : solution.issues) {
    if (issue.kind == Issue::Kind::over_current) sensed.does_not_last = true;
    if (issue.kind == Issue::Kind::resonance) sensed.state = State::resonance;
    if (issue.kind == Issue::Kind::short_circuit) sensed.state = State::short_circuit;
  }
  if (!solution.finite) return sensed;
  if (probe.mode != Mode::amperes) {
    if (!solution.joined(probe.a, probe.b)) return sensed;
    sensed.value = solution.between(probe.a, probe.b);
    return sensed;
  }
  for (const int element : probe.clamped) {
    const int branch = network.branch_of[to_size(element)];
    if (branch >= 0) sensed.value += solution.ampere[to_size(branch)];
  }
  return sensed;
}

Reading read(const Netlist& netlist, const Meter& meter, const Probe& probe,
             const Setting& setting, std::span<const Fault> faults) {
  if (is_ohms(probe.mode) && setting.powered) {
    Reading refused;
    refused.state = State::live_circuit;
    refused.text = "live";
    return refused;
  }
  const Network network = probed_network(netlist, meter, probe, setting, faults);
  const Sensed sensed = sense(network, meter, probe);
  if (sensed.state == State::short_circuit || sensed.state == State::resonance) {
    Reading none;
    none.state = sensed.state;
    none.text = sensed.state == State::resonance ? "no finite value" : "short circuit";
    return none;
  }
  Reading reading = display(meter, probe.mode, std::abs(sensed.value));
  reading.does_not_last = sensed.does_not_last;
  if (!is_ohms(probe.mode) && probe.mode != Mode::amperes && probe.a != probe.b) {
    reading.hangs_free = !joined_without_meter(network, probe);
  }
  return reading;
}

}  // namespace kp::circuit
