// Which nodes of a circuit can be live: reachability, which no state of a contact escapes.
#include "base/text.hpp"
#include "job/hazard_rules.hpp"
#include "job/hazard_spread.hpp"

namespace kp::job {
namespace {

bool is_supply(const pack::Circuit& circuit, int node) {
  return node == circuit.mains.line || node == circuit.mains.neutral;
}

}  // namespace

std::vector<bool> live_nodes_of(const pack::Circuit& circuit) {
  if (!circuit.there()) {
    return {};
  }
  // What wires alone join to the earth at the machine, up to the house's own conductors.
  std::vector<bool> earth(circuit.nodes.size());
  if (circuit.mains.earth >= 0) {
    earth[to_size(circuit.mains.earth)] = true;
    spread(circuit, earth, is_conductor,
           [&circuit](int node) { return !is_supply(circuit, node); });
  }
  // The house joins neutral to earth before the machine. That holds earth at zero, it does not
  // make it live.
  const auto is_bond = [&](const pack::Element& element) {
    return element.part < 0 && is_conductor(element) &&
           ((is_supply(circuit, element.a) && earth[to_size(element.b)]) ||
            (is_supply(circuit, element.b) && earth[to_size(element.a)]));
  };
  std::vector<bool> live(circuit.nodes.size());
  live[to_size(circuit.mains.line)] = true;
  live[to_size(circuit.mains.neutral)] = true;
  // A wire inside the machine from neutral to its frame makes the frame a live conductor: with the
  // supply reversed it is one.
  spread(
      circuit, live,
      [&](const pack::Element& element) { return is_conductor(element) && !is_bond(element); },
      [](int) { return true; });
  spread(
      circuit, live, [&](const pack::Element& element) { return !is_bond(element); },
      [&earth](int node) { return !earth[to_size(node)]; });
  return live;
}

}  // namespace kp::job
