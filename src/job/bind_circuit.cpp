#include "job/bind_circuit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"

namespace kp::job {
namespace {

constexpr double kMilli = 1e-3;
constexpr double kMicro = 1e-6;
/// From this share of the highest range on an open loop is what is meant.
constexpr double kNearTop = 0.9;

circuit::Spread spread_of(const pack::Spread& spread, double unit = 1) {
  return {spread.low * unit, spread.typical * unit, spread.high * unit};
}

/// Both enumerations list the same words; the netlist's has the supply as well.
circuit::Kind kind_of(pack::ElementKind kind) {
  return static_cast<circuit::Kind>(static_cast<int>(kind));
}

circuit::Element element_of(const pack::Element& from) {
  circuit::Element element;
  element.kind = kind_of(from.kind);
  element.name = from.name;
  element.a = from.a;
  element.b = from.b;
  element.ohm = spread_of(from.ohm);
  element.henry = spread_of(from.millihenry, kMilli);
  element.farad = spread_of(from.microfarad, kMicro);
  element.per_kelvin = from.per_kelvin;
  element.rest_closed = from.closed_at_rest;
  element.row = from.row;
  element.switch_celsius = from.switch_celsius;
  element.back_kelvin = from.back_kelvin;
  element.beta = spread_of(from.beta);
  for (const pack::TableRow& row : from.table) {
    element.table.push_back({row.celsius, row.ohm});
  }
  element.rated_ampere = from.rated_amperes;
  element.pullable = !from.terminal.empty();
  return element;
}

circuit::Chart chart_of(const pack::Programme& programme) {
  circuit::Chart chart;
  for (const pack::ProgrammeStep& step : programme.steps) {
    chart.steps.push_back({step.title, static_cast<double>(step.seconds)});
  }
  for (const pack::ProgrammeRow& row : programme.rows) {
    chart.rows.push_back({row.title, row.on});
  }
  return chart;
}

bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

/// Whether something moves this contact out of its rest, of those that stand still meanwhile.
bool is_moved(const pack::Element& element, const UnitStand& stand, int index) {
  if (element.kind == pack::ElementKind::push_button) {
    return !holds(stand.buttons_out, index);
  }
  switch (element.moved_by) {
    case pack::MovedBy::hand: return false;
    case pack::MovedBy::door_shut: return !stand.door_open;
    case pack::MovedBy::float_up: return stand.float_up;
  }
  return false;
}

/// Why a contact that stands still meanwhile is where it is.
std::string mover_words(const pack::Element& element, const UnitStand& stand, bool closed) {
  const std::string position = closed ? "closed" : "open";
  if (element.kind == pack::ElementKind::push_button) {
    const bool rests = closed == element.closed_at_rest;
    return cat(position, rests ? ", not pressed" : ", pressed");
  }
  switch (element.moved_by) {
    case pack::MovedBy::hand: return cat(position, " by hand");
    case pack::MovedBy::door_shut:
      return cat(position, stand.door_open ? ", the door is open" : ", the door is shut");
    case pack::MovedBy::float_up:
      return cat(position, stand.float_up ? ", the float is up" : ", the float is down");
  }
  return position;
}

void tell_movers(const pack::Pack& pack, const UnitStand& stand,
                 std::vector<circuit::Link>& links) {
  for (circuit::Link& link : links) {
    if (link.state.cause == circuit::Cause::held) {
      link.why = mover_words(pack.circuit.elements[to_size(link.element)], stand, link.state.closed);
    }
  }
}

/// The number with that many digits behind the point, below or above.
double rounded(double value, double step, bool up) {
  if (!std::isfinite(value) || !(step > 0)) {
    return value;
  }
  const double steps = value / step;
  const double whole = up ? std::ceil(steps - 1e-9) : std::floor(steps + 1e-9);
  const int decimals = std::max(0, static_cast<int>(std::ceil(-std::log10(step) - 1e-9)));
  const auto tidy = parse_number(fixed_text(whole * step, decimals));
  return tidy.value_or(value);
}

}  // namespace

circuit::Netlist bind_circuit(const pack::Pack& pack) {
  circuit::Netlist netlist;
  netlist.hertz = pack.supply.hertz;
  for (const std::string& id : pack.circuit.nodes) {
    netlist.nodes.push_back({id});
  }
  for (auto point = pack.circuit.points.rbegin(); point != pack.circuit.points.rend(); ++point) {
    netlist.nodes[to_size(point->node)].name = point->title;
  }
  for (const pack::Element& element : pack.circuit.elements) {
    netlist.elements.push_back(element_of(element));
  }
  const pack::Mains& mains = pack.circuit.mains;
  circuit::Element supply =
      circuit::supply(mains.line, mains.neutral, spread_of(mains.volts), spread_of(mains.ohm));
  supply.name = "Supply";
  supply.rated_ampere = pack.supply.breaker_amperes;
  netlist.elements.push_back(std::move(supply));
  netlist.chart = chart_of(pack.circuit.programme);
  netlist.neutral = mains.neutral;
  netlist.earth = mains.earth;
  return netlist;
}

circuit::Setting setting_of(const pack::Pack& pack, const UnitStand& stand) {
  circuit::Setting setting;
  setting.powered = stand.powered;
  setting.step = stand.step;
  setting.celsius = stand.celsius;
  for (std::size_t i = 0; i < pack.circuit.elements.size(); ++i) {
    const pack::Element& element = pack.circuit.elements[i];
    const int index = to_int(i);
    if (holds(stand.off, index) || (element.joint >= 0 && holds(stand.joints, element.joint))) {
      setting.pulled.push_back(index);
    }
    const bool by_hand = element.kind == pack::ElementKind::push_button ||
                         element.kind == pack::ElementKind::switch_contact;
    if (by_hand) {
      setting.held.push_back({index, element.closed_at_rest != is_moved(element, stand, index)});
    }
    if (stand.cooling && element.kind == pack::ElementKind::thermostat) {
      setting.warm.push_back({index, stand.celsius, true});
    }
  }
  return setting;
}

UnitStand stand_of(const pack::Test& test) {
  UnitStand stand;
  stand.powered = pack::is_live(test.probe);
  stand.step = test.step;
  stand.door_open = test.door_open;
  stand.float_up = test.float_up;
  stand.buttons_out = test.buttons_out;
  stand.joints = test.needs_released;
  stand.off = test.off;
  stand.celsius = test.celsius;
  return stand;
}

std::optional<circuit::Fault> fault_of(const pack::Fault& fault) {
  if (fault.effect == pack::Effect::mechanical) {
    return std::nullopt;
  }
  // Both enumerations stand in the same order; the pack's has the mechanical one in front.
  const auto kind = static_cast<circuit::FaultKind>(static_cast<int>(fault.effect) - 1);
  return circuit::Fault{fault.element, kind, spread_of(fault.amount), fault.at};
}

namespace {

/// What these faults of the pack do to the netlist.
std::vector<circuit::Fault> electrical_of(const pack::Pack& pack, const std::vector<int>& faults) {
  std::vector<circuit::Fault> out;
  for (const int fault : faults) {
    const auto one = fault_of(pack.faults[to_size(fault)]);
    if (one.has_value()) {
      out.push_back(one.value());
    }
  }
  return out;
}

}  // namespace

circuit::Mode mode_of(pack::Probe probe) {
  switch (probe) {
    case pack::Probe::continuity: return circuit::Mode::continuity;
    case pack::Probe::volt_live: return circuit::Mode::volts;
    case pack::Probe::volt_low_live: return circuit::Mode::volts_low_z;
    case pack::Probe::ampere_live: return circuit::Mode::amperes;
    case pack::Probe::look:
    case pack::Probe::other:
    case pack::Probe::ohm: return circuit::Mode::ohms;
  }
  return circuit::Mode::ohms;
}

Measurement measurement_of(const pack::Pack& pack, const pack::Test& test) {
  Measurement measurement;
  if (test.point_a >= 0) {
    measurement.probe =
        circuit::between(mode_of(test.probe), pack.circuit.points[to_size(test.point_a)].node,
                         pack.circuit.points[to_size(test.point_b)].node);
  } else {
    measurement.probe = circuit::clamp(test.clamped);
  }
  measurement.setting = setting_of(pack, stand_of(test));
  return measurement;
}

circuit::Band good_band(const pack::Pack& pack, const circuit::Netlist& netlist,
                        const pack::Test& test) {
  const Measurement m = measurement_of(pack, test);
  return circuit::expect(netlist, m.meter, m.probe, m.setting);
}

circuit::Band fault_band(const pack::Pack& pack, const circuit::Netlist& netlist,
                         const pack::Test& test, const std::vector<int>& faults) {
  const std::vector<circuit::Fault> electrical = electrical_of(pack, faults);
  const Measurement m = measurement_of(pack, test);
  return circuit::expect(netlist, m.meter, m.probe, m.setting, electrical);
}

circuit::Reading reading_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                            const pack::Test& test, const std::vector<int>& faults) {
  const std::vector<circuit::Fault> electrical = electrical_of(pack, faults);
  const Measurement m = measurement_of(pack, test);
  return circuit::read(netlist, m.meter, m.probe, m.setting, electrical);
}

void fill_bands(pack::Pack& pack) {
  if (!pack.circuit.there()) {
    return;
  }
  const circuit::Netlist netlist = bind_circuit(pack);
  for (pack::Test& test : pack.tests) {
    if (!test.on_circuit()) {
      continue;
    }
    const circuit::Band band = good_band(pack, netlist, test);
    const bool there = band.state == circuit::State::shown || band.state == circuit::State::over;
    if (!there || !band.bounded) {
      continue;
    }
    const circuit::Meter meter;
    const circuit::Mode mode = mode_of(test.probe);
    test.low = std::isfinite(band.shown_low)
                   ? rounded(band.shown_low, circuit::display(meter, mode, band.shown_low).step, false)
                   : meter.ranges(mode).back().top;
    test.high = rounded(band.shown_high, circuit::display(meter, mode, band.shown_high).step, true);
  }
}

std::string quantity_words(double value, const std::string& unit) {
  if (unit == "\u03A9" && value >= 1e6) {
    return cat(number_text(value / 1e6), " M\u03A9");
  }
  if (unit == "\u03A9" && value >= 1e4) {
    return cat(number_text(value / 1e3), " k\u03A9");
  }
  return cat(number_text(value), " ", unit);
}

std::string band_words(const pack::Test& test) {
  if (test.probe == pack::Probe::look) {
    return "";
  }
  const std::string low = quantity_words(test.low, test.unit);
  if (std::isfinite(test.high)) {
    const std::string high = quantity_words(test.high, test.unit);
    const bool same_unit = low.substr(low.find(' ')) == high.substr(high.find(' '));
    return cat(same_unit ? low.substr(0, low.find(' ')) : low, " to ", high);
  }
  if (!test.on_circuit()) {
    return cat(low, " or more");
  }
  const double top = circuit::Meter{}.ranges(mode_of(test.probe)).back().top;
  return test.low >= kNearTop * top ? std::string("OL") : cat(low, " to OL");
}

bool in_band(const pack::Test& test, double value, bool open_loop) {
  if (open_loop) {
    return !std::isfinite(test.high);
  }
  return test.low <= value && value <= test.high;
}

std::vector<int> loads_of(const pack::Pack& pack, int part) {
  std::vector<int> loads;
  for (std::size_t i = 0; i < pack.circuit.elements.size(); ++i) {
    const pack::Element& element = pack.circuit.elements[i];
    if (element.part == part && circuit::is_load(kind_of(element.kind))) {
      loads.push_back(to_int(i));
    }
  }
  return loads;
}

circuit::Strip strip_of(const pack::Pack& pack, const circuit::Netlist& netlist, int load,
                        const UnitStand& stand, std::span<const circuit::Fault> faults) {
  circuit::Strip strip = circuit::path(netlist, setting_of(pack, stand), load, faults);
  tell_movers(pack, stand, strip.links);
  for (circuit::Sneak& sneak : strip.sneaks) {
    tell_movers(pack, stand, sneak.links);
  }
  return strip;
}

circuit::Strip strip_of(const pack::Pack& pack, const circuit::Netlist& netlist, int load,
                        int step) {
  UnitStand stand;
  stand.powered = true;
  stand.step = step;
  return strip_of(pack, netlist, load, stand);
}

}  // namespace kp::job
