#include "circuit/netlist.hpp"

#include <algorithm>
#include <utility>

namespace kp::circuit {
namespace {

template <class Thing>
int index_of(const std::vector<Thing>& things, std::string_view name) {
  const auto at = std::find_if(things.begin(), things.end(),
                               [name](const Thing& thing) { return thing.name == name; });
  return at == things.end() ? -1 : static_cast<int>(at - things.begin());
}

}  // namespace

int Netlist::node(std::string_view name) const { return index_of(nodes, name); }
int Netlist::element(std::string_view name) const { return index_of(elements, name); }

// The list stands in the order of the enumeration: the place of a word is its value.
const std::vector<std::string>& kind_words() {
  static const std::vector<std::string> words = {
      "resistor",   "heater",      "coil",        "capacitor",     "winding", "fuse",
      "thermostat", "ntc",         "ptc",         "switch",        "push-button",
      "cam-contact", "relay-contact", "triac",    "connector",     "wire",    "supply"};
  return words;
}

bool is_contact(Kind kind) {
  switch (kind) {
    case Kind::thermostat:
    case Kind::switch_contact:
    case Kind::push_button:
    case Kind::cam_contact:
    case Kind::relay_contact:
    case Kind::triac: return true;
    default: return false;
  }
}

bool is_load(Kind kind) {
  switch (kind) {
    case Kind::resistor:
    case Kind::heater:
    case Kind::coil:
    case Kind::winding: return true;
    default: return false;
  }
}

Element part(Kind kind, int a, int b, Spread ohm) {
  Element element;
  element.kind = kind;
  element.a = a;
  element.b = b;
  element.ohm = ohm;
  return element;
}

Element resistor(int a, int b, Spread ohm) { return part(Kind::resistor, a, b, ohm); }

Element coil(int a, int b, Spread ohm, Spread henry) {
  Element element = part(Kind::coil, a, b, ohm);
  element.henry = henry;
  return element;
}

Element capacitor(int a, int b, Spread farad) {
  Element element = part(Kind::capacitor, a, b, exact(0));
  element.farad = farad;
  return element;
}

Element supply(int a, int b, Spread volt, Spread ohm) {
  Element element = part(Kind::supply, a, b, ohm);
  element.volt = volt;
  return element;
}

}  // namespace kp::circuit
