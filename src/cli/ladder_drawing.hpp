#pragma once

#include <string>

#include "circuit/ladder.hpp"
#include "circuit/strip.hpp"

namespace kp::cli {

/// A strip as lines of text, from the line down to the neutral: one symbol a line with its state.
[[nodiscard]] std::string ladder_text(const circuit::Netlist& netlist, const circuit::Strip& strip);

/// A ladder as an SVG drawing with symbols in the manner of IEC 60617: contacts open or closed,
/// boxes for what has resistance, half circles for coils, two plates for a capacitor.
[[nodiscard]] std::string ladder_svg(const circuit::Netlist& netlist, const circuit::Ladder& ladder);

}  // namespace kp::cli
