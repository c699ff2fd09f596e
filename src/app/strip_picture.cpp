#include "app/strip_picture.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "circuit/ladder.hpp"
#include "job/bind_circuit.hpp"

namespace kp::app {
namespace {

using circuit::Kind;

// Wires and connectors that conduct are drawn as a line and need no cell of their own; a connector
// that is suspected or pulled is shown.
bool hidden(const circuit::LadderSymbol& one, const std::vector<int>& suspects) {
  if (one.kind == Kind::wire || one.kind == Kind::supply) return true;
  return one.kind == Kind::connector && one.closed &&
         std::find(suspects.begin(), suspects.end(), one.element) == suspects.end();
}

/// "Cam 4 contact, heater" stands under its symbol as "Cam 4 contact".
std::string short_name(const std::string& name) { return name.substr(0, name.find(',')); }

CircuitKind kind_of(Kind kind) {
  switch (kind) {
    case Kind::resistor: return CircuitKind::resistor;
    case Kind::heater: return CircuitKind::heater;
    case Kind::coil: return CircuitKind::coil;
    case Kind::capacitor: return CircuitKind::capacitor;
    case Kind::winding: return CircuitKind::motor;
    case Kind::fuse: return CircuitKind::fuse;
    case Kind::thermostat: return CircuitKind::thermostat;
    case Kind::ntc:
    case Kind::ptc: return CircuitKind::sensor;
    case Kind::push_button: return CircuitKind::push_button;
    case Kind::cam_contact: return CircuitKind::cam;
    case Kind::relay_contact: return CircuitKind::relay;
    case Kind::triac: return CircuitKind::triac;
    case Kind::connector: return CircuitKind::connector;
    case Kind::switch_contact:
    case Kind::wire:
    case Kind::supply: break;
  }
  return CircuitKind::contact;
}

/// Places along the ladder with the cells taken out in which nothing is drawn.
class Along {
 public:
  Along(const circuit::Ladder& ladder, const std::vector<int>& suspects) {
    wide_.assign(to_size(static_cast<int>(std::ceil(ladder.height))), false);
    for (const circuit::LadderSymbol& one : ladder.symbols) {
      if (hidden(one, suspects)) continue;
      const auto cell = to_size(static_cast<int>(std::floor(one.at.y)));
      if (cell < wide_.size()) wide_[cell] = true;
    }
  }
  [[nodiscard]] double of(double y) const {
    double out = 0;
    for (std::size_t i = 0; i < wide_.size(); ++i) {
      const double share = std::clamp(y - static_cast<double>(i), 0.0, 1.0);
      if (wide_[i]) out += share;
    }
    return out;
  }
  [[nodiscard]] double cells() const {
    return static_cast<double>(std::count(wide_.begin(), wide_.end(), true));
  }

 private:
  std::vector<bool> wide_;
};

bool passes(const circuit::Strip& strip, int node) {
  return std::any_of(strip.links.begin(), strip.links.end(), [node](const circuit::Link& link) {
    return link.from == node || link.to == node;
  });
}

int node_at(const pack::Pack& pack, int point) {
  return point < 0 ? -1 : pack.circuit.points[to_size(point)].node;
}

bool holds(const pack::Pack& pack, const circuit::Strip& strip, const pack::Test* test) {
  if (test == nullptr || test->point_a < 0) return true;
  return passes(strip, node_at(pack, test->point_a)) && passes(strip, node_at(pack, test->point_b));
}

/// The strip in the wanted step, or in the first one that feeds the load.
ChosenStrip fed(const pack::Pack& pack, const circuit::Netlist& netlist, int load, int step) {
  if (step >= 0) return {job::strip_of(pack, netlist, load, step), step};
  const int steps = to_int(pack.circuit.programme.steps.size());
  for (int i = 0; i < steps; ++i) {
    ChosenStrip out{job::strip_of(pack, netlist, load, i), i};
    if (out.strip.closed) return out;
  }
  return {job::strip_of(pack, netlist, load, -1), -1};
}

}  // namespace

std::optional<ChosenStrip> strip_for(const pack::Pack& pack, const circuit::Netlist& netlist,
                                     const pack::Test* test, int wanted) {
  if (!pack.circuit.there()) return std::nullopt;
  const int step = test == nullptr || !test->running ? -1 : test->step;
  std::vector<int> loads;
  if (wanted >= 0) loads.push_back(wanted);
  for (int i = 0; i < to_int(pack.circuit.elements.size()); ++i) {
    if (i != wanted && circuit::is_load(netlist.elements[to_size(i)].kind)) loads.push_back(i);
  }
  for (const int load : loads) {
    ChosenStrip chosen = fed(pack, netlist, load, step);
    if (!chosen.strip.error && holds(pack, chosen.strip, test)) return chosen;
  }
  return std::nullopt;
}

std::optional<ChosenStrip> strip_through(const pack::Pack& pack, const circuit::Netlist& netlist,
                                         const std::vector<int>& elements) {
  const auto among = [&](int element) {
    return std::find(elements.begin(), elements.end(), element) != elements.end();
  };
  std::optional<ChosenStrip> found;
  for (int i = 0; i < to_int(pack.circuit.elements.size()); ++i) {
    if (!circuit::is_load(netlist.elements[to_size(i)].kind)) continue;
    const bool own = among(i);
    if (found && !own) continue;
    ChosenStrip chosen = fed(pack, netlist, i, -1);
    const std::vector<circuit::Link>& links = chosen.strip.links;
    const bool passed = std::any_of(links.begin(), links.end(), [&](const circuit::Link& link) {
      return among(link.element);
    });
    if (chosen.strip.error || !(own || passed)) continue;
    found = std::move(chosen);
    if (own) break;   // the load itself before what only shares its path
  }
  return found;
}

CircuitView picture_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                       const ChosenStrip& chosen, const pack::Test* test,
                       const std::vector<int>& suspects) {
  CircuitView out;
  const circuit::Ladder ladder = circuit::ladder(netlist, chosen.strip);
  const Along along(ladder, suspects);
  const pack::Programme& programme = pack.circuit.programme;
  const bool stepped = chosen.step >= 0 && chosen.step < to_int(programme.steps.size());
  out.caption = stepped ? cat(programme.steps[to_size(chosen.step)].title, ", step ",
                              integer_text(chosen.step + 1), ": the one live path")
                        : cat(netlist.elements[to_size(chosen.strip.load)].name, ": its path");
  out.cells = along.cells();
  out.lanes = std::max(1, static_cast<int>(std::lround(ladder.width)));
  out.spoken = out.caption;
  for (const circuit::LadderSymbol& one : ladder.symbols) {
    const circuit::Element& element = netlist.elements[to_size(one.element)];
    if (hidden(one, suspects)) {
      // Where others share its cell the wire is drawn through it.
      const int lane = static_cast<int>(std::lround(one.at.x));
      out.wires.push_back({along.of(one.at.y - 0.5), along.of(one.at.y + 0.5), lane, lane});
      continue;
    }
    CircuitSymbol symbol;
    symbol.kind = kind_of(one.kind);
    symbol.name = short_name(element.name);
    symbol.along = along.of(one.at.y);
    symbol.lane = static_cast<int>(std::lround(one.at.x));
    symbol.closed = one.closed;
    symbol.rest_closed = one.rest_closed;
    symbol.load = one.load;
    symbol.suspect = std::find(suspects.begin(), suspects.end(), one.element) != suspects.end();
    for (const circuit::Link& link : chosen.strip.links) {
      if (link.element == one.element) symbol.state = link.why;
    }
    if (symbol.lane == 0) {
      out.spoken += cat(", ", symbol.name, symbol.state.empty() ? "" : ": ", symbol.state);
    }
    out.symbols.push_back(std::move(symbol));
  }
  for (const circuit::LadderWire& wire : ladder.wires) {
    out.wires.push_back({along.of(wire.from.y), along.of(wire.to.y),
                         static_cast<int>(std::lround(wire.from.x)),
                         static_cast<int>(std::lround(wire.to.x))});
  }
  for (const circuit::LadderTap& tap : ladder.taps) {
    CircuitPoint point;
    point.along = along.of(tap.at.y);
    point.lane = static_cast<int>(std::lround(tap.at.x));
    for (const pack::TestPoint& one : pack.circuit.points) {
      if (one.node == tap.node && point.name.empty()) point.name = one.title;
    }
    if (test != nullptr && test->point_a >= 0) {
      for (const auto& [at, letter] : {std::pair{test->point_a, "A"}, std::pair{test->point_b, "B"}}) {
        if (node_at(pack, at) != tap.node) continue;
        point.letter = letter;
        point.name = pack.circuit.points[to_size(at)].title;
      }
    }
    // Places that wires alone keep apart are one place here; the probe's own name is kept.
    const auto same = std::find_if(out.points.begin(), out.points.end(), [&](const CircuitPoint& other) {
      return other.lane == point.lane && std::abs(other.along - point.along) < 0.01;
    });
    if (point.name.empty()) continue;
    if (same == out.points.end()) {
      out.points.push_back(std::move(point));
    } else if (same->letter.empty()) {
      *same = std::move(point);
    }
  }
  return out;
}

ChartView chart_of(const pack::Pack& pack, const circuit::Strip& strip, int step) {
  ChartView out;
  const pack::Programme& programme = pack.circuit.programme;
  for (const pack::ProgrammeStep& one : programme.steps) out.steps.push_back(one.title);
  for (int i = 0; i < to_int(programme.rows.size()); ++i) {
    const pack::ProgrammeRow& row = programme.rows[to_size(i)];
    ChartView::Line line;
    line.name = row.title;
    line.on = row.on;
    line.on_strip = std::any_of(strip.links.begin(), strip.links.end(), [&](const circuit::Link& link) {
      return link.element < to_int(pack.circuit.elements.size()) &&
             pack.circuit.elements[to_size(link.element)].row == i;
    });
    out.lines.push_back(std::move(line));
  }
  out.present = step;
  return out;
}

}  // namespace kp::app
