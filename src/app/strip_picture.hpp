#pragma once

#include <optional>
#include <vector>

#include "app/circuit_view.hpp"
#include "circuit/netlist.hpp"
#include "circuit/strip.hpp"
#include "pack/model.hpp"

namespace kp::app {

/// Which strip goes with a test: the load whose one live path holds the places of both probes, in
/// the test's own step or the first in which it is fed. `wanted`: a load that is preferred, -1: none.
struct ChosenStrip {
  circuit::Strip strip;
  int step = -1;
};
[[nodiscard]] std::optional<ChosenStrip> strip_for(const pack::Pack& pack,
                                                   const circuit::Netlist& netlist,
                                                   const pack::Test* test, int wanted);
/// The strip that passes one of these elements, in the first step that feeds it.
[[nodiscard]] std::optional<ChosenStrip> strip_through(const pack::Pack& pack,
                                                       const circuit::Netlist& netlist,
                                                       const std::vector<int>& elements);

/// The strip as the screen draws it, wires and plain leads left out, with the test's probes.
/// `suspects`: elements to be marked.
[[nodiscard]] CircuitView picture_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                                     const ChosenStrip& chosen, const pack::Test* test,
                                     const std::vector<int>& suspects);

/// The pack's programme with this step looked at.
[[nodiscard]] ChartView chart_of(const pack::Pack& pack, const circuit::Strip& strip, int step);

}  // namespace kp::app
