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
/// direction, and from each a slide along it, ahead or back, within a few of its own sizes.
class Search {
 public:
  Search(const Body& body, Vec start, const std::vector<std::vector<Box>>& others, double gap)
      : body_(&body), start_(start), gap_(gap) {
    along_ = body.away == Vec(0, 0) ? Vec(0, 1) : body.away;
    across_ = geom::quarter_turn(along_);
    const Box own = hull_of(boxes_at(body, {start, Vec(0, 0)}));
    const Range lane = extent(hull_of(body.boxes), across_);
    step_ = (lane.to - lane.from) / 4;
    reach_ = kSteps * step_;
    for (const std::vector<Box>& boxes : others) {
      const Box hull = hull_of(boxes);
      if (hull.overlaps(own.grown(2 * reach_ + gap))) {
        hulls_.push_back(hull);
        near_.push_back(&boxes);
      }
    }
  }

  /// False where nothing is free within reach.
  bool best(Offset& out) const {
    double least = std::numeric_limits<double>::infinity();
    for (int k = 0; k <= kSteps && step_ * k < least; ++k) {
      for (const double sign : {1.0, -1.0}) {
        const Vec side = across_ * (sign * step_ * k);
        if (!apart(side)) {
          continue;
        }
        for (const double way : {1.0, -1.0}) {
          try_slides({start_, side}, along_ * way, step_ * k, least, out);
        }
      }
    }
    return least < std::numeric_limits<double>::infinity();
  }

 private:
  static constexpr int kSteps = 14;

  void try_slides(const Offset& from, Vec way, double aside, double& least, Offset& out) const {
    const std::vector<Range> ranges = ranges_for(from, way);
    for (double ahead = 0; ahead <= 6 * gap_ && ahead + aside < least; ahead += gap_) {
      const double t = first_free(ranges, ahead);
      if (t > reach_ || t + aside >= least) {
        return;
      }
      const Offset here{from.move + way * t, from.side};
      const double cost = t + aside + hiding(here);
      if (cost < least - kTouch) {
        least = cost;
        out = here;
      }
    }
  }

  /// The copies on the two sides do not lie on one another.
  [[nodiscard]] bool apart(Vec side) const {
    const Offset offset{Vec(0, 0), side};
    return body_->twins.empty() ||
           !hull_of(body_->boxes).moved(offset.own()).grown(gap_ / 2).overlaps(
               hull_of(body_->twins).moved(offset.twin()).grown(gap_ / 2));
  }

  [[nodiscard]] std::vector<Range> ranges_for(const Offset& from, Vec along) const {
    const std::vector<Box> own = boxes_at(*body_, from);
    std::vector<Range> ranges;
    for (std::size_t i = 0; i < near_.size(); ++i) {
      for (const Box& moving : own) {
        const Range whole = blocked(hulls_[i], moving, along, gap_);
        if (whole.empty() || whole.to <= 0) {
          continue;
        }
        for (const Box& still : *near_[i]) {
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
        cost += beside && std::max(above, below) < 2 * gap_ &&
                        overlap({hull.min.y, hull.max.y}, {own.min.y, own.max.y})
                    ? 6 * gap_
                    : 0;
      }
    }
    return cost;
  }

  const Body* body_;
  Vec start_;
  double gap_;
  Vec along_{0, 1};
  Vec across_{1, 0};
  double step_ = 0;
  double reach_ = 0;
  std::vector<const std::vector<Box>*> near_;
  std::vector<Box> hulls_;
};

/// The first free place straight out along its direction, however far; twins first step apart.
Offset far_out(const Body& body, Vec start, const std::vector<std::vector<Box>>& others,
               double gap) {
  const Vec along = body.away == Vec(0, 0) ? Vec(0, 1) : body.away;
  Offset out{start, Vec(0, 0)};
  if (!body.twins.empty()) {
    const Box own = hull_of(body.boxes);
    const double sign = own.centre().x < hull_of(body.twins).centre().x ? -1 : 1;
    out.side = Vec(sign * (own.width() + gap), 0);
  }
  std::vector<Range> ranges;
  for (const Box& moving : boxes_at(body, out)) {
    for (const std::vector<Box>& boxes : others) {
      for (const Box& still : boxes) {
        const Range range = blocked(still, moving, along, gap);
        if (!range.empty() && range.to > 0) {
          ranges.push_back(range);
        }
      }
    }
  }
  out.move += along * first_free(ranges, 0);
  return out;
}

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
    const int holder = bodies[i].holder;
    const Vec start = holder < 0 ? Vec(0, 0) : offsets[to_size(holder)].move;
    if (!Search(bodies[i], start, placed, gap).best(offsets[i])) {
      offsets[i] = far_out(bodies[i], start, placed, gap);
    }
    placed.push_back(boxes_at(bodies[i], offsets[i]));
  }
}

}  // namespace kp::scene
