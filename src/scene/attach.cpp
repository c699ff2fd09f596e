#include <algorithm>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "scene/explode.hpp"

namespace kp::scene {
namespace {

/// How far everything beyond a coordinate moves back, for the empty bands before it.
class Bands {
 public:
  Bands(std::vector<Range> filled, double most) : filled_(std::move(filled)), most_(most) {
    std::sort(filled_.begin(), filled_.end(), [](Range a, Range b) { return a.from < b.from; });
  }

  [[nodiscard]] double cut_before(double at) const {
    double cut = 0;
    double end = filled_.empty() ? 0 : filled_.front().from;
    for (const Range& range : filled_) {
      if (range.from > at) {
        break;
      }
      cut += std::max(0.0, range.from - end - most_);
      end = std::max(end, range.to);
    }
    return cut;
  }

 private:
  std::vector<Range> filled_;
  double most_;
};

/// Looks for the free place of one loose body nearest to where it would be: steps across its
/// direction, and from each the least slide along it, ahead or back.
class Search {
 public:
  Search(const Body& body, Vec start, const std::vector<std::vector<Box>>& others, double gap)
      : body_(&body), start_(start), others_(&others), gap_(gap) {
    for (const std::vector<Box>& boxes : others) {
      hulls_.push_back(hull_of(boxes));
    }
  }

  [[nodiscard]] Offset best() const {
    const Vec along = body_->away == Vec(0, 0) ? Vec(0, 1) : body_->away;
    const Vec across = geom::quarter_turn(along);
    const Range lane = extent(hull_of(body_->boxes), across);
    const double step = (lane.to - lane.from) / 4;
    Offset out{start_, Vec(0, 0)};
    double least = std::numeric_limits<double>::infinity();
    for (int k = 0; k <= 24 && step * k < least; ++k) {
      for (const double sign : {1.0, -1.0}) {
        const Vec side = across * (sign * step * k);
        if (!apart(side)) {
          continue;
        }
        for (const double way : {1.0, -1.0}) {
          const std::vector<Range> ranges = ranges_for(side, along * way);
          for (double from = 0; from <= 6 * gap_ && from + step * k < least; from += gap_) {
            const double t = first_free(ranges, from);
            const Offset here{start_ + along * (way * t), side};
            const double cost = t + step * k;
            if (cost < least - kTouch && cost + hiding(here) < least - kTouch) {
              least = cost + hiding(here);
              out = here;
            }
          }
        }
      }
    }
    return out;
  }

 private:
  /// The copies on the two sides do not lie on one another.
  [[nodiscard]] bool apart(Vec side) const {
    return body_->twins.empty() || !hull_of(body_->boxes).moved(side).grown(gap_ / 2).overlaps(
                                       hull_of(body_->twins).moved(-side).grown(gap_ / 2));
  }

  [[nodiscard]] std::vector<Range> ranges_for(Vec side, Vec along) const {
    const std::vector<Box> own = boxes_at(*body_, {start_, side});
    std::vector<Range> ranges;
    for (std::size_t i = 0; i < others_->size(); ++i) {
      for (const Box& moving : own) {
        if (blocked(hulls_[i], moving, along, gap_).empty()) {
          continue;
        }
        for (const Box& still : (*others_)[i]) {
          const Range range = blocked(still, moving, along, gap_);
          if (!range.empty() && range.to > 0) {
            ranges.push_back(range);
          }
        }
      }
    }
    return ranges;
  }

  /// What it costs that others can no longer be seen from the side between their top and bottom.
  [[nodiscard]] double hiding(const Offset& offset) const {
    double cost = 0;
    for (const Box& own : boxes_at(*body_, offset)) {
      for (const Box& hull : hulls_) {
        const double above = own.min.y - hull.min.y;
        const double below = hull.max.y - own.max.y;
        const bool beside = own.min.x >= hull.max.x || own.max.x <= hull.min.x;
        cost += beside && std::max(above, below) < 2 * gap_ && overlap({hull.min.y, hull.max.y},
                                                                       {own.min.y, own.max.y})
                    ? 6 * gap_
                    : 0;
      }
    }
    return cost;
  }

  const Body* body_;
  Vec start_;
  const std::vector<std::vector<Box>>* others_;
  double gap_;
  std::vector<Box> hulls_;
};

}  // namespace

void squeeze(const std::vector<Body>& bodies, std::vector<Offset>& offsets, double most) {
  std::vector<Range> columns;
  std::vector<Range> rows;
  std::vector<Box> hulls;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    hulls.push_back(hull_of(boxes_at(bodies[i], offsets[i])));
    if (!bodies[i].loose) {
      columns.push_back({hulls[i].min.x, hulls[i].max.x});
      rows.push_back({hulls[i].min.y, hulls[i].max.y});
    }
  }
  const Bands across(columns, most);
  const Bands down(rows, most);
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!bodies[i].loose) {
      offsets[i].move -= Vec(across.cut_before(hulls[i].min.x), down.cut_before(hulls[i].min.y));
    }
  }
}

void attach(const std::vector<Body>& bodies, std::vector<Offset>& offsets, double gap) {
  std::vector<std::vector<Box>> placed;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!bodies[i].loose) {
      placed.push_back(boxes_at(bodies[i], offsets[i]));
    }
  }
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!bodies[i].loose) {
      continue;
    }
    Vec start(0, 0);
    int count = 0;
    for (const int held : bodies[i].holds) {
      if (!bodies[to_size(held)].loose) {
        start += offsets[to_size(held)].move;
        ++count;
      }
    }
    start = count == 0 ? start : start / static_cast<double>(count);
    offsets[i] = Search(bodies[i], start, placed, gap).best();
    placed.push_back(boxes_at(bodies[i], offsets[i]));
  }
}

}  // namespace kp::scene
