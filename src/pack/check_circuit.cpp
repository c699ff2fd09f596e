#include <algorithm>

#include "pack/report.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

std::string in(std::string_view list, int index) { return cat("/circuit/", list, "/", index); }

const std::string& word_of(ElementKind kind) {
  return element_kind_words()[to_size(static_cast<int>(kind))];
}

bool in_order(const Spread& spread) {
  return spread.low <= spread.typical && spread.typical <= spread.high;
}

/// The value that an element of its kind cannot do without, or empty.
const char* missing_value(const Element& element) {
  switch (element.kind) {
    case ElementKind::resistor:
    case ElementKind::heater:
      return element.ohm.low > 0 ? "" : "ohm";
    case ElementKind::coil:
    case ElementKind::winding:
      return element.ohm.low > 0 || element.millihenry.low > 0 ? "" : "ohm";
    case ElementKind::capacitor:
      return element.microfarad.low > 0 ? "" : "microfarad";
    case ElementKind::ntc:
      return !(element.ohm.low > 0) ? "ohm" : element.beta.low > 0 ? "" : "beta";
    case ElementKind::ptc:
      return element.table.size() >= 2 ? "" : "table";
    case ElementKind::cam_contact:
      return element.row >= 0 ? "" : "row";
    case ElementKind::thermostat:
      return element.switch_celsius > 0 ? "" : "switch_celsius";
    case ElementKind::fuse:
    case ElementKind::switch_contact:
    case ElementKind::push_button:
    case ElementKind::relay_contact:
    case ElementKind::triac:
    case ElementKind::connector:
    case ElementKind::wire:
      return "";
  }
  return "";
}

bool table_rises(const Element& element) {
  return std::is_sorted(
      element.table.begin(), element.table.end(),
      [](const TableRow& a, const TableRow& b) { return a.celsius <= b.celsius; });
}

void check_element(const Pack& pack, int index, Report& report) {
  const Circuit& circuit = pack.circuit;
  const Element& element = circuit.elements[to_size(index)];
  const std::string here = in("elements", index);
  if (element.a == element.b) {
    report.add("self-loop", here,
               cat("both ends of ", quoted(element.id), " are at ",
                   quoted(circuit.nodes[to_size(element.a)])),
               "Join its ends to two nodes.");
  }
  const std::string missing = missing_value(element);
  if (!missing.empty()) {
    report.add("element-value", here,
               cat(quoted(element.id), " is a ", word_of(element.kind), " without ",
                   quoted(missing)),
               cat("Add its ", quoted(missing), "."));
  }
  const bool ordered = in_order(element.ohm) && in_order(element.millihenry) &&
                       in_order(element.microfarad) && in_order(element.beta);
  if (!ordered || !table_rises(element)) {
    report.add("element-value", here,
               cat("a value of ", quoted(element.id), " does not rise"),
               "Write the least first and the most last.");
  }
  if (!element.terminal.empty() && element.part >= 0 &&
      circuit.terminal(element.part, element.terminal) != index) {
    report.add("terminal-double", here,
               cat("the terminal ", quoted(element.terminal), " of ",
                   quoted(pack.parts[to_size(element.part)].id), " is joined twice"),
               "Give each terminal its own word.");
  }
}

void check_nodes(const Circuit& circuit, Report& report) {
  std::vector<int> joins(circuit.nodes.size());
  for (const Element& element : circuit.elements) {
    ++joins[to_size(element.a)];
    ++joins[to_size(element.b)];
  }
  ++joins[to_size(circuit.mains.line)];
  ++joins[to_size(circuit.mains.neutral)];
  if (circuit.mains.earth >= 0) {
    ++joins[to_size(circuit.mains.earth)];
  }
  for (std::size_t i = 0; i < joins.size(); ++i) {
    if (joins[i] < 2) {
      report.add("node-floats", in("nodes", to_int(i)),
                 cat("the node ", quoted(circuit.nodes[i]),
                     joins[i] == 0 ? " joins nothing" : " joins one element only"),
                 "Join a second element to it, or remove it.");
    }
  }
}

void check_chart(const Circuit& circuit, Report& report) {
  const Programme& programme = circuit.programme;
  for (std::size_t i = 0; i < programme.rows.size(); ++i) {
    const ProgrammeRow& row = programme.rows[i];
    if (row.on.size() != programme.steps.size()) {
      report.add("chart-row", cat("/circuit/programme/rows/", to_int(i), "/on"),
                 cat("the row ", quoted(row.id), " has ", to_int(row.on.size()),
                     " signs and the chart has ", to_int(programme.steps.size()), " steps"),
                 "Write one sign a step.");
    }
    const bool moves =
        std::any_of(circuit.elements.begin(), circuit.elements.end(),
                    [i](const Element& element) { return element.row == to_int(i); });
    if (!moves) {
      report.add("row-idle", cat("/circuit/programme/rows/", to_int(i)),
                 cat("the row ", quoted(row.id), " moves no contact"),
                 "Name it as the \"row\" of a contact, or remove it.");
    }
  }
}

void check_points(const Pack& pack, const Reach& reach, Report& report) {
  for (std::size_t i = 0; i < pack.circuit.points.size(); ++i) {
    const TestPoint& point = pack.circuit.points[i];
    const bool open = any_reached(point.positions, reach) &&
                      is_open(pack, point.behind, carriers(pack, point.part), reach.parts,
                              places_of(point.positions, reach)) &&
                      std::all_of(point.needs_released.begin(), point.needs_released.end(),
                                  [&reach](int joint) { return reach.joints[to_size(joint)]; });
    if (!open) {
      report.add("point-out-of-reach", in("test_points", to_int(i)),
                 cat("no probe can reach the test point ", quoted(point.id)),
                 "Name positions, covers and joints that can be had.");
    }
  }
}

/// What is wrong with what a fault does, or empty.
std::string effect_fault(const Fault& fault) {
  if (fault.effect == Effect::mechanical) {
    return fault.element < 0 ? "" : "it names an element and not what it does to it";
  }
  if (fault.element < 0) {
    return "it does something to no element";
  }
  if (!in_order(fault.amount)) {
    return "its amount does not rise";
  }
  const bool needs = fault.effect == Effect::high_joint || fault.effect == Effect::drifted ||
                     fault.effect == Effect::earth_leak;
  return needs && !(fault.amount.low > 0) ? "its amount is missing" : "";
}

bool shown_by(const std::vector<Shows>& all, int fault) {
  return std::any_of(all.begin(), all.end(),
                     [fault](const Shows& one) { return one.fault == fault; });
}

}  // namespace

void check_circuit(const Pack& pack, const Reach& reach, Report& report) {
  if (!pack.circuit.there()) {
    return;
  }
  check_nodes(pack.circuit, report);
  for (std::size_t i = 0; i < pack.circuit.elements.size(); ++i) {
    check_element(pack, to_int(i), report);
  }
  check_chart(pack.circuit, report);
  check_points(pack, reach, report);
}

void check_faults(const Pack& pack, Report& report) {
  for (std::size_t i = 0; i < pack.faults.size(); ++i) {
    const Fault& fault = pack.faults[i];
    const std::string here = at("faults", to_int(i));
    const std::string wrong = effect_fault(fault);
    if (!wrong.empty()) {
      report.add("fault-effect", here, cat("the fault ", quoted(fault.id), ": ", wrong),
                 "Write \"does\", \"element\" and \"amount\" together, or none of them.");
    }
    const Part& part = pack.parts[to_size(fault.part)];
    if (part.stock.empty() && fault.mend.empty()) {
      report.add("fault-mend", here,
                 cat("the fault ", quoted(fault.id), " is in the part ", quoted(part.id),
                     ", which has no stock number, and nothing mends it"),
                 "Add \"mend\" and \"mend_seconds\", or the part's \"stock\".");
    }
    const auto shows = [&](const auto& one) { return shown_by(one.shows, to_int(i)); };
    const auto causes = [&](const auto& one) { return shown_by(one.causes, to_int(i)); };
    if (std::none_of(pack.symptoms.begin(), pack.symptoms.end(), causes)) {
      report.add("fault-silent", here,
                 cat("no complaint comes from the fault ", quoted(fault.id)),
                 "Name it in the \"causes\" of a symptom.");
    }
    if (fault.effect == Effect::mechanical &&
        std::none_of(pack.tests.begin(), pack.tests.end(), shows)) {
      report.add("fault-untested", here, cat("no test shows the fault ", quoted(fault.id)),
                 "Name it in the \"shows\" of a test.");
    }
  }
}

}  // namespace kp::pack
