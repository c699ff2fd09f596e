#include "circuit/strip.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "circuit/meter.hpp"
#include "circuit/network.hpp"
#include "circuit/solve.hpp"
#include "circuit/ways.hpp"

namespace kp::circuit {
namespace {

// A way avoids other loads first, open contacts next, and is short last.
constexpr std::int64_t kStep = 1;
constexpr std::int64_t kOpen = 1'000;
constexpr std::int64_t kLoad = 1'000'000;
constexpr std::int64_t kEarth = 1'000'000'000;
constexpr double kFelt = 0.05;  ///< share of the supply's volts that a load feels

bool uses_power(Kind kind) {
  return is_load(kind) || kind == Kind::capacitor || kind == Kind::ntc || kind == Kind::ptc;
}

class Tracer {
 public:
  Tracer(const Netlist& netlist, const Setting& setting, std::span<const Fault> faults)
      : netlist_(netlist), setting_(setting), faults_(faults) {}

  [[nodiscard]] const Element& at(int element) const { return netlist_.elements[to_size(element)]; }

  [[nodiscard]] Link link(int element, int from) const {
    Link link;
    link.element = element;
    link.from = from;
    link.to = at(element).a == from ? at(element).b : at(element).a;
    link.state = contact_state(netlist_, setting_, faults_, element);
    link.why = why(netlist_, setting_, element, link.state);
    return link;
  }

  [[nodiscard]] std::vector<Link> links(const std::vector<int>& elements, int from) const {
    std::vector<Link> all;
    for (const int element : elements) {
      all.push_back(link(element, from));
      from = all.back().to;
    }
    return all;
  }

  /// All links of the load's strip, from the supply's a to its b, without the elements in `without`.
  /// Empty where there is no way. `conducting`: only by what conducts now.
  [[nodiscard]] std::vector<Link> strip(int load, int supply, const std::vector<int>& without,
                                        bool conducting) const {
    std::vector<Edge> edges;
    std::vector<int> elements;
    for (int k = 0; k < to_int(netlist_.elements.size()); ++k) {
      if (k == load || at(k).kind == Kind::supply) continue;
      if (std::find(without.begin(), without.end(), k) != without.end()) continue;
      const bool closed = contact_state(netlist_, setting_, faults_, k).closed;
      if (conducting && !closed) continue;
      const bool earth = netlist_.earth >= 0 && (at(k).a == netlist_.earth || at(k).b == netlist_.earth);
      const std::int64_t cost = kStep + (closed ? 0 : kOpen) + (uses_power(at(k).kind) ? kLoad : 0) +
                                (earth ? kEarth : 0);
      edges.push_back({at(k).a, at(k).b, cost});
      elements.push_back(k);
    }
    const TwoWays ways = two_ways(to_int(netlist_.nodes.size()), edges, {at(load).a, at(load).b},
                                  {at(supply).a, at(supply).b});
    if (!ways.found) return {};
    // The way that ends at the supply's a is walked backwards, the other forwards.
    Way up = ways.crossed ? ways.second : ways.first;
    const Way& down = ways.crossed ? ways.first : ways.second;
    std::reverse(up.begin(), up.end());
    std::vector<int> order;
    for (const int e : up) order.push_back(elements[to_size(e)]);
    order.push_back(load);
    for (const int e : down) order.push_back(elements[to_size(e)]);
    return links(order, at(supply).a);
  }

  /// Volts on a load with these elements opened as well; `ampere` through it.
  [[nodiscard]] double volt_on(int load, std::vector<int> opened, double* ampere = nullptr) const {
    Setting trial = setting_;
    trial.pulled.insert(trial.pulled.end(), opened.begin(), opened.end());
    const Network network = live_network(netlist_, trial, faults_);
    const Solution solution = solve(network);
    const int branch = network.branch_of[to_size(load)];
    if (ampere != nullptr && branch >= 0) *ampere = std::abs(solution.ampere[to_size(branch)]);
    if (!solution.finite || !solution.joined(at(load).a, at(load).b)) return 0;
    return std::abs(solution.between(at(load).a, at(load).b));
  }

  /// Ohms between the ends of an element with these opened; infinity for an open loop.
  [[nodiscard]] double ohm_round(int element, const std::vector<int>& opened) const {
    Setting trial = setting_;
    trial.pulled.insert(trial.pulled.end(), opened.begin(), opened.end());
    const Solver solver(dead_network(netlist_, trial, faults_));
    if (!solver.joined(at(element).a, at(element).b)) return std::numeric_limits<double>::infinity();
    return std::abs(solver.impedance_between(at(element).a, at(element).b));
  }

  const Netlist& netlist_;
  const Setting& setting_;
  std::span<const Fault> faults_;
};

bool has(const std::vector<Link>& links, int element) {
  return std::any_of(links.begin(), links.end(), [&](const Link& l) { return l.element == element; });
}

/// Looks for ways round the links of a strip.
class SneakFinder {
 public:
  SneakFinder(const Tracer& tracer, Strip& strip) : tracer_(tracer), strip_(strip) {}

  void run(double supply_volt) {
    felt_ = kFelt * supply_volt;
    if (!strip_.closed) {
      if (strip_.volt > felt_) {
        std::vector<int> open;
        for (const Link& link : strip_.links) {
          if (!link.state.closed) open.push_back(link.element);
        }
        add(open, strip_.volt);
      }
      return;
    }
    for (const Link& link : strip_.links) {
      if (link.element == strip_.load) continue;
      const double volt = tracer_.volt_on(strip_.load, {link.element});
      if (volt > felt_) add({link.element}, volt);
    }
  }

 private:
  void add(const std::vector<int>& bypassed, double volt) {
    const std::vector<Link> other = tracer_.strip(strip_.load, strip_.supply, bypassed, true);
    Sneak sneak;
    for (const Link& link : other) {
      if (!has(strip_.links, link.element)) sneak.links.push_back(link);
    }
    for (Sneak& known : strip_.sneaks) {
      if (same_way(known, sneak)) {
        known.bypassed.insert(known.bypassed.end(), bypassed.begin(), bypassed.end());
        return;
      }
    }
    sneak.bypassed = bypassed;
    sneak.volt = volt;
    choose_lead(other, sneak);
    strip_.sneaks.push_back(std::move(sneak));
  }

  static bool same_way(const Sneak& a, const Sneak& b) {
    return std::equal(a.links.begin(), a.links.end(), b.links.begin(), b.links.end(),
                      [](const Link& l, const Link& m) { return l.element == m.element; });
  }

  /// The lead nearest to the load on the way round, and not on the strip, that kills it.
  void choose_lead(const std::vector<Link>& other, Sneak& sneak) const {
    const auto load = std::find_if(other.begin(), other.end(),
                                   [&](const Link& l) { return l.element == strip_.load; });
    const auto distance = [&](int element) {
      const auto place = std::find_if(other.begin(), other.end(),
                                      [&](const Link& l) { return l.element == element; });
      return std::abs(place - load);
    };
    for (const Link& link : sneak.links) {
      if (!tracer_.at(link.element).pullable) continue;
      if (sneak.pull >= 0 && distance(link.element) >= distance(sneak.pull)) continue;
      std::vector<int> opened = sneak.bypassed;
      opened.push_back(link.element);
      if (tracer_.volt_on(strip_.load, std::move(opened)) <= felt_) sneak.pull = link.element;
    }
    if (sneak.pull < 0) sneak.pull_node = tracer_.at(strip_.load).a;
  }

  const Tracer& tracer_;
  Strip& strip_;
  double felt_ = 0;
};

Error no_strip(const char* code, std::string what, const char* remedy) {
  return Error{code, std::move(what), "", remedy};
}

}  // namespace

Strip path(const Netlist& netlist, const Setting& setting, int load, std::span<const Fault> faults) {
  Strip strip;
  strip.load = load;
  const Tracer tracer(netlist, setting, faults);
  bool any = false;
  for (int k = 0; k < to_int(netlist.elements.size()) && strip.links.empty(); ++k) {
    if (netlist.elements[to_size(k)].kind != Kind::supply) continue;
    any = true;
    strip.supply = k;
    strip.links = tracer.strip(load, k, {}, false);
  }
  const std::string& name = netlist.elements[to_size(load)].name;
  if (!any) {
    strip.error = no_strip("no-supply", "the netlist has no supply", "Add the supply");
    return strip;
  }
  if (strip.links.empty()) {
    strip.error = no_strip("no-way", cat("no two ways lead from ", name, " to the supply"),
                           "Join both its ends to the supply");
    return strip;
  }
  strip.closed = std::all_of(strip.links.begin(), strip.links.end(),
                             [](const Link& link) { return link.state.closed; });
  strip.volt = tracer.volt_on(load, {}, &strip.ampere);
  SneakFinder(tracer, strip).run(netlist.elements[to_size(strip.supply)].volt.typical);
  return strip;
}

std::optional<Sneak> way_round(const Netlist& netlist, const Setting& setting, int element,
                               std::span<const Fault> faults) {
  const Tracer tracer(netlist, setting, faults);
  const double open_loop = Meter{}.ohms.back().top;
  Sneak sneak;
  sneak.ohm = tracer.ohm_round(element, {element});
  if (!(sneak.ohm < open_loop)) return std::nullopt;
  Setting trial = setting;
  trial.pulled.push_back(element);
  const Network network = dead_network(netlist, trial, faults);
  std::vector<Edge> edges;
  for (const Branch& branch : network.branches) {
    // In microhm, and a little for each element, so that of equal ways the shortest is named.
    const double micro = std::min(branch.ohm * 1e6, 1e15);
    edges.push_back({branch.a, branch.b, static_cast<std::int64_t>(micro) + 1});
  }
  const int a = tracer.at(element).a;
  const Way way = cheapest_way(network.nodes, edges, a, tracer.at(element).b);
  int from = a;
  for (const int k : way) {
    const Branch& branch = network.branches[to_size(k)];
    const int to = branch.a == from ? branch.b : branch.a;
    // A leak has no name; an element that a leak halves is named once.
    const bool named = branch.element >= 0 &&
                       (sneak.links.empty() || sneak.links.back().element != branch.element);
    if (named) sneak.links.push_back(tracer.link(branch.element, tracer.at(branch.element).a == from ? from : tracer.at(branch.element).b));
    from = to;
  }
  // From both ends inwards: the nearest lead that leaves an open loop.
  const int count = to_int(sneak.links.size());
  for (int k = 0; k < (count + 1) / 2 && sneak.pull < 0; ++k) {
    for (const int at : {k, count - 1 - k}) {
      const int candidate = sneak.links[to_size(at)].element;
      if (!netlist.elements[to_size(candidate)].pullable) continue;
      if (tracer.ohm_round(element, {element, candidate}) < open_loop) continue;
      sneak.pull = candidate;
      break;
    }
  }
  if (sneak.pull < 0) sneak.pull_node = a;
  return sneak;
}

std::string sneak_text(const Netlist& netlist, const Sneak& sneak) {
  std::vector<std::string> names;
  for (const Link& link : sneak.links) names.push_back(netlist.elements[to_size(link.element)].name);
  const std::string lead = sneak.pull >= 0
                               ? netlist.elements[to_size(sneak.pull)].name
                               : cat("the lead at ", netlist.nodes[to_size(sneak.pull_node)].name);
  return cat("Current also flows through ", join(names, ", "), ". Pull ", lead, ".");
}

}  // namespace kp::circuit
