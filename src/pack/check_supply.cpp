// Where it is proved that the machine is dead.
#include <algorithm>

#include "pack/report.hpp"

namespace kp::pack {
namespace {

const TestPoint& point_of(const Pack& pack, int place) {
  return pack.circuit.points[to_size(pack.supply.proof.points[to_size(place)])];
}

bool is_tagged_live(const Pack& pack, const TestPoint& point) {
  return has(point.contacts, Contact::live) ||
         has(pack.parts[to_size(point.part)].contacts, Contact::live);
}

/// Whether the node is joined to the machine's protective conductor by conductors of the machine.
/// The bond of the house is none of them: it makes an earth of every neutral.
bool is_earth(const Pack& pack, int node) {
  const Circuit& circuit = pack.circuit;
  std::vector<bool> joined(circuit.nodes.size());
  if (circuit.mains.earth < 0) {
    return false;
  }
  joined[to_size(circuit.mains.earth)] = true;
  for (bool grows = true; grows;) {
    grows = false;
    for (const Element& element : circuit.elements) {
      const bool conducts =
          element.part >= 0 &&
          (element.kind == ElementKind::wire || element.kind == ElementKind::connector);
      if (conducts && joined[to_size(element.a)] != joined[to_size(element.b)]) {
        joined[to_size(element.a)] = joined[to_size(element.b)] = true;
        grows = true;
      }
    }
  }
  return joined[to_size(node)];
}

/// What is wrong with the points of proof, or empty.
std::string points_fault(const Pack& pack) {
  const Supply& supply = pack.supply;
  const int count = to_int(supply.proof.points.size());
  const int lines = count - 2;
  if (supply.connection == Connection::cord) {
    return "a machine with a cord is proved at the pins of its plug";
  }
  if (lines > 1 && supply.system == System::single) {
    return "a single supply has one line, neutral and earth";
  }
  const Mains& mains = pack.circuit.mains;
  for (int i = 0; i + 1 < count; ++i) {
    const TestPoint& point = point_of(pack, i);
    if (!is_tagged_live(pack, point)) {
      return cat("the point ", quoted(point.id), " is not live");
    }
    const int wanted = i == 0 ? mains.line : i == lines ? mains.neutral : -1;
    if (wanted >= 0 && point.node != wanted) {
      return cat("the point ", quoted(point.id), " is not at the node ",
                 quoted(pack.circuit.nodes[to_size(wanted)]), " of the mains");
    }
  }
  const TestPoint& earth = point_of(pack, count - 1);
  return is_earth(pack, earth.node) ? ""
                                    : cat("the point ", quoted(earth.id),
                                          " is not joined to the earth of the mains");
}

/// The outermost thing that the point lies in.
int enclosure_of(const Pack& pack, const TestPoint& point) {
  return carriers(pack, point.part).back();
}

void check_inside(const Pack& pack, Report& report) {
  for (std::size_t i = 0; i < pack.supply.proof.points.size(); ++i) {
    const TestPoint& proof = point_of(pack, to_int(i));
    const auto keeps = std::find_if(
        pack.circuit.points.begin(), pack.circuit.points.end(), [&](const TestPoint& other) {
          return other.house_side && enclosure_of(pack, other) == enclosure_of(pack, proof);
        });
    if (keeps != pack.circuit.points.end()) {
      report.add("proof-inside", cat("/supply/proof/points/", to_int(i)),
                 proof.house_side
                     ? cat("the point ", quoted(proof.id), " itself stays live")
                     : cat("the point ", quoted(proof.id), " lies in one enclosure with ",
                           quoted(keeps->id), ", which stays live"),
                 "Prove at the machine's own terminals.");
    }
  }
}

void check_relieve(const Pack& pack, const Reach& reach, Report& report) {
  const Water& water = pack.water;
  const bool had = any_reached(water.relieve_positions, reach) &&
                   is_open(pack, water.relieve_behind, {}, reach.parts,
                           places_of(water.relieve_positions, reach)) &&
                   std::all_of(water.relieve_joints.begin(), water.relieve_joints.end(),
                               [&reach](int joint) { return reach.joints[to_size(joint)]; });
  if (!had) {
    report.add("relieve-out-of-reach", "/water", "what is loosened to relieve can never be reached",
               "Name positions, covers and joints that can be had.");
  }
}

}  // namespace

void check_supply(const Pack& pack, const Reach& reach, Report& report) {
  check_relieve(pack, reach, report);
  const Supply& supply = pack.supply;
  if ((supply.volts_low != 0 || supply.volts_high != 0) && supply.volts_low >= supply.volts_high) {
    report.add("supply-band", "/supply",
               cat("\"volts_low\" ", number_text(supply.volts_low), " is not below \"volts_high\" ",
                   number_text(supply.volts_high)),
               "Write both ends of the band, or neither.");
  }
  if (!pack.circuit.there()) {
    return;
  }
  if (supply.proof.points.empty()) {
    if (supply.connection == Connection::fixed) {
      report.add("proof-missing", "/supply", "the fixed wiring has no point where it is proved dead",
                 "Add \"proof\" with the points of line, neutral and earth.");
    }
    return;
  }
  const std::string wrong = points_fault(pack);
  if (!wrong.empty()) {
    report.add("proof-points", "/supply/proof", wrong,
               "Name the points of line, neutral and earth; of a cord none.");
  }
  check_inside(pack, report);
}

}  // namespace kp::pack
