#pragma once

#include <span>
#include <string>

#include "circuit/netlist.hpp"
#include "circuit/setting.hpp"

namespace kp::circuit {

/// What put a contact where it is. `always`: it is no contact and conducts.
enum class Cause { always, rest, step, held, temperature, pulled, unpowered, fault };

struct ContactState {
  bool closed = true;
  Cause cause = Cause::always;
  friend bool operator==(const ContactState&, const ContactState&) = default;
};

/// Whether current can flow through an element in this setting, and why. Rules in their order: a
/// pulled lead; a fault; a position that is held; the temperature of a thermostat; the row of the
/// chart. A cam is moved by its knob and needs no power; a relay and a triac are at rest without.
[[nodiscard]] ContactState contact_state(const Netlist& netlist, const Setting& setting,
                                         std::span<const Fault> faults, int element);

/// The reason in words, to stand behind the element's name: "closed by Cam 4 in step Heat",
/// "open above 60 °C", "open, the lead is off". Empty where it always conducts.
[[nodiscard]] std::string why(const Netlist& netlist, const Setting& setting, int element,
                              ContactState state);

/// Temperature of an element in °C.
[[nodiscard]] double celsius_of(const Setting& setting, int element);

}  // namespace kp::circuit
