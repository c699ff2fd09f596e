#include <algorithm>
#include <cmath>
#include <optional>

#include "geom/segment.hpp"
#include "geom/triangulate.hpp"

namespace kp::geom {
namespace {

struct Edge {
  Vec top;
  Vec bottom;
  int turn = 0;  ///< +1 where the contour runs down along it
};

struct Crossing {
  double x_top = 0;
  double x_bottom = 0;
  std::size_t edge = 0;
};

/// A trapezoid that may still grow downwards: between the same two edges.
struct Open {
  std::size_t left = 0;
  std::size_t right = 0;
  double from = 0;
  double to = 0;
};

std::vector<Edge> edges_of(const std::vector<Contour>& contours) {
  std::vector<Edge> edges;
  for (const Contour& contour : contours) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      const Vec a = contour[i];
      const Vec b = contour[(i + 1) % contour.size()];
      if (a.y < b.y) {
        edges.push_back({a, b, 1});
      } else if (b.y < a.y) {
        edges.push_back({b, a, -1});
      }
    }
  }
  return edges;
}

double x_at(const Edge& edge, double y) {
  const double share = std::clamp((y - edge.top.y) / (edge.bottom.y - edge.top.y), 0.0, 1.0);
  return mix(edge.top, edge.bottom, share).x;
}

std::vector<double> levels_of(const std::vector<Edge>& edges) {
  std::vector<double> levels;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    levels.push_back(edges[i].top.y);
    levels.push_back(edges[i].bottom.y);
    for (std::size_t j = i + 1; j < edges.size(); ++j) {
      if (const auto point =
              crossing(edges[i].top, edges[i].bottom, edges[j].top, edges[j].bottom)) {
        levels.push_back(point->y);
      }
    }
  }
  std::sort(levels.begin(), levels.end());
  levels.erase(std::unique(levels.begin(), levels.end()), levels.end());
  return levels;
}

void add_triangle(Triangles& out, Vec a, Vec b, Vec c) {
  const double twice = cross(b - a, c - a);
  if (twice > 0) {
    out.insert(out.end(), {a, b, c});
  } else if (twice < 0) {
    out.insert(out.end(), {a, c, b});
  }
}

void close(Triangles& out, const std::vector<Edge>& edges, const Open& open) {
  const Vec a(x_at(edges[open.left], open.from), open.from);
  const Vec b(x_at(edges[open.right], open.from), open.from);
  const Vec c(x_at(edges[open.right], open.to), open.to);
  const Vec d(x_at(edges[open.left], open.to), open.to);
  add_triangle(out, a, b, c);
  add_triangle(out, a, c, d);
}

std::vector<Crossing> crossings_in(const std::vector<Edge>& edges, double from, double to) {
  std::vector<Crossing> found;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (edges[i].top.y <= from && edges[i].bottom.y >= to) {
      found.push_back({x_at(edges[i], from), x_at(edges[i], to), i});
    }
  }
  std::sort(found.begin(), found.end(), [](const Crossing& a, const Crossing& b) {
    const double of_a = a.x_top + a.x_bottom;
    const double of_b = b.x_top + b.x_bottom;
    return of_a < of_b || (of_a == of_b && a.edge < b.edge);
  });
  return found;
}

}  // namespace

Triangles sweep_triangles(const std::vector<Contour>& contours, FillRule rule) {
  const std::vector<Edge> edges = edges_of(contours);
  const std::vector<double> levels = levels_of(edges);
  Triangles out;
  std::vector<Open> open;
  for (std::size_t level = 0; level + 1 < levels.size(); ++level) {
    std::vector<Open> next;
    const std::vector<Crossing> row = crossings_in(edges, levels[level], levels[level + 1]);
    int turns = 0;
    std::size_t left = 0;
    for (const Crossing& here : row) {
      const bool was = filled(turns, rule);
      turns += edges[here.edge].turn;
      const bool is = filled(turns, rule);
      if (!was && is) {
        left = here.edge;
      } else if (was && !is) {
        next.push_back({left, here.edge, levels[level], levels[level + 1]});
      }
    }
    for (const Open& old : open) {
      const auto same = std::find_if(next.begin(), next.end(), [&old](const Open& it) {
        return it.left == old.left && it.right == old.right;
      });
      if (same != next.end()) {
        same->from = old.from;
      } else {
        close(out, edges, old);
      }
    }
    open = std::move(next);
  }
  for (const Open& last : open) {
    close(out, edges, last);
  }
  return out;
}

}  // namespace kp::geom
