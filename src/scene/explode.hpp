#pragma once
// Not for callers of the layout: the geometry of taking things apart, without drawings or words.

#include <vector>

#include "scene/slide.hpp"

namespace kp::scene {

/// Something rigid that slides out of the assembled machine.
struct Body {
  std::vector<Box> boxes;         ///< hold all of it, in its home place; at least one
  std::vector<Box> twins;         ///< of loose ones: further boxes, mirrored: they step aside the other way
  Vec away{0, 0};                 ///< unit direction, or (0, 0)
  int group = -1;                 ///< index of the assembly it is carried by
  std::vector<int> covered_by;    ///< indices of bodies that must be out before it
  bool loose = false;             ///< a fastener: stands wherever there is room by what it holds
  int holder = -1;                ///< of loose ones: index of the body it goes with, -1: none
};

/// An assembly: its bodies come apart in its own frame, then it slides as one.
struct Group {
  Vec away{0, 0};
  int parent = -1;
};

/// Where a body goes: its boxes by move + side, its twins by move + side mirrored left to right.
struct Offset {
  Vec move{0, 0};
  Vec side{0, 0};

  [[nodiscard]] Vec own() const { return move + side; }
  [[nodiscard]] Vec twin() const { return move + Vec(-side.x, side.y); }
};

/// Offsets of the bodies from home such that no two of them lie closer than `gap`, each slid out
/// along its own direction (and its assemblies' directions) by the least distance that leaves it
/// behind all it covers. Of two bodies of one direction in one lane, the one farther out at home
/// stays the farther. Bodies that do not come away stay, unless they overlap one another. Loose
/// bodies are left at home.
[[nodiscard]] std::vector<Offset> explode(const std::vector<Body>& bodies,
                                          const std::vector<Group>& groups, double gap);

/// Takes out empty bands wider than `most` that reach across the whole picture, along x and along
/// y, loose bodies not counted: distances shrink, order and alignment stay.
void squeeze(const std::vector<Body>& bodies, std::vector<Offset>& offsets, double most);

/// Gives each loose body the free place nearest to where what it holds has gone, if it can where
/// it does not hide a neighbour's whole side from callouts.
void attach(const std::vector<Body>& bodies, std::vector<Offset>& offsets, double gap);

/// The body's boxes, moved.
[[nodiscard]] std::vector<Box> boxes_at(const Body& body, const Offset& offset);

}  // namespace kp::scene
