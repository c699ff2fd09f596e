// read, strip.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/ladder_drawing.hpp"
#include "data/value.hpp"
#include "job/bind_circuit.hpp"
#include "pack/load.hpp"

namespace kp::cli {
namespace {

using data::Value;

const std::vector<std::string>& meter_words() {
  static const std::vector<std::string> words = {"ohm", "continuity", "volt",
                                                 "volt-low-impedance", "ampere"};
  return words;
}

/// Finds words in a pack; the first that names nothing is told on `err`.
class Finder {
 public:
  Finder(const pack::Pack& pack, std::string& err) : pack_(pack), err_(err) {}

  [[nodiscard]] bool good() const { return good_; }

  int point(const std::string& word) {
    return found(pack_.circuit.point(word), word, "test point", pack_.circuit.points);
  }
  int element(const std::string& word) {
    return found(pack_.circuit.element(word), word, "element", pack_.circuit.elements);
  }
  int fault(const std::string& word) {
    return found(pack_.fault(word), word, "fault", pack_.faults);
  }
  /// A step by its id or its number from 1; "off" and nothing: -1.
  int step(const std::string& word) {
    const auto& steps = pack_.circuit.programme.steps;
    if (word.empty() || word == "off") {
      return -1;
    }
    const auto number = parse_integer(word);
    if (number.has_value() && *number >= 1 && *number <= to_int(steps.size())) {
      return static_cast<int>(*number - 1);
    }
    return found(pack_.circuit.step(word), word, "step", steps);
  }
  /// "heater/A": the element that joins terminal A of the heater.
  int terminal(const std::string& word) {
    const std::size_t slash = word.find('/');
    const std::string id = word.substr(0, slash);
    const int part = found(pack_.part(id), id, "part", pack_.parts);
    if (part < 0) {
      return -1;
    }
    const std::string name = slash == std::string::npos ? "" : word.substr(slash + 1);
    const int element = pack_.circuit.terminal(part, name);
    if (element < 0) {
      std::vector<std::string> names;
      for (const pack::Element& one : pack_.circuit.elements) {
        if (one.part == part && !one.terminal.empty()) {
          names.push_back(one.terminal);
        }
      }
      good_ = false;
      err_ += cat("\"", word, "\" is no terminal. The terminals of ", id, " are ",
                  names.empty() ? "none" : join(names, ", "), ".\n");
    }
    return element;
  }

 private:
  template <class Things>
  int found(int index, const std::string& word, const char* what, const Things& things) {
    if (index < 0 && good_) {
      good_ = false;
      err_ += no_such(word, what, ids_of(things));
    }
    return index;
  }

  const pack::Pack& pack_;
  std::string& err_;
  bool good_ = true;
};

/// The electrical ones of the faults named; a mechanical one changes no reading.
std::vector<circuit::Fault> faults_of(const pack::Pack& pack, const std::vector<std::string>& ids,
                                      Finder& find) {
  std::vector<circuit::Fault> faults;
  for (const std::string& id : ids) {
    const int index = find.fault(id);
    const auto fault = index < 0 ? std::nullopt : job::fault_of(pack.faults[to_size(index)]);
    if (fault.has_value()) {
      faults.push_back(fault.value());
    }
  }
  return faults;
}

/// A pack that loads and has a circuit; else the exit code.
int circuit_pack(const std::string& name, Files& files, Output& output, pack::Pack& pack) {
  if (const int loaded = read_pack(name, files, output, pack); loaded != kDone) {
    return loaded;
  }
  const Findings odd = circuit::check(job::bind_circuit(pack));
  if (!pack.circuit.there() || odd.faults() > 0) {
    output.err += cat(name, pack.circuit.there() ? " has a circuit with faults. Check it first.\n"
                                                 : " has no circuit.\n");
    return kFinding;
  }
  return kDone;
}

std::string value_text(const circuit::Meter& meter, circuit::Mode mode, double value) {
  return circuit::display(meter, mode, value).text;
}

struct Measured {
  circuit::Reading reading;
  circuit::Band good;
  bool fits = false;
  std::string sneak;  ///< how current gets round what is measured, empty: it does not
};

bool fits(const circuit::Reading& reading, const circuit::Band& good) {
  const bool shown = reading.state == circuit::State::shown;
  if (!shown && reading.state != circuit::State::over) {
    return false;
  }
  return good.holds(shown ? reading.value : HUGE_VAL);
}

/// The element that has its ends at the two points, where there is one.
int element_between(const pack::Circuit& circuit, int a, int b) {
  for (std::size_t i = 0; i < circuit.elements.size(); ++i) {
    const pack::Element& element = circuit.elements[i];
    if ((element.a == a && element.b == b) || (element.a == b && element.b == a)) {
      return to_int(i);
    }
  }
  return -1;
}

Value number_or_null(double value) { return Value::of(value); }

std::string as_json(const ReadWanted& wanted, const Measured& measured) {
  Value root = Value::object();
  Value points = Value::array();
  for (const std::string& point : wanted.points.empty() ? wanted.clamp : wanted.points) {
    points.push(Value::of(point));
  }
  root.set("points", std::move(points));
  root.set("meter", Value::of(wanted.meter));
  Value reading = Value::object();
  reading.set("text", Value::of(measured.reading.text));
  reading.set("value", measured.reading.state == circuit::State::shown
                           ? Value::of(measured.reading.value)
                           : Value());
  reading.set("open_loop", Value::of(measured.reading.state == circuit::State::over));
  root.set("reading", std::move(reading));
  Value good = Value::object();
  good.set("low", number_or_null(measured.good.shown_low));
  good.set("typical", number_or_null(measured.good.typical));
  good.set("high", number_or_null(measured.good.shown_high));
  root.set("good", std::move(good));
  root.set("fits", Value::of(measured.fits));
  root.set("also", Value::of(measured.sneak));
  return data::print(root) + "\n";
}

std::string as_text(const circuit::Meter& meter, circuit::Mode mode, const Measured& measured) {
  const circuit::Band& good = measured.good;
  std::string out = cat(measured.reading.text, "\n");
  const std::string low = value_text(meter, mode, good.shown_low);
  const std::string high = value_text(meter, mode, good.shown_high);
  out += cat("good: ", low == high ? low : cat(low, " to ", high), "\n");
  out += measured.fits ? "as a good one\n" : "not as a good one\n";
  if (!measured.sneak.empty()) {
    out += cat(measured.sneak, "\n");
  }
  return out;
}

}  // namespace

int print_reading(const ReadWanted& wanted, Files& files, Output& output) {
  pack::Pack pack;
  const int loaded = circuit_pack(wanted.pack, files, output, pack);
  if (loaded != kDone) {
    return loaded;
  }
  Finder find(pack, output.err);
  const auto word = std::find(meter_words().begin(), meter_words().end(), wanted.meter);
  if (word == meter_words().end()) {
    output.err += no_such(wanted.meter, "setting of the meter", meter_words());
    return kUsage;
  }
  const auto mode = static_cast<circuit::Mode>(word - meter_words().begin());
  const bool clamps = mode == circuit::Mode::amperes;
  if (clamps ? wanted.clamp.empty() : wanted.points.size() != 2) {
    output.err += clamps ? "Amperes are read with --clamp ELEMENT.\n"
                         : "Name two test points with --points A,B.\n";
    return kUsage;
  }
  job::UnitStand stand;
  stand.powered = clamps || mode == circuit::Mode::volts || mode == circuit::Mode::volts_low_z;
  stand.step = find.step(wanted.step);
  stand.door_open = wanted.door_open;
  stand.float_up = wanted.float_up;
  stand.celsius = wanted.celsius;
  for (const std::string& terminal : wanted.off) {
    stand.off.push_back(find.terminal(terminal));
  }
  circuit::Probe probe;
  probe.mode = mode;
  for (const std::string& element : wanted.clamp) {
    probe.clamped.push_back(find.element(element));
  }
  if (!clamps) {
    const int a = find.point(wanted.points[0]);
    const int b = find.point(wanted.points[1]);
    if (a >= 0 && b >= 0) {
      probe.a = pack.circuit.points[to_size(a)].node;
      probe.b = pack.circuit.points[to_size(b)].node;
    }
  }
  const std::vector<circuit::Fault> faults = faults_of(pack, wanted.faults, find);
  if (!find.good()) {
    return kUsage;
  }
  const circuit::Netlist netlist = job::bind_circuit(pack);
  const circuit::Setting setting = job::setting_of(pack, stand);
  const circuit::Meter meter;
  Measured measured;
  measured.reading = circuit::read(netlist, meter, probe, setting, faults);
  measured.good = circuit::expect(netlist, meter, probe, setting);
  measured.fits = fits(measured.reading, measured.good);
  const int across = stand.powered ? -1 : element_between(pack.circuit, probe.a, probe.b);
  if (across >= 0) {
    const auto round = circuit::way_round(netlist, setting, across, faults);
    measured.sneak = round.has_value() ? circuit::sneak_text(netlist, round.value()) : "";
  }
  output.out += wanted.json ? as_json(wanted, measured) : as_text(meter, mode, measured);
  return measured.fits ? kDone : kFinding;
}

namespace {

Value strip_value(const pack::Pack& pack, const circuit::Netlist& netlist,
                  const circuit::Strip& strip) {
  Value out = Value::object();
  out.set("load", Value::of(pack.circuit.elements[to_size(strip.load)].id));
  out.set("closed", Value::of(strip.closed));
  out.set("volts", Value::of(strip.volt));
  out.set("amperes", Value::of(strip.ampere));
  Value links = Value::array();
  for (const circuit::Link& link : strip.links) {
    Value one = Value::object();
    one.set("element", Value::of(pack.circuit.elements[to_size(link.element)].id));
    one.set("closed", Value::of(link.state.closed));
    one.set("why", Value::of(link.why));
    links.push(std::move(one));
  }
  out.set("links", std::move(links));
  Value sneaks = Value::array();
  for (const circuit::Sneak& sneak : strip.sneaks) {
    sneaks.push(Value::of(circuit::sneak_text(netlist, sneak)));
  }
  out.set("sneaks", std::move(sneaks));
  return out;
}

std::string strip_words(const circuit::Netlist& netlist, const circuit::Strip& strip,
                        const std::string& step) {
  std::string out = cat(netlist.elements[to_size(strip.load)].name, ", ", step, ": ");
  if (strip.error.has_value()) {
    return cat(out, strip.error->text(), "\n");
  }
  const circuit::Meter meter;
  out += strip.closed ? cat(value_text(meter, circuit::Mode::volts, strip.volt), ", ",
                            value_text(meter, circuit::Mode::amperes, strip.ampere), "\n")
                      : "no current\n";
  out += cat("  L\n", ladder_text(netlist, strip), "  N\n");
  for (const circuit::Link& link : strip.links) {
    if (!link.state.closed) {
      out += cat(netlist.elements[to_size(link.element)].name, " is ", link.why, ".\n");
    }
  }
  for (const circuit::Sneak& sneak : strip.sneaks) {
    out += cat(circuit::sneak_text(netlist, sneak), "\n");
  }
  return out;
}

}  // namespace

int print_strip(const StripWanted& wanted, Files& files, Output& output) {
  pack::Pack pack;
  const int loaded = circuit_pack(wanted.pack, files, output, pack);
  if (loaded != kDone) {
    return loaded;
  }
  Finder find(pack, output.err);
  const int step = find.step(wanted.step);
  const int part = pack.part(wanted.load);
  std::vector<int> loads = part < 0 ? std::vector<int>{} : job::loads_of(pack, part);
  if (part < 0) {
    loads.push_back(find.element(wanted.load));
  }
  const std::vector<circuit::Fault> faults = faults_of(pack, wanted.faults, find);
  if (!find.good()) {
    return kUsage;
  }
  const circuit::Netlist netlist = job::bind_circuit(pack);
  if (loads.empty() || !circuit::is_load(netlist.elements[to_size(loads.front())].kind)) {
    output.err += cat("\"", wanted.load, "\" is no load.\n");
    return kUsage;
  }
  const std::string title =
      step < 0 ? "off" : pack.circuit.programme.steps[to_size(step)].title;
  job::UnitStand stand;
  stand.powered = true;
  stand.step = step;
  stand.celsius = wanted.celsius;
  std::vector<circuit::Strip> strips;
  bool closed = true;
  Value all = Value::array();
  std::string text;
  for (const int load : loads) {
    strips.push_back(job::strip_of(pack, netlist, load, stand, faults));
    closed = closed && strips.back().closed;
    all.push(strip_value(pack, netlist, strips.back()));
    text += strip_words(netlist, strips.back(), title);
  }
  output.out += wanted.svg ? ladder_svg(netlist, strips.size() == 1
                                                     ? circuit::ladder(netlist, strips.front())
                                                     : circuit::ladder(netlist, strips))
                : wanted.json ? data::print(all) + "\n"
                              : text;
  return closed ? kDone : kFinding;
}

}  // namespace kp::cli
