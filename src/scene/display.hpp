#pragma once

#include <string>
#include <variant>
#include <vector>

#include "scene/drawing.hpp"

namespace kp::scene {

/// A line to be drawn: widths and dashes in the list's own units. Ends and corners are round.
struct Pen {
  Role role = Role::line;
  double width = 1;
  std::vector<double> dash;  ///< on, off, on, off ...; empty: a whole line
};

/// How a part looks.
enum class Look {
  plain,
  next,     ///< outline in the accent
  moving,   ///< as next
  target,   ///< filled with the accent
  ghost,    ///< taken away: its silhouette dashed, nothing else
  context   ///< there, but not spoken of: its silhouette, pale
};

/// A part drawing at a place: its origin comes to `at`, its lengths times `scale`.
struct PartMark {
  const Drawing* drawing = nullptr;
  Vec at{0, 0};
  double scale = 1;
  Look look = Look::plain;
  bool mirrored = false;     ///< left and right changed
};

struct FillMark {
  geom::Triangles triangles;
  Role role = Role::line;
};

struct LineMark {
  Contour points;
  bool closed = false;
  Pen pen;
};

struct CircleMark {
  Vec centre{0, 0};
  double radius = 0;
  Role fill = Role::none;
  Pen pen;                   ///< width 0: no border
};

/// A band of this width along a part's silhouette, behind it: the ring of a part too large for one.
struct HaloMark {
  PartMark part;
  Role role = Role::accent_tint;
  double width = 0;
};

enum class Anchor { left, middle, right };

/// A line of words; `at` is its anchor on the base line.
struct TextMark {
  Vec at{0, 0};
  Anchor anchor = Anchor::left;
  double size = 13;
  bool strong = false;
  Role role = Role::line;
  std::string text;
};

/// From tail to tip, with an open head of two strokes.
struct ArrowMark {
  Vec from{0, 0};
  Vec to{0, 0};
  double head = 7;
  Pen pen;
};

using Mark =
    std::variant<PartMark, HaloMark, FillMark, LineMark, CircleMark, TextMark, ArrowMark>;

/// What to draw, back to front, in one plane (a scene: CSS px at zoom 1).
using DisplayList = std::vector<Mark>;

/// A filled polygon with its triangles worked out.
[[nodiscard]] FillMark polygon(const std::vector<Contour>& contours, Role role);

/// The list as text, one mark a line, numbers to a tenth: for golden files and for people.
[[nodiscard]] std::string dump(const DisplayList& list);

}  // namespace kp::scene
