#pragma once

#include <vector>

#include "circuit/netlist.hpp"
#include "circuit/strip.hpp"

namespace kp::circuit {

/// Where things of a strip circuit stand, for whoever draws it. Units are cells: a symbol fills one,
/// x to the right, y downwards, the line rail at y = 0. Current goes down the page.
struct LadderPoint {
  double x = 0;
  double y = 0;
  friend bool operator==(const LadderPoint&, const LadderPoint&) = default;
};

/// A symbol on a vertical wire, its centre at `at`. Which one (IEC 60617) follows from the kind; a
/// contact is drawn in the state that it has now: `closed`, and made to rest `rest_closed`.
struct LadderSymbol {
  int element = 0;
  Kind kind = Kind::resistor;
  LadderPoint at;
  bool closed = true;
  bool rest_closed = false;
  bool load = false;
  bool sneak = false;        ///< stands on a way round, drawn apart
};

struct LadderWire {
  LadderPoint from;
  LadderPoint to;            ///< straight down or straight across
  bool sneak = false;
};

/// A point that can be tapped with a probe, or with a finger.
struct LadderTap {
  int node = 0;
  LadderPoint at;
};

struct Ladder {
  double width = 0;          ///< columns
  double height = 0;         ///< y of the neutral rail
  std::vector<LadderSymbol> symbols;
  std::vector<LadderWire> wires;
  std::vector<LadderTap> taps;
};

/// One strip in the first column; each stretch of a way round that leaves it and comes back has a
/// column of its own to the right. The strip is stretched where a way round needs more room.
[[nodiscard]] Ladder ladder(const Netlist& netlist, const Strip& strip);

/// Several strips beside each other between the same rails, in the order given. What neighbours
/// have in common from the line down, and from the neutral up, is drawn once, in the left column of
/// those that share it. Ways round are left out.
[[nodiscard]] Ladder ladder(const Netlist& netlist, const std::vector<Strip>& strips);

}  // namespace kp::circuit
