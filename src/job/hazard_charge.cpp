// Which nodes a capacitor can charge, and keep charged, once the supply is parted.
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "circuit/solve.hpp"
#include "job/bind_circuit.hpp"
#include "job/hazard_rules.hpp"
#include "job/hazard_spread.hpp"
#include "pack/reach.hpp"
#include "safety/discharge.hpp"

namespace kp::job {
namespace {

constexpr double kMicro = 1e-6;
/// After five time constants 0.7 % is left: 1.2 V of 170 V.
constexpr double kTimeConstants = 5;
constexpr double kLongestWait = 600;   // seconds, ours: then the tool is quicker
constexpr double kNever = std::numeric_limits<double>::infinity();

/// True when the element always carries direct current, and soon enough to empty the capacitor:
/// less than `most_ohm`. Contacts, fuses and what changes with its temperature may not.
bool is_firm(const pack::Element& element, double most_ohm) {
  const bool resists =
      element.kind == pack::ElementKind::resistor || element.kind == pack::ElementKind::heater ||
      element.kind == pack::ElementKind::coil || element.kind == pack::ElementKind::winding;
  return is_conductor(element) || (resists && element.ohm.high < most_ohm);
}

/// Seconds from the release of the first fastener to the first cover being off: no bleed resistor
/// has longer. 0: a machine without a cover, where hands meet the conductors at once.
double first_cover_seconds(const pack::Pack& pack) {
  std::vector<bool> covers(pack.parts.size());
  const auto mark = [&covers](const auto& things) {
    for (const auto& thing : things) {
      for (const pack::Way& way : thing.behind) {
        for (const int part : way.parts) {
          covers[to_size(part)] = true;
        }
      }
    }
  };
  mark(pack.parts);
  mark(pack.joints);
  mark(pack.circuit.points);
  double least = kNever;
  for (std::size_t i = 0; i < covers.size(); ++i) {
    if (!covers[i] || !pack.parts[i].behind.empty()) {
      continue;
    }
    double seconds = pack.parts[i].seconds;
    for (const int joint : pack::holding_joints(pack, to_int(i))) {
      const pack::Joint& held = pack.joints[to_size(joint)];
      seconds += static_cast<double>(held.count) * held.seconds_each;
    }
    least = std::min(least, seconds);
  }
  return std::isfinite(least) ? least : 0;
}

/// One capacitor of the circuit and the conductors around it.
class Charge {
 public:
  Charge(const pack::Circuit& circuit, const pack::Element& capacitor, double cover_seconds)
      : circuit_(circuit),
        a_(capacitor.a),
        b_(capacitor.b),
        most_ohm_(cover_seconds / (kTimeConstants * capacitor.microfarad.high * kMicro)) {}

  /// The nodes that it can leave charged.
  [[nodiscard]] std::vector<bool> nodes() const {
    std::vector<bool> out(circuit_.nodes.size());
    const std::vector<bool> wired = zero(0);
    out[to_size(a_)] = !wired[to_size(a_)];
    out[to_size(b_)] = !wired[to_size(b_)];
    const double bleed = bleed_ohm();
    if (bleed < most_ohm_) {
      return out;
    }
    // Where the way across is too slow no resistance counts as joined, only wires do.
    const double firm = std::isfinite(bleed) ? 0 : most_ohm_;
    spread_from(a_, b_, firm, out);
    spread_from(b_, a_, firm, out);
    return out;
  }

  /// Five time constants of what empties it, seconds; infinite where nothing does.
  [[nodiscard]] double bleeds(const pack::Element& capacitor) const {
    return kTimeConstants * bleed_ohm() * capacitor.microfarad.high * kMicro;
  }

 private:
  [[nodiscard]] std::vector<bool> joined_to(std::vector<bool> marked, double most_ohm) const {
    spread(
        circuit_, marked,
        [most_ohm](const pack::Element& element) { return is_firm(element, most_ohm); },
        [](int) { return true; });
    return marked;
  }

  /// What stands at neutral or earth.
  [[nodiscard]] std::vector<bool> zero(double most_ohm) const {
    std::vector<bool> marked(circuit_.nodes.size());
    marked[to_size(circuit_.mains.neutral)] = true;
    if (circuit_.mains.earth >= 0) {
      marked[to_size(circuit_.mains.earth)] = true;
    }
    return joined_to(std::move(marked), most_ohm);
  }

  /// The ohms of the best way from plate to plate that is always there; with more ways it is less.
  [[nodiscard]] double bleed_ohm() const {
    std::vector<double> ohm(circuit_.nodes.size(), kNever);
    ohm[to_size(a_)] = 0;
    bool better = true;
    while (better) {
      better = false;
      for (const pack::Element& element : circuit_.elements) {
        if (!is_firm(element, kNever)) {
          continue;
        }
        double& a = ohm[to_size(element.a)];
        double& b = ohm[to_size(element.b)];
        better = better || a + element.ohm.high < b || b + element.ohm.high < a;
        b = std::min(b, a + element.ohm.high);
        a = std::min(a, b + element.ohm.high);
      }
    }
    return ohm[to_size(b_)];
  }

  /// Marks what contacts can join to this plate, through any resistance. What stands firmly at
  /// neutral or at the other plate has no volts against them: there the way ends.
  void spread_from(int plate, int other, double firm, std::vector<bool>& out) const {
    std::vector<bool> ends = zero(firm);
    std::vector<bool> opposite(circuit_.nodes.size());
    opposite[to_size(other)] = true;
    opposite = joined_to(std::move(opposite), firm);
    std::transform(ends.begin(), ends.end(), opposite.begin(), ends.begin(),
                   [](bool a, bool b) { return a || b; });
    if (ends[to_size(plate)]) {
      return;
    }
    std::vector<bool> marked(circuit_.nodes.size());
    marked[to_size(plate)] = true;
    spread(
        circuit_, marked,
        [](const pack::Element& element) { return element.kind != pack::ElementKind::capacitor; },
        [&ends](int node) { return !ends[to_size(node)]; });
    std::transform(out.begin(), out.end(), marked.begin(), out.begin(),
                   [](bool a, bool b) { return a || b; });
  }

  const pack::Circuit& circuit_;
  int a_, b_;
  double most_ohm_;
};

/// The most volts DC across an element: the crest of the mains, or, where a winding in series
/// raises it, that of the programme step in which it stands highest, parts typical and motors at
/// rest.
double crest_volts(const pack::Pack& pack, const circuit::Netlist& netlist, int element) {
  const pack::Mains& mains = pack.circuit.mains;
  double most = mains.volts.high;
  for (int step = 0; step < to_int(pack.circuit.programme.steps.size()); ++step) {
    UnitStand stand;
    stand.powered = true;
    stand.step = step;
    const circuit::Solution solution =
        circuit::solve(circuit::live_network(netlist, setting_of(pack, stand), {}));
    const pack::Element& across = pack.circuit.elements[to_size(element)];
    if (solution.finite && solution.joined(across.a, across.b) && mains.volts.typical > 0) {
      most = std::max(most, std::abs(solution.between(across.a, across.b)) * mains.volts.high /
                                mains.volts.typical);
    }
  }
  return safety::peak_volt(most);
}

bool keeps_charge(const pack::Element& element) {
  return element.kind == pack::ElementKind::capacitor &&
         element.microfarad.high * kMicro > safety::kPlugPinFarad;
}

}  // namespace

int bleed_seconds_of(const pack::Pack& pack) {
  int most = 0;
  for (const pack::Element& element : pack.circuit.elements) {
    const double seconds =
        keeps_charge(element) ? Charge(pack.circuit, element, 0).bleeds(element) : 0;
    if (seconds <= kLongestWait) {
      most = std::max(most, static_cast<int>(std::ceil(seconds)));
    }
  }
  return most;
}

std::vector<double> charge_volts_of(const pack::Pack& pack) {
  const pack::Circuit& circuit = pack.circuit;
  std::vector<double> out(circuit.nodes.size());
  if (!circuit.there()) {
    return out;
  }
  const circuit::Netlist netlist = bind_circuit(pack);
  const double seconds = first_cover_seconds(pack);
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    const pack::Element& element = circuit.elements[i];
    if (!keeps_charge(element)) {
      continue;
    }
    const std::vector<bool> charged = Charge(circuit, element, seconds).nodes();
    const double volts = crest_volts(pack, netlist, to_int(i));
    for (std::size_t node = 0; node < charged.size(); ++node) {
      out[node] = std::max(out[node], charged[node] ? volts : 0);
    }
  }
  return out;
}

}  // namespace kp::job
