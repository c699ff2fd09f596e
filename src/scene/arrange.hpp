#pragma once
// Not for callers of the layout: where the items stand, before words and ink.

#include <string>
#include <vector>

#include "scene/layout.hpp"

namespace kp::scene {

/// One item or copy, in scene px.
struct Piece {
  int item = 0;                  ///< index into the items that are shown
  int copy = 0;
  const Drawing* drawing = nullptr;
  bool mirrored = false;
  Vec at{0, 0};
  double scale = 1;
  Box ink;
  std::vector<Box> cover;        ///< of the silhouette; of a fastener: of its ring and arrow
  std::vector<Box> core;         ///< the same, with the fastener in place of its ring
  Box room;                      ///< around ink, ring and arrow
  double ring = 0;               ///< room that is kept for its ring, 0: none
  int holder = -1;               ///< of a fastener: the item it is shown with
  Vec seat{0, 0};                ///< ... its own place in the assembled machine, in units
  bool seated = false;           ///< ... whether that item shows that place
  Vec seat_at{0, 0};             ///< ... and where, in px
};

/// The words of an item, broken into lines.
struct Label {
  std::vector<std::string> lines;
  double width = 0;
  double height = 0;
};

struct Arrangement {
  std::vector<Piece> pieces;     ///< by item, then copy
  std::vector<Label> labels;     ///< one an item; no lines: no callout
  double scale = 1;
  bool has_axis = false;
  double axis_x = 0;             ///< of the main axis
  Box narrow;                    ///< around the pieces that leave the label column free
  Box content;                   ///< around all pieces
  double column = 0;             ///< width of the label column
  double right_labels = 0;       ///< left edge of the words on the right
  double left_labels = 0;        ///< right edge of the words on the left
};

inline constexpr double kChannel = 20;  ///< between the items and the words
inline constexpr double kLeast = 25;    ///< radius of the smallest ring
inline constexpr double kArrow = 22;    ///< length of an arrow with its gap
inline constexpr double kLineHeight = 1.25;

/// The placeholder of an item without a drawing.
[[nodiscard]] const Drawing& no_drawing();

/// Places the items (none of them context), linear between assembled and exploded.
[[nodiscard]] Arrangement arrange(const std::vector<Item>& shown, const std::vector<Item>& all,
                                  double progress, const Viewport& viewport);

/// True where the exploded items fit the window at that scale.
[[nodiscard]] bool fits_at(const std::vector<Item>& shown, const std::vector<Item>& all,
                           double scale, const Viewport& viewport);

/// Width of a line in the callouts' own size.
[[nodiscard]] double label_width(const Viewport& viewport, std::string_view text);

}  // namespace kp::scene
