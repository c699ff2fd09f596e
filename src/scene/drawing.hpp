#pragma once

#include <string>
#include <vector>

#include "geom/box.hpp"
#include "geom/polygon.hpp"
#include "geom/triangulate.hpp"
#include "scene/palette.hpp"

namespace kp::scene {

using geom::Box;
using geom::Contour;
using geom::Vec;

/// One line of a shape, flattened. A closed one does not repeat its first point.
struct Stroke {
  Contour points;
  bool closed = false;
};

/// One element of a drawing, ready to be drawn: lengths in drawing units.
struct Shape {
  Role fill = Role::none;
  Role stroke = Role::none;
  double width = 1;
  std::vector<double> dash;
  std::vector<Stroke> lines;
  geom::Triangles triangles;     ///< of the fill; empty without one
  std::vector<Vec> hatch;        ///< two points a line, for hatched fills
};

/// A part's picture. Everything is worked out once, when the file is read.
struct Drawing {
  std::string name;              ///< of the file, without folder and ending
  std::string title;
  Box view;                      ///< the file's viewBox
  Box box;                       ///< of the ink, half the pen included
  std::vector<Shape> shapes;     ///< back to front
  std::vector<Contour> outline;  ///< the silhouette: the contours of the first shape
  std::vector<Box> cover;        ///< few boxes that hold the silhouette, half the pen included
};

/// A drawing of one closed outline: for parts without a file, and for tests.
[[nodiscard]] Drawing drawing_of(std::string name, std::vector<Contour> outline,
                                 Role fill = Role::grey_2);

/// Works out box, outline and cover from the shapes; the reader calls it last.
void finish(Drawing& drawing);

}  // namespace kp::scene
