#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "circuit/heater_circuit.hpp"
#include "circuit/ladder.hpp"
#include "circuit/random_net.hpp"
#include "circuit/strip.hpp"
#include "circuit/ways.hpp"

// Strips of the heater circuit are read off its drawing; volts and ohms are those of the set S1.

namespace kp::circuit {
namespace {

using test::HeaterCircuit;
using H = HeaterCircuit;
using Names = std::vector<std::string>;

Names names(const Netlist& netlist, const std::vector<Link>& links) {
  Names all;
  for (const Link& link : links) all.push_back(netlist.elements[to_size(link.element)].name);
  return all;
}

/// The heater circuit with a programme: relay 1 by output 0, relay 2 by output 1, relay 3 by 2.
Netlist programmed() {
  Netlist netlist = HeaterCircuit().netlist;
  netlist.chart.steps = {Step{"Fill", 120}, Step{"Wash", 600}, Step{"Heat", 900}};
  netlist.chart.rows = {Row{"Output heat", {false, false, true}},
                        Row{"Output pump", {false, true, true}},
                        Row{"Output fill", {true, false, false}}};
  netlist.elements[H::kK1].row = 0;
  netlist.elements[H::kK2].row = 1;
  netlist.elements[H::kK3].row = 2;
  return netlist;
}

Setting in_step(int step) {
  Setting setting;
  setting.powered = true;
  setting.step = step;
  setting.held = {{H::kDoor, true}};
  return setting;
}

/// All pairs of ways by trying every simple way: the slow, obvious answer.
struct Slow {
  int nodes;
  const std::vector<Edge>& edges;
  std::int64_t best = -1;

  void second(int at, const std::vector<int>& goals, std::vector<bool>& seen, std::int64_t cost) {
    if (std::find(goals.begin(), goals.end(), at) != goals.end() && (best < 0 || cost < best)) best = cost;
    for (const Edge& edge : edges) step(edge, at, seen, cost, [&](int to, std::int64_t c) { second(to, goals, seen, c); });
  }

  void first(int at, int other, const std::vector<int>& goals, std::vector<bool>& seen, std::int64_t cost) {
    if (std::find(goals.begin(), goals.end(), at) != goals.end() && !seen[to_size(other)]) {
      std::vector<int> left;
      for (const int goal : goals) {
        if (goal != at) left.push_back(goal);
      }
      seen[to_size(other)] = true;
      second(other, left, seen, cost);
      seen[to_size(other)] = false;
    }
    for (const Edge& edge : edges) {
      step(edge, at, seen, cost, [&](int to, std::int64_t c) { first(to, other, goals, seen, c); });
    }
  }

  template <class F>
  void step(const Edge& edge, int at, std::vector<bool>& seen, std::int64_t cost, F go) {
    if (edge.a != at && edge.b != at) return;
    const int to = edge.a == at ? edge.b : edge.a;
    if (seen[to_size(to)]) return;
    seen[to_size(to)] = true;
    go(to, cost + edge.cost);
    seen[to_size(to)] = false;
  }
};

}  // namespace

TEST_CASE("the strip of the heater in the step Heat") {
  const Netlist netlist = programmed();
  const Strip strip = path(netlist, in_step(2), H::kHeater);
  REQUIRE_FALSE(strip.error.has_value());
  CHECK(names(netlist, strip.links) ==
        Names{"Supply lead", "Door switch", "Relay 1", "Cut-out", "Heater", "Return"});
  CHECK(strip.closed);
  CHECK(strip.sneaks.empty());
  // X2 of the set S1: heating with the motor.
  CHECK(std::abs(strip.volt - 114.4918) < 0.0005);
  CHECK(std::abs(strip.ampere - 114.4918 / 16) < 0.0005);
  CHECK(strip.links[0].why.empty());
  CHECK(strip.links[1].why == "closed by hand");
  CHECK(strip.links[2].why == "closed by Output heat in step Heat");
  CHECK(strip.links[3].why == "closed below 90 °C");
}

TEST_CASE("the same strip in the step Wash names the contact that is open") {
  const Netlist netlist = programmed();
  const Strip strip = path(netlist, in_step(1), H::kHeater);
  CHECK(names(netlist, strip.links) ==
        Names{"Supply lead", "Door switch", "Relay 1", "Cut-out", "Heater", "Return"});
  CHECK_FALSE(strip.closed);
  CHECK(strip.volt == 0);
  CHECK(strip.links[2].why == "open by Output heat in step Wash");
  CHECK(strip.sneaks.empty());
}

TEST_CASE("a strip is walked from the supply's a, whichever end of the load comes first") {
  Netlist netlist = programmed();
  std::swap(netlist.elements[H::kHeater].a, netlist.elements[H::kHeater].b);
  const Strip strip = path(netlist, in_step(2), H::kHeater);
  CHECK(names(netlist, strip.links).front() == "Supply lead");
  CHECK(strip.links.front().from == H::kE);
  CHECK(strip.links.back().to == H::kN);
  for (std::size_t i = 1; i < strip.links.size(); ++i) CHECK(strip.links[i].from == strip.links[i - 1].to);
}

TEST_CASE("of two ways through contacts the live one is the strip, the other goes round it") {
  Netlist netlist = programmed();
  netlist.nodes.push_back({"Plug"});
  netlist.elements.push_back(part(Kind::wire, H::kM, 9, exact(0.05)));
  netlist.elements.back().name = "Wire 9";
  netlist.elements.push_back(part(Kind::connector, 9, H::kA, exact(0.02)));
  netlist.elements.back().name = "Plug 2";
  netlist.elements.back().pullable = true;
  const Strip wash = path(netlist, in_step(1), H::kHeater);
  CHECK(wash.closed);
  CHECK(names(netlist, wash.links) == Names{"Supply lead", "Door switch", "Relay 2", "Wire 9",
                                            "Plug 2", "Cut-out", "Heater", "Return"});
  const Strip heat = path(netlist, in_step(2), H::kHeater);
  CHECK(names(netlist, heat.links) ==
        Names{"Supply lead", "Door switch", "Relay 1", "Cut-out", "Heater", "Return"});
  REQUIRE(heat.sneaks.size() == 1);
  CHECK(names(netlist, heat.sneaks[0].links) == Names{"Relay 2", "Wire 9", "Plug 2"});
  CHECK(heat.sneaks[0].bypassed == std::vector<int>{H::kK1});
  CHECK(heat.sneaks[0].pull == 12);
  CHECK(sneak_text(netlist, heat.sneaks[0]) ==
        "Current also flows through Relay 2, Wire 9, Plug 2. Pull Plug 2.");

  // As a ladder: the way round beside the strip, which is stretched to make room for it.
  const Ladder drawn = ladder(netlist, heat);
  CHECK(drawn.width == 2);
  CHECK(drawn.height == 8);
  REQUIRE(drawn.symbols.size() == 9);
  for (std::size_t i = 6; i < 9; ++i) {
    CHECK(drawn.symbols[i].sneak);
    CHECK(drawn.symbols[i].at == LadderPoint{1, static_cast<double>(i) - 3.5});
  }
}

TEST_CASE("a load that gets current through another load, with its own contact open") {
  Netlist netlist = programmed();
  netlist.nodes.push_back({"Plug"});
  netlist.elements.push_back(part(Kind::connector, H::kM, 9, exact(0.02)));
  netlist.elements.back().name = "Plug 2";
  netlist.elements.back().pullable = true;
  netlist.elements.push_back(resistor(9, H::kA, 20.0));
  netlist.elements.back().name = "Vent heater";
  const Strip strip = path(netlist, in_step(1), H::kHeater);
  CHECK_FALSE(strip.closed);
  CHECK(names(netlist, strip.links)[2] == "Relay 1");
  // 120 V over 0.40 + 0.02 ohm, then 40 ohm of motor beside 0.05 + 20 + 0.05 + 16 + 0.10 ohm: 16 of
  // the 36.17 ohm get their share.
  const double beside = 1 / (1 / 40.0 + 1 / 36.17);
  const double at_motor = 120 * beside / (beside + 0.42 + 0.03);
  CHECK(strip.volt == doctest::Approx(at_motor * 16 / 36.17).epsilon(1e-6));
  REQUIRE(strip.sneaks.size() == 1);
  CHECK(names(netlist, strip.sneaks[0].links) == Names{"Relay 2", "Plug 2", "Vent heater"});
  CHECK(strip.sneaks[0].pull == 11);
  CHECK(strip.sneaks[0].volt == strip.volt);
}

TEST_CASE("two loads in series through an open neutral") {
  // The neutral of heater and motor has come off behind both: each gets current through nothing.
  Netlist netlist = programmed();
  const Fault open{H::kReturn, FaultKind::open, {}, 0};
  const Strip strip = path(netlist, in_step(2), H::kHeater, {&open, 1});
  CHECK_FALSE(strip.closed);
  CHECK(names(netlist, strip.links).back() == "Return");
  CHECK(strip.links.back().why == "open by a fault");
  CHECK(strip.volt < 0.001);
}

TEST_CASE("X10: the way round an open heater, and the lead that must come off") {
  Netlist netlist = HeaterCircuit().netlist;
  const Fault open{H::kHeater, FaultKind::open, {}, 0};
  const Setting closed = H::with(true, true, true, false);
  const std::optional<Sneak> sneak = way_round(netlist, closed, H::kHeater, {&open, 1});
  REQUIRE(sneak.has_value());
  CHECK(std::abs(sneak->ohm - 38.6693) < 0.00005);
  CHECK(names(netlist, sneak->links) == Names{"Cut-out", "Relay 1", "Relay 2", "Motor", "Return"});
  CHECK(sneak->pull == -1);
  CHECK(sneak->pull_node == H::kB);
  CHECK(sneak_text(netlist, *sneak) ==
        "Current also flows through Cut-out, Relay 1, Relay 2, Motor, Return. Pull the lead at B.");
  netlist.elements[H::kReturn].pullable = true;
  CHECK(way_round(netlist, closed, H::kHeater, {&open, 1})->pull == H::kReturn);
  // With the relays at rest nothing leads round it.
  CHECK_FALSE(way_round(netlist, H::with(true, false, false, false), H::kHeater).has_value());
}

TEST_CASE("no strip: no supply, no two ways") {
  Netlist none = HeaterCircuit().netlist;
  none.elements[H::kSupply].kind = Kind::wire;
  CHECK(path(none, in_step(-1), H::kHeater).error->code == "no-supply");
  Netlist stub = HeaterCircuit().netlist;
  stub.nodes.push_back({"Stub"});
  stub.elements.push_back(part(Kind::heater, H::kD, 9, exact(50)));
  stub.elements.back().name = "Spare";
  const Strip strip = path(stub, in_step(-1), 11);
  REQUIRE(strip.error.has_value());
  CHECK(strip.error->text() == "no two ways lead from Spare to the supply. Join both its ends to the supply");
  CHECK(ladder(stub, strip).symbols.empty());
}

TEST_CASE("two ways cost no more than any two found by trying all") {
  int found = 0;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    test::Random random(seed);
    CAPTURE(random.seed());
    const int nodes = random.between(4, 7);
    std::vector<Edge> edges;
    for (int k = random.between(4, 10); k > 0; --k) {
      const int a = random.between(0, nodes - 1);
      const int b = random.between(0, nodes - 1);
      if (a != b) edges.push_back({a, b, random.between(1, 9)});
    }
    const TwoWays ways = two_ways(nodes, edges, {0, 1}, {2, 3});
    Slow slow{nodes, edges};
    std::vector<bool> seen(to_size(nodes), false);
    seen[0] = true;
    slow.first(0, 1, {2, 3}, seen, 0);
    REQUIRE(ways.found == (slow.best >= 0));
    if (!ways.found) continue;
    ++found;
    std::int64_t cost = 0;
    std::vector<int> visits(to_size(nodes), 0);
    for (const int start : {0, 1}) {
      int at = start;
      ++visits[to_size(at)];
      for (const int e : start == 0 ? ways.first : ways.second) {
        const Edge& edge = edges[to_size(e)];
        REQUIRE((edge.a == at || edge.b == at));
        at = edge.a == at ? edge.b : edge.a;
        ++visits[to_size(at)];
        cost += edge.cost;
      }
    }
    CHECK(cost == slow.best);
    CHECK(*std::max_element(visits.begin(), visits.end()) == 1);
  }
  CHECK(found > 50);
}

TEST_CASE("ladder of one strip: one column, current down the page") {
  const Netlist netlist = programmed();
  const Strip strip = path(netlist, in_step(2), H::kHeater);
  const Ladder drawn = ladder(netlist, strip);
  CHECK(drawn.width == 1);
  CHECK(drawn.height == 6);
  CHECK(drawn.wires.empty());
  REQUIRE(drawn.symbols.size() == 6);
  for (std::size_t i = 0; i < 6; ++i) CHECK(drawn.symbols[i].at == LadderPoint{0, static_cast<double>(i) + 0.5});
  CHECK(drawn.symbols[4].load);
  CHECK(drawn.symbols[4].kind == Kind::heater);
  REQUIRE(drawn.taps.size() == 7);
  CHECK(drawn.taps.front().node == H::kE);
  CHECK(drawn.taps.back().node == H::kN);
  CHECK(drawn.taps.back().at == LadderPoint{0, 6});
}

TEST_CASE("ladder of several strips: what they share is drawn once, nothing overlaps") {
  const Netlist netlist = programmed();
  std::vector<Strip> strips;
  for (const int load : {H::kHeater, H::kMotor, H::kValve}) strips.push_back(path(netlist, in_step(2), load));
  const Ladder drawn = ladder(netlist, strips);
  CHECK(drawn.width == 3);
  CHECK(drawn.height == 6);
  // Six of the heater; relay 2 and motor; relay 3 and valve. Supply lead and door switch once.
  CHECK(drawn.symbols.size() == 10);
  for (std::size_t i = 0; i < drawn.symbols.size(); ++i) {
    for (std::size_t j = i + 1; j < drawn.symbols.size(); ++j) {
      CHECK_FALSE(drawn.symbols[i].at == drawn.symbols[j].at);
      CHECK(drawn.symbols[i].element != drawn.symbols[j].element);
    }
  }
  // Motor and valve branch off below the door switch and end on the neutral rail.
  const auto has = [&](LadderPoint from, LadderPoint to) {
    return std::any_of(drawn.wires.begin(), drawn.wires.end(),
                       [&](const LadderWire& w) { return w.from == from && w.to == to; });
  };
  CHECK(has({0, 2}, {1, 2}));
  CHECK(has({0, 2}, {2, 2}));
  CHECK(has({1, 4}, {1, 6}));
  CHECK(has({2, 4}, {2, 6}));
}

}  // namespace kp::circuit
