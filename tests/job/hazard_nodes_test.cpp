// Live nodes are found by reachability. Here the solver is the outside world: no state of the
// contacts, no order of the supply conductors and none of them missing may put a node above 50 V
// (29 CFR 1910.333(a)(1)) that reachability does not have.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "circuit/solve.hpp"
#include "job/bind_circuit.hpp"
#include "job/small_machine.hpp"
#include "job/work.hpp"
#include "support/random.hpp"

namespace {

using namespace kp;
using pack::ElementKind;

constexpr double kLiveFrom = 50;

/// How the house is joined to the machine.
struct House {
  bool swapped = false;
  bool line = true;  ///< joined at all
  bool neutral = true;
};
constexpr House kHouses[] = {{false, true, true}, {false, false, true}, {false, true, false},
                             {true, true, true},  {true, false, true},  {true, true, false}};

/// The pack's circuit with its machine behind a cord of two leads. The machine's own two conductors
/// are the last nodes.
pack::Pack joined(const pack::Pack& from, const House& house) {
  pack::Pack out = from;
  pack::Circuit& circuit = out.circuit;
  const int line = circuit.mains.line;
  const int neutral = circuit.mains.neutral;
  const int inner_line = to_int(circuit.nodes.size());
  circuit.nodes.push_back("machine-line");
  circuit.nodes.push_back("machine-neutral");
  for (pack::Element& element : circuit.elements) {
    if (element.part < 0) {
      continue;
    }
    for (int* end : {&element.a, &element.b}) {
      *end = *end == line ? inner_line : *end == neutral ? inner_line + 1 : *end;
    }
  }
  const auto lead = [&](int outer, int inner) {
    pack::Element wire;
    wire.id = wire.name = cat("lead-", inner);
    wire.kind = ElementKind::wire;
    wire.a = outer;
    wire.b = inner;
    wire.ohm = {0.01, 0.01, 0.01};
    circuit.elements.push_back(wire);
  };
  if (house.line) {
    lead(line, house.swapped ? inner_line + 1 : inner_line);
  }
  if (house.neutral) {
    lead(neutral, house.swapped ? inner_line : inner_line + 1);
  }
  return out;
}

/// Which nodes of the pack the solver has above 50 V to earth in these states of its contacts.
class Above {
 public:
  explicit Above(const pack::Pack& pack) : pack_(pack), out(pack.circuit.nodes.size()) {
    for (const House& house : kHouses) {
      packs_.push_back(joined(pack, house));
      netlists_.push_back(job::bind_circuit(packs_.back()));
    }
    for (std::size_t i = 0; i < pack.circuit.elements.size(); ++i) {
      if (circuit::is_contact(netlists_.front().elements[i].kind)) {
        contacts.push_back(to_int(i));
      }
    }
  }

  /// `closed`: bit i is the i-th contact.
  void state(std::uint64_t closed) {
    circuit::Setting setting;
    setting.powered = true;
    for (std::size_t i = 0; i < contacts.size(); ++i) {
      setting.held.push_back({contacts[i], ((closed >> i) & 1U) != 0});
    }
    for (const circuit::Netlist& netlist : netlists_) {
      take(circuit::solve(circuit::live_network(netlist, setting, {})));
    }
  }

  std::vector<int> contacts;
  int solved = 0, unsolved = 0;

 private:
  void take(const circuit::Solution& solution) {
    if (!solution.finite) {
      ++unsolved;
      return;
    }
    ++solved;
    const pack::Mains& mains = pack_.circuit.mains;
    const int inner = to_int(pack_.circuit.nodes.size());
    for (int i = 0; i < to_int(out.size()); ++i) {
      const auto volts = [&](int node) {
        return solution.joined(node, mains.earth) ? std::abs(solution.between(node, mains.earth))
                                                  : 0.0;
      };
      const double own = i == mains.line ? volts(inner) : i == mains.neutral ? volts(inner + 1) : 0;
      if (std::max(volts(i), own) > kLiveFrom) {
        out[to_size(i)] = true;
      }
    }
  }

  const pack::Pack& pack_;
  std::vector<pack::Pack> packs_;
  std::vector<circuit::Netlist> netlists_;

 public:
  std::vector<bool> out;
};

/// Nodes that the first has and the second has not.
std::vector<bool> without(const std::vector<bool>& a, const std::vector<bool>& b) {
  std::vector<bool> out(a.size());
  for (std::size_t i = 0; i < a.size(); ++i) {
    out[i] = a[i] && !b[i];
  }
  return out;
}

int count(const std::vector<bool>& all) {
  return to_int(static_cast<std::size_t>(std::count(all.begin(), all.end(), true)));
}

}  // namespace

TEST_CASE("strip circuit S1: with the supply reversed and the door open all stands at 120 V") {
  // safety-order value 17, checks 4.3 X6: A-earth, B-earth, C-earth = 120.0 V, current 0.
  test::SmallMachine machine;
  const int inside = machine.part("machine");
  machine.add(ElementKind::switch_contact, "L", "D", 0.02, inside);
  machine.add(ElementKind::relay_contact, "D", "A", 0.03, inside);
  machine.add(ElementKind::thermostat, "A", "B", 0.05, inside);
  machine.add(ElementKind::heater, "B", "C", 16, inside);
  machine.add(ElementKind::wire, "C", "N", 0.10, inside);
  const pack::Pack reversed = joined(machine.pack, {true, true, true});
  const circuit::Netlist netlist = job::bind_circuit(reversed);
  circuit::Setting setting;
  setting.powered = true;
  setting.held = {{1, false}, {2, true}, {3, true}};
  const circuit::Solution solution = circuit::solve(circuit::live_network(netlist, setting, {}));
  REQUIRE(solution.finite);
  for (const char* node : {"A", "B", "C"}) {
    CAPTURE(node);
    CHECK(std::abs(solution.between(reversed.circuit.node(node), reversed.circuit.node("E"))) ==
          doctest::Approx(120.0).epsilon(0.005));
  }
  CHECK(test::marked(machine.pack.circuit, machine.hazards().live_nodes) == "L N D A B C");
}

TEST_CASE(
    "the shipped machine: no state that the solver knows has a live node beyond those found") {
  const pack::Pack& pack = test::shipped_library().models.front().pack;
  const std::vector<bool>& found = test::shipped_library().models.front().hazards.live_nodes;
  Above above(pack);
  REQUIRE(above.contacts.size() == 17);  // door, two buttons, twelve cams, float, thermostat
  above.state(0);
  above.state(0xffffffffULL);
  for (std::size_t one = 0; one < above.contacts.size(); ++one) {
    above.state(1ULL << one);
    above.state(~(1ULL << one));
  }
  test::Random random(17);
  CAPTURE(random.seed());
  for (int i = 0; i < 150; ++i) {
    above.state(random.next());
  }
  CHECK(test::marked(pack.circuit, without(above.out, found)) == "");
  CHECK(above.solved > 1000);
  CHECK(above.unsolved == 0);
  // Nothing too much either: every node that is called live can stand above 50 V.
  CHECK(test::marked(pack.circuit, without(found, above.out)) == "");
  CHECK(test::marked(pack.circuit, without(std::vector<bool>(found.size(), true), found)) ==
        "house-earth frame");
}

TEST_CASE("random small circuits, every state of their contacts: the solver has no node beyond") {
  constexpr ElementKind kKinds[] = {ElementKind::resistor,       ElementKind::coil,
                                    ElementKind::capacitor,      ElementKind::heater,
                                    ElementKind::switch_contact, ElementKind::relay_contact,
                                    ElementKind::wire,           ElementKind::connector};
  int live = 0;
  int beyond = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    test::Random random(seed);
    CAPTURE(seed);
    test::SmallMachine machine(random.chance(0.5) ? 120 : 230, random.chance(0.5) ? 60 : 50);
    const int inside = machine.part("machine");
    const int nodes = random.between(2, 5);
    const auto pick = [&]() {
      const int n = random.between(-3, nodes - 1);
      return n == -3 ? std::string("L") : n == -2 ? "N" : n == -1 ? "E" : cat("n", n);
    };
    int contacts = 0;
    for (int i = random.between(3, 9); i > 0; --i) {
      ElementKind kind = kKinds[random.between(0, 7)];
      const std::string a = pick();
      const std::string b = pick();
      const bool contact =
          kind == ElementKind::switch_contact || kind == ElementKind::relay_contact;
      // A supply conductor that a wire joins to earth in the machine is the next test's subject.
      const bool bare = kind == ElementKind::wire || kind == ElementKind::connector;
      if (a == b || (contact && ++contacts > 5) || (bare && (a == "E" || b == "E"))) {
        continue;
      }
      const double ohm = contact || bare ? 0.05 : random.between(1, 3000);
      const double value = kind == ElementKind::capacitor ? random.between(1, 60) : ohm;
      machine.add(kind, a, b, value, inside);
    }
    Above above(machine.pack);
    for (std::uint64_t state = 0; state < (1ULL << above.contacts.size()); ++state) {
      above.state(state);
    }
    const std::vector<bool> found = machine.hazards().live_nodes;
    CHECK(test::marked(machine.pack.circuit, without(above.out, found)) == "");
    live += count(found);
    beyond += count(without(found, above.out));
  }
  MESSAGE(live, " live nodes, ", beyond, " of them stand above 50 V in no state");
  // Dividers keep some low; most of them must be real or the rule would say nothing.
  CHECK(live > 300);
  CHECK(beyond * 10 < live * 3);
}

TEST_CASE("the frame is live where a wire of the machine joins it to neutral") {
  test::SmallMachine machine;
  const int inside = machine.part("machine");
  machine.add(ElementKind::heater, "L", "x", 14, inside);
  machine.add(ElementKind::wire, "x", "N", 0.01, inside);
  CHECK(test::marked(machine.pack.circuit, machine.hazards().live_nodes) == "L N x");
  machine.add(ElementKind::wire, "x", "E", 0.01, inside);
  CHECK(test::marked(machine.pack.circuit, machine.hazards().live_nodes) == "L N E x");
}

TEST_CASE("a capacitor to earth leaves earth what it is, and what is on no conductor is not live") {
  test::SmallMachine machine;
  const int inside = machine.part("machine");
  machine.add(ElementKind::capacitor, "L", "E", 0.0047, inside);
  machine.add(ElementKind::resistor, "far", "farther", 10, inside);
  machine.add(ElementKind::connector, "E", "door-earth", 0.01, inside);
  CHECK(test::marked(machine.pack.circuit, machine.hazards().live_nodes) == "L N");
}
