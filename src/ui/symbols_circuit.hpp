#pragma once
// Symbols of a circuit diagram after IEC 60617, lying on a wire that runs from left to right.

#include "app/circuit_view.hpp"
#include "ui/ui.hpp"

namespace kp::ui {

struct SymbolPaint {
  Vec centre;
  float width = 40;          ///< of the cell, wire included
  float k = 1;               ///< scale: 1 where a cell is 40 px wide or more
  Color ink = 0;
  Color fill = 0;            ///< of boxes and circles
  Color paper = 0;           ///< behind all
  float stroke = 2;
};

void draw_circuit_symbol(const Ui& ui, const app::CircuitSymbol& symbol, const SymbolPaint& paint);

}  // namespace kp::ui
