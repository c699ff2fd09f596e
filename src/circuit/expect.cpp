#include "circuit/expect.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"
#include "circuit/band_live.hpp"

namespace kp::circuit {
namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();
/// Rounding of the solver, far below what a meter resolves: a share, and a share of its finest step.
constexpr double kRoundOff = 1e-9;
constexpr double kOfAStep = 1e-6;
/// Ends of a live band are close enough when they are this share of the meter's own error away.
constexpr double kOfAnError = 0.25;

double ohms_at_ends(const Network& network, const Meter& meter, const Probe& probe, bool most) {
  Network end = network;
  for (const Freedom& freedom : network.freedoms) {
    quantity_of(end.branches[to_size(freedom.branch)], freedom.quantity) =
        most ? freedom.high : freedom.low;
  }
  return std::abs(sense(end, meter, probe).value);
}

/// Adds what the meter itself may be off, by its data sheet and its last digit.
void add_meter(const Meter& meter, Mode mode, Band& band) {
  const Reading at_low = display(meter, mode, band.low);
  const Reading at_high = display(meter, mode, band.high);
  band.shown_low = at_low.state == State::over ? kOpen : std::max(0.0, band.low - at_low.error - at_low.step / 2);
  band.shown_high = at_high.state == State::over ? kOpen : band.high + at_high.error + at_high.step / 2;
  // A true value beyond the highest range shows OL, but one just below it may be shown as well.
  const double top = meter.ranges(mode).back().top;
  if (at_low.state == State::over && band.low < top * 1.05) band.shown_low = top * 0.95;
  if (band.shown_high >= top) band.shown_high = kOpen;
}

}  // namespace

Band expect(const Netlist& netlist, const Meter& meter, const Probe& probe, const Setting& setting,
            std::span<const Fault> faults) {
  Band band;
  if (is_ohms(probe.mode) && setting.powered) {
    band.state = State::live_circuit;
    return band;
  }
  const Network network = probed_network(netlist, meter, probe, setting, faults);
  const Sensed typical = sense(network, meter, probe);
  if (typical.state != State::shown && typical.state != State::over) {
    band.state = typical.state;
    return band;
  }
  band.typical = std::abs(typical.value);
  if (is_ohms(probe.mode)) {
    band.low = ohms_at_ends(network, meter, probe, false);
    band.high = ohms_at_ends(network, meter, probe, true);
  } else {
    const double error = display(meter, probe.mode, band.typical).error;
    const LiveBand live = live_band(network, probe, kOfAnError * error);
    band.low = live.low;
    band.high = live.high;
    band.bounded = live.bounded;
  }
  const double rounding = kOfAStep * meter.ranges(probe.mode).front().step;
  band.low = std::max(0.0, band.low * (1 - kRoundOff) - rounding);
  band.high = band.high * (1 + kRoundOff) + rounding;
  add_meter(meter, probe.mode, band);
  return band;
}

std::vector<Fault> single_faults(const Netlist& netlist, int index) {
  const Element& element = netlist.elements[to_size(index)];
  std::vector<Fault> faults;
  const auto add = [&](FaultKind kind, Spread amount, double at = 0) {
    faults.push_back(Fault{index, kind, amount, at});
  };
  if (is_contact(element.kind)) {
    add(FaultKind::stuck_open, {});
    add(FaultKind::stuck_closed, {});
  } else {
    add(FaultKind::open, {});
  }
  if (element.kind == Kind::supply) return faults;
  add(FaultKind::high_joint, {2, 10, 50});
  const bool value = is_load(element.kind) || element.kind == Kind::ntc || element.kind == Kind::ptc ||
                     element.kind == Kind::capacitor;
  if (value) {
    add(FaultKind::shorted, {0, 0.1, 0.5});
    add(FaultKind::drifted, {0.4, 0.6, 0.75});
    if (element.kind != Kind::capacitor) add(FaultKind::drifted, {1.3, 1.6, 2.5});
  }
  if (netlist.earth >= 0) add(FaultKind::earth_leak, {1e3, 20e3, 500e3}, is_load(element.kind) ? 0.5 : 0);
  return faults;
}

}  // namespace kp::circuit
