#include "scene/obstacles.hpp"

#include <cmath>

namespace kp::scene {
namespace {

/// True where a line of the piece's drawing runs through the box.
bool lines_meet(const Piece& piece, const Box& box) {
  Box local = box.moved(-piece.at).scaled(1 / piece.scale);
  local = piece.mirrored ? geom::mirrored(local) : local;
  for (const Shape& shape : piece.drawing->shapes) {
    for (const Stroke& line : shape.lines) {
      for (std::size_t i = 0; i + 1 < line.points.size(); ++i) {
        if (meets(local, line.points[i], line.points[i + 1])) {
          return true;
        }
      }
    }
  }
  return false;
}

}  // namespace

bool edge_at(const Piece& piece, double y, double sign, double& x) {
  if (piece.ring > 0) {
    const Vec centre = piece.cover.front().centre();
    const double rise = y - centre.y;
    if (std::abs(rise) > piece.ring) {
      return false;
    }
    x = centre.x + sign * std::sqrt(piece.ring * piece.ring - rise * rise);
    return true;
  }
  const double level = (y - piece.at.y) / piece.scale;
  const double flip = piece.mirrored ? -1 : 1;
  bool found = false;
  for (const Contour& contour : piece.drawing->outline) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      const Vec a = contour[i];
      const Vec b = contour[(i + 1) % contour.size()];
      if ((a.y <= level) == (b.y <= level)) {
        continue;
      }
      const double here = flip * geom::mix(a, b, (level - a.y) / (b.y - a.y)).x * piece.scale +
                          piece.at.x;
      x = !found || sign * here > sign * x ? here : x;
      found = true;
    }
  }
  return found;
}

bool way_is_clear(const Arrangement& arrangement, const Contour& line, int item, int copy,
                  bool through_rings) {
  const Box around = geom::bounds(line).grown(kClear + 1);
  for (const Piece& piece : arrangement.pieces) {
    if ((piece.item == item && piece.copy == copy) || !piece.room.overlaps(around)) {
      continue;
    }
    for (const Box& box : through_rings ? piece.core : piece.cover) {
      const Box wide = box.grown(kClear);
      for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (meets(wide, line[i], line[i + 1])) {
          return false;
        }
      }
    }
  }
  return true;
}

bool room_is_clear(const Arrangement& arrangement, const Box& words) {
  if (arrangement.has_axis && words.min.x < arrangement.axis_x &&
      words.max.x > arrangement.axis_x) {
    return false;
  }
  for (const Piece& piece : arrangement.pieces) {
    if (!piece.room.grown(2).overlaps(words)) {
      continue;
    }
    for (const Box& box : piece.cover) {
      if (box.grown(2).overlaps(words)) {
        return false;
      }
    }
    if (piece.ink.overlaps(words) && lines_meet(piece, words)) {
      return false;
    }
  }
  return true;
}

}  // namespace kp::scene
