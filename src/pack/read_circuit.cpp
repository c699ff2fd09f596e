#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr int kDay = 86400;
constexpr double kCold = -273.15;
constexpr double kHot = 2000;

TableRow read_table_row(data::Reader& from) {
  TableRow row;
  row.celsius = from.number("celsius", kCold, kHot);
  row.ohm = from.number("ohm", 0, kMostValue);
  from.done();
  return row;
}

Element read_element(data::Reader& from, const Names& names) {
  Element element;
  element.id = id_text(from, "id");
  element.name = words(from, "name");
  element.kind = static_cast<ElementKind>(from.choice("kind", element_kind_words()));
  element.a = reference(from, "a", names.nodes, "node");
  element.b = reference(from, "b", names.nodes, "node");
  element.part = reference_or_none(from, "part", names.parts, "part");
  element.terminal = words_or_none(from, "terminal");
  element.joint = reference_or_none(from, "joint", names.joints, "joint");
  element.ohm = spread_or_none(from, "ohm");
  element.millihenry = spread_or_none(from, "millihenry");
  element.microfarad = spread_or_none(from, "microfarad");
  element.per_kelvin = from.number_or("per_kelvin", 0, -1, 1);
  element.closed_at_rest = from.flag_or("closed_at_rest", false);
  element.moved_by = static_cast<MovedBy>(from.choice_or("moved_by", moved_by_words(), 0));
  element.row = reference_or_none(from, "row", names.rows, "row");
  element.switch_celsius = from.number_or("switch_celsius", 0, kCold, kHot);
  element.back_kelvin = from.number_or("back_kelvin", 0, 0, kHot);
  element.beta = spread_or_none(from, "beta");
  for (data::Reader& row : from.list("table", false)) {
    element.table.push_back(read_table_row(row));
  }
  element.rated_amperes = from.number_or("rated_amperes", 0, 0, 1000);
  from.done();
  return element;
}

Mains read_mains(data::Reader& from, const Names& names) {
  Mains mains;
  mains.line = reference(from, "line", names.nodes, "node");
  mains.neutral = reference(from, "neutral", names.nodes, "node");
  mains.earth = reference_or_none(from, "earth", names.nodes, "node");
  mains.volts = spread(from, "volts");
  mains.ohm = spread(from, "ohm");
  from.done();
  return mains;
}

TestPoint read_point(data::Reader& from, const Names& names) {
  TestPoint point;
  point.id = id_text(from, "id");
  point.title = words(from, "title");
  point.node = reference(from, "node", names.nodes, "node");
  point.part = reference(from, "part", names.parts, "part");
  if (from.has("at")) {
    point.at = pack::point(from, "at");
  }
  point.positions = references(from, "positions", names.positions, "position");
  point.behind = access(from, "behind", names);
  point.needs_released = references(from, "needs_released", names.joints, "joint");
  point.contacts = contacts(from, "contacts");
  point.house_side = from.flag_or("house_side", false);
  from.done();
  return point;
}

/// A row of the chart: "x" where its contacts are moved, "." where they rest.
std::vector<bool> read_marks(data::Reader& from) {
  std::vector<bool> on;
  const std::string marks = from.text("on");
  const data::Value* value = from.value().find("on");
  if (value == nullptr || value->kind != data::Kind::string) {
    return on;
  }
  if (marks.empty() || marks.find_first_not_of("x.") != std::string::npos) {
    from.fault("bad-marks", "\"on\" has other signs than x and .",
               "Write one sign a step: x where the contacts are moved, . where they rest.", "on");
  }
  for (const char mark : marks) {
    on.push_back(mark == 'x');
  }
  return on;
}

void read_programme(data::Reader& from, Programme& programme) {
  for (data::Reader& item : items(from, "steps", 1)) {
    ProgrammeStep step;
    step.id = id_text(item, "id");
    step.title = words(item, "title");
    step.seconds = whole(item, "seconds", 0, kDay);
    item.done();
    programme.steps.push_back(std::move(step));
  }
  for (data::Reader& item : items(from, "rows", 0)) {
    ProgrammeRow row;
    row.id = id_text(item, "id");
    row.title = words(item, "title");
    row.on = read_marks(item);
    item.done();
    programme.rows.push_back(std::move(row));
  }
  from.done();
}

}  // namespace

void read_circuit(data::Reader& root, const Names& names, Pack& pack) {
  auto from = root.object("circuit", false);
  if (!from) {
    return;
  }
  Circuit& circuit = pack.circuit;
  circuit.nodes = own_ids(*from, "nodes");
  if (auto mains = from->object("mains")) {
    circuit.mains = read_mains(*mains, names);
  }
  for (data::Reader& element : items(*from, "elements", 1)) {
    circuit.elements.push_back(read_element(element, names));
  }
  for (data::Reader& point : items(*from, "test_points", 0)) {
    circuit.points.push_back(read_point(point, names));
  }
  if (auto programme = from->object("programme")) {
    read_programme(*programme, circuit.programme);
  }
  from->done();
}

}  // namespace kp::pack
