#include "circuit/contact.hpp"

#include "base/text.hpp"

namespace kp::circuit {
namespace {

const Warm* warm_of(const Setting& setting, int element) {
  for (const Warm& warm : setting.warm) {
    if (warm.element == element) return &warm;
  }
  return nullptr;
}

/// A thermostat leaves its rest at one temperature and comes back a few kelvin below it.
bool thermostat_moved(const Element& element, const Setting& setting, int index) {
  const Warm* warm = warm_of(setting, index);
  const double celsius = warm != nullptr ? warm->celsius : setting.celsius;
  const bool cooling = warm != nullptr && warm->cooling;
  return cooling ? celsius > element.switch_celsius - element.back_kelvin
                 : celsius >= element.switch_celsius;
}

ContactState by_row(const Netlist& netlist, const Setting& setting, const Element& element) {
  const bool needs_power = element.kind == Kind::relay_contact || element.kind == Kind::triac;
  if (needs_power && !setting.powered) return {element.rest_closed, Cause::unpowered};
  if (element.row < 0 || setting.step < 0) return {element.rest_closed, Cause::rest};
  const bool moved = netlist.chart.rows[to_size(element.row)].on[to_size(setting.step)];
  return {element.rest_closed != moved, Cause::step};
}

}  // namespace

double celsius_of(const Setting& setting, int element) {
  const Warm* warm = warm_of(setting, element);
  return warm != nullptr ? warm->celsius : setting.celsius;
}

ContactState contact_state(const Netlist& netlist, const Setting& setting,
                           std::span<const Fault> faults, int index) {
  for (const int pulled : setting.pulled) {
    if (pulled == index) return {false, Cause::pulled};
  }
  const Element& element = netlist.elements[to_size(index)];
  for (const Fault& fault : faults) {
    if (fault.element != index) continue;
    if (fault.kind == FaultKind::open || fault.kind == FaultKind::stuck_open) {
      return {false, Cause::fault};
    }
    if (fault.kind == FaultKind::stuck_closed || fault.kind == FaultKind::shorted) {
      return {true, Cause::fault};
    }
  }
  if (!is_contact(element.kind)) return {};
  for (const Held& held : setting.held) {
    if (held.element == index) return {held.closed, Cause::held};
  }
  if (element.kind == Kind::thermostat) {
    return {element.rest_closed != thermostat_moved(element, setting, index), Cause::temperature};
  }
  return by_row(netlist, setting, element);
}

std::string why(const Netlist& netlist, const Setting& setting, int index, ContactState state) {
  const Element& element = netlist.elements[to_size(index)];
  const std::string position = state.closed ? "closed" : "open";
  switch (state.cause) {
    case Cause::always: return "";
    case Cause::rest: return cat(position, " at rest");
    case Cause::held: return cat(position, " by hand");
    case Cause::pulled: return "open, the lead is off";
    case Cause::unpowered: return cat(position, ", without power");
    case Cause::fault: return cat(position, " by a fault");
    case Cause::temperature: {
      const bool moved = state.closed != element.rest_closed;
      // What has to be undercut, or reached, for the contact to change again.
      const bool cooling = [&] {
        const Warm* warm = warm_of(setting, index);
        return warm != nullptr && warm->cooling;
      }();
      const double bound = element.switch_celsius - (moved && cooling ? element.back_kelvin : 0);
      return cat(position, moved ? " above " : " below ", fixed_text(bound, 0), " °C");
    }
    case Cause::step: {
      const std::string& row = netlist.chart.rows[to_size(element.row)].name;
      const std::string& step = netlist.chart.steps[to_size(setting.step)].name;
      return cat(position, " by ", row, " in step ", step);
    }
  }
  return "";
}

}  // namespace kp::circuit
