#include "geom/triangulate.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geom/segment.hpp"

namespace kp::geom {
namespace {

struct Span {
  Vec a;
  Vec b;
  double left = 0;
  double right = 0;
  std::size_t contour = 0;
  std::size_t index = 0;
};

/// How edges that are not neighbours meet, the worst case first.
enum class Meeting { crossing, touching_others, touching_itself, none };

Meeting meeting_of(const std::vector<Contour>& contours) {
  std::vector<Span> spans;
  for (std::size_t c = 0; c < contours.size(); ++c) {
    for (std::size_t i = 0; i < contours[c].size(); ++i) {
      const Vec a = contours[c][i];
      const Vec b = contours[c][(i + 1) % contours[c].size()];
      spans.push_back({a, b, std::min(a.x, b.x), std::max(a.x, b.x), c, i});
    }
  }
  std::sort(spans.begin(), spans.end(),
            [](const Span& a, const Span& b) { return a.left < b.left; });
  Meeting worst = Meeting::none;
  for (std::size_t i = 0; i < spans.size(); ++i) {
    for (std::size_t j = i + 1; j < spans.size() && spans[j].left <= spans[i].right; ++j) {
      const Span& one = spans[i];
      const Span& two = spans[j];
      if (crossing(one.a, one.b, two.a, two.b)) {
        return Meeting::crossing;
      }
      const std::size_t count = contours[one.contour].size();
      const bool same = one.contour == two.contour;
      const bool neighbours = same && ((one.index + 1) % count == two.index ||
                                       (two.index + 1) % count == one.index);
      if (!neighbours && touch(one.a, one.b, two.a, two.b)) {
        worst = std::min(worst, same ? Meeting::touching_itself : Meeting::touching_others);
      }
    }
  }
  return worst;
}

/// True where the corner a-b-c contains the point; corners that coincide with it do not count.
bool holds(Vec a, Vec b, Vec c, Vec point) {
  if (point == a || point == b || point == c) {
    return false;
  }
  return cross(b - a, point - a) >= 0 && cross(c - b, point - b) >= 0 &&
         cross(a - c, point - c) >= 0;
}

/// Cuts ears off a clockwise contour that may touch itself along bridges. If it ends well, every
/// triangle has positive area and their sum is the contour's own signed area, so the triangles
/// cover the inside exactly once.
class Ears {
 public:
  explicit Ears(const Contour& contour) : points_(&contour), left_(contour.size()) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      before_.push_back((i + contour.size() - 1) % contour.size());
      after_.push_back((i + 1) % contour.size());
    }
    for (std::size_t i = 0; i < contour.size(); ++i) {
      bends_in_.push_back(turn(i) <= 0);
      if (bends_in_.back()) {
        inner_.push_back(i);
      }
    }
  }

  /// False where it sticks.
  bool cut(Triangles& out) {
    std::size_t at = 0;
    std::size_t tried = 0;
    while (left_ > 3) {
      const double twice = turn(at);
      const std::size_t next = after_[at];
      if (twice != 0 && (twice < 0 || blocked(at))) {
        at = next;
        if (++tried > left_) {
          return false;
        }
        continue;
      }
      if (twice > 0) {
        out.insert(out.end(), {point(before_[at]), point(at), point(next)});
      }
      drop(at);
      // Going on at the next corner but one keeps fans from growing into slivers.
      at = twice > 0 ? after_[next] : next;
      tried = 0;
    }
    const double last = turn(at);
    if (last > 0) {
      out.insert(out.end(), {point(before_[at]), point(at), point(after_[at])});
    }
    return last >= 0;
  }

 private:
  [[nodiscard]] Vec point(std::size_t i) const { return (*points_)[i]; }
  /// > 0 where the contour bends outwards at i.
  [[nodiscard]] double turn(std::size_t i) const {
    return cross(point(i) - point(before_[i]), point(after_[i]) - point(i));
  }
  /// Only corners that bend inwards can lie in an ear of what is left.
  [[nodiscard]] bool blocked(std::size_t at) const {
    const Vec a = point(before_[at]);
    const Vec b = point(at);
    const Vec c = point(after_[at]);
    return std::any_of(inner_.begin(), inner_.end(),
                       [&](std::size_t i) { return holds(a, b, c, point(i)); });
  }
  void drop(std::size_t at) {
    const std::size_t before = before_[at];
    const std::size_t after = after_[at];
    after_[before] = after;
    before_[after] = before;
    --left_;
    forget(at);
    for (const std::size_t i : {before, after}) {
      const bool in = turn(i) <= 0;
      if (bends_in_[i] && !in) {
        forget(i);
      } else if (!bends_in_[i] && in) {
        bends_in_[i] = true;
        inner_.push_back(i);
      }
    }
  }
  void forget(std::size_t i) {
    if (bends_in_[i]) {
      bends_in_[i] = false;
      inner_.erase(std::find(inner_.begin(), inner_.end(), i));
    }
  }

  const Contour* points_;
  std::size_t left_;
  std::vector<std::size_t> before_;
  std::vector<std::size_t> after_;
  std::vector<bool> bends_in_;
  std::vector<std::size_t> inner_;
};

/// True where the direction from contour[at] towards `to` points into the contour's inside.
bool opens_to(const Contour& contour, std::size_t at, Vec to) {
  const Vec on = contour[at];
  const Vec in = on - contour[(at + contour.size() - 1) % contour.size()];
  const Vec out = contour[(at + 1) % contour.size()] - on;
  const Vec way = to - on;
  const bool left_of_in = cross(in, way) > 0;
  const bool left_of_out = cross(out, way) > 0;
  return cross(in, out) >= 0 ? (left_of_in && left_of_out) : (left_of_in || left_of_out);
}

bool clear(const Contour& contour, Vec from, Vec to) {
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const Vec a = contour[i];
    const Vec b = contour[(i + 1) % contour.size()];
    const bool shares = a == from || a == to || b == from || b == to;
    if (!shares && touch(from, to, a, b)) {
      return false;
    }
  }
  return true;
}

/// Joins a hole into the outer contour by a bridge from the hole's rightmost corner.
bool bridge(Contour& outer, const Contour& hole, const std::vector<Contour>& others) {
  std::size_t start = 0;
  for (std::size_t i = 1; i < hole.size(); ++i) {
    if (hole[i].x > hole[start].x) {
      start = i;
    }
  }
  const Vec from = hole[start];
  std::vector<std::size_t> order(outer.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    order[i] = i;
  }
  std::sort(order.begin(), order.end(), [&outer, from](std::size_t a, std::size_t b) {
    const double of_a = length(outer[a] - from);
    const double of_b = length(outer[b] - from);
    return of_a < of_b || (of_a == of_b && a < b);
  });
  for (const std::size_t at : order) {
    const Vec to = outer[at];
    const bool free = to != from && opens_to(outer, at, from) && clear(outer, from, to) &&
                      clear(hole, from, to) &&
                      std::all_of(others.begin(), others.end(), [from, to](const Contour& other) {
                        return clear(other, from, to);
                      });
    if (!free) {
      continue;
    }
    Contour joined(outer.begin(), outer.begin() + static_cast<std::ptrdiff_t>(at) + 1);
    for (std::size_t i = 0; i <= hole.size(); ++i) {
      joined.push_back(hole[(start + i) % hole.size()]);
    }
    joined.insert(joined.end(), outer.begin() + static_cast<std::ptrdiff_t>(at), outer.end());
    outer = std::move(joined);
    return true;
  }
  return false;
}

Contour turned(Contour contour, bool clockwise) {
  if ((signed_area(contour) > 0) != clockwise) {
    std::reverse(contour.begin(), contour.end());
  }
  return contour;
}

struct Region {
  Contour outer;
  std::vector<Contour> holes;
};

/// A point of the border between two corners of it, for asking on which side things lie.
Vec border_point(const Contour& contour) {
  std::size_t longest = 0;
  double best = -1;
  for (std::size_t i = 0; i < contour.size(); ++i) {
    const double here = length(contour[(i + 1) % contour.size()] - contour[i]);
    if (here > best) {
      best = here;
      longest = i;
    }
  }
  return mix(contour[longest], contour[(longest + 1) % contour.size()], 0.4375);
}

/// Sorts contours that do not cross into outlines with their holes.
std::vector<Region> regions_of(const std::vector<Contour>& contours, FillRule rule) {
  std::vector<Region> regions;
  std::vector<Contour> holes;
  for (std::size_t i = 0; i < contours.size(); ++i) {
    const Vec on = border_point(contours[i]);
    int outside = 0;
    for (std::size_t j = 0; j < contours.size(); ++j) {
      outside += j == i ? 0 : winding(contours[j], on);
    }
    const int inside = outside + (signed_area(contours[i]) > 0 ? 1 : -1);
    if (!filled(outside, rule) && filled(inside, rule)) {
      regions.push_back({turned(contours[i], true), {}});
    } else if (filled(outside, rule) && !filled(inside, rule)) {
      holes.push_back(turned(contours[i], false));
    }
  }
  for (const Contour& hole : holes) {
    const Vec on = border_point(hole);
    Region* home = nullptr;
    for (Region& region : regions) {
      const bool around = winding(region.outer, on) != 0;
      if (around && (home == nullptr || signed_area(region.outer) < signed_area(home->outer))) {
        home = &region;
      }
    }
    if (home != nullptr) {
      home->holes.push_back(hole);
    }
  }
  return regions;
}

bool cut_region(Region region, Triangles& out) {
  std::sort(region.holes.begin(), region.holes.end(), [](const Contour& a, const Contour& b) {
    return bounds(a).max.x > bounds(b).max.x;
  });
  Contour outer = region.outer;
  while (!region.holes.empty()) {
    const Contour hole = region.holes.front();
    region.holes.erase(region.holes.begin());
    if (!bridge(outer, hole, region.holes)) {
      return false;
    }
  }
  return Ears(outer).cut(out);
}

double area_of(const std::vector<Region>& regions) {
  double sum = 0;
  for (const Region& region : regions) {
    sum += signed_area(region.outer);
    for (const Contour& hole : region.holes) {
      sum += signed_area(hole);
    }
  }
  return sum;
}

}  // namespace

double area(const Triangles& triangles) {
  double twice = 0;
  for (std::size_t i = 0; i + 2 < triangles.size(); i += 3) {
    twice += std::abs(cross(triangles[i + 1] - triangles[i], triangles[i + 2] - triangles[i]));
  }
  return twice / 2;
}

bool crosses_itself(const std::vector<Contour>& contours) {
  return meeting_of(contours) == Meeting::crossing;
}

Triangles triangulate(const std::vector<Contour>& contours, FillRule rule) {
  std::vector<Contour> clean;
  for (const Contour& contour : contours) {
    Contour here = without_repeats(contour);
    if (here.size() >= 3) {
      clean.push_back(std::move(here));
    }
  }
  if (clean.size() == 1 && convex(clean.front())) {
    const Contour fan = turned(clean.front(), true);
    Triangles out;
    for (std::size_t i = 1; i + 1 < fan.size(); ++i) {
      if (cross(fan[i] - fan[0], fan[i + 1] - fan[0]) > 0) {
        out.insert(out.end(), {fan[0], fan[i], fan[i + 1]});
      }
    }
    return out;
  }
  // A contour without signed area is a line, or lobes that turn both ways: no ears to be cut.
  const bool lobes = std::any_of(clean.begin(), clean.end(), [](const Contour& contour) {
    return signed_area(contour) == 0;
  });
  const Meeting meeting = meeting_of(clean);
  if (lobes || meeting == Meeting::crossing || meeting == Meeting::touching_others) {
    return sweep_triangles(clean, rule);
  }
  const std::vector<Region> regions = regions_of(clean, rule);
  Triangles out;
  for (const Region& region : regions) {
    if (!cut_region(region, out)) {
      return sweep_triangles(clean, rule);
    }
  }
  // A contour that touches itself may be a ring with a seam or may have crossed itself there.
  const bool seam = meeting == Meeting::touching_itself;
  const double wanted = seam ? area(sweep_triangles(clean, rule)) : area_of(regions);
  if (std::abs(area(out) - wanted) > 1e-6 * std::max(1.0, wanted)) {
    return sweep_triangles(clean, rule);
  }
  return out;
}

}  // namespace kp::geom
