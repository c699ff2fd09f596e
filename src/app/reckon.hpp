#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "app/snapshot.hpp"
#include "pack/model.hpp"

namespace kp::app {

/// What can be typed on the sheet that reckons, by its field; kept by the session, no facts.
using ReckonWords = std::map<std::string, std::string, std::less<>>;

/// A pressure in kPa from "240", "240 kPa", "35 psi" or "2.4 bar"; nothing where it is none, or
/// outside 0 to 2000 kPa.
[[nodiscard]] std::optional<double> kilopascal_of(std::string_view text);
/// A temperature in degrees Celsius from "49", "49 C" or "120 F"; 0 to 100.
[[nodiscard]] std::optional<double> celsius_of(std::string_view text);

/// Fill time at a pressure, heat-up time, the earth limit for a cord: what is plausible before a
/// reading is believed. Formulas and their sources stand in the room physics; litres, watts and the
/// flow are the pack's. `changed` makes the action of a field.
void fill_reckon(Sheet& sheet, const pack::Pack& pack, const ReckonWords& words,
                 const std::function<Action(const std::string& field)>& changed);

}  // namespace kp::app
