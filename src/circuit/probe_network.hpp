#pragma once

#include <span>

#include "circuit/network.hpp"
#include "circuit/read.hpp"
#include "circuit/solve.hpp"

namespace kp::circuit {

/// The network that a meter meets, with its input in it. For ohms it is the dead one.
[[nodiscard]] Network probed_network(const Netlist& netlist, const Meter& meter, const Probe& probe,
                                     const Setting& setting, std::span<const Fault> faults);

/// What a meter is about to show, before range and rounding.
struct Sensed {
  State state = State::shown;
  Complex value;             ///< signed; its size is what is shown
  bool hangs_free = false;
  bool does_not_last = false;
};

/// `network` is one of probed_network, or the same with other values in its branches.
[[nodiscard]] Sensed sense(const Network& network, const Meter& meter, const Probe& probe);

[[nodiscard]] inline bool is_ohms(Mode mode) {
  return mode == Mode::ohms || mode == Mode::continuity;
}

}  // namespace kp::circuit
