#include "scene/callouts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "geom/segment.hpp"
#include "scene/column.hpp"
#include "scene/obstacles.hpp"
#include "scene/planner.hpp"

namespace kp::scene {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();
constexpr double kStep = 2;   // px: the raster of label heights
constexpr double kReach = 90; // px between words and the height they belong to
constexpr double kElbow = 6;  // px beyond the picture at which leaders may bend

bool own(const Piece& piece, const Candidate& candidate) {
  return piece.item == candidate.item && piece.copy == candidate.piece;
}

}  // namespace

double Planner::elbow(double sign) const {
  return sign > 0 ? it_->narrow.max.x + kElbow : it_->narrow.min.x - kElbow;
}

Box Planner::words_box(int item, Vec edge, double sign) const {
  const Label& words = label(item);
  const double left = sign > 0 ? edge.x : edge.x - words.width;
  return Box::of(left, edge.y - words.height / 2, left + words.width, edge.y + words.height / 2);
}

bool Planner::clear_of_items(const Contour& line, const Candidate& candidate) const {
  return way_is_clear(*it_, line, candidate.item, candidate.piece, candidate.through_rings);
}

/// A leader does not run through or along a limb of its own item, where it would look like an edge.
bool Planner::clear_of_own(Vec from, Vec to, const Candidate& candidate) const {
  if (geom::length(to - from) <= 3 * kClear) {
    return true;
  }
  const Vec off = from + geom::unit(to - from) * (3 * kClear);
  for (const Piece& piece : it_->pieces) {
    if (!own(piece, candidate)) {
      continue;
    }
    for (const Box& box : piece.cover) {
      if (meets(box.grown(2), off, to)) {
        return false;
      }
    }
  }
  return true;
}

bool Planner::level_way(const Candidate& candidate, double sign) const {
  const Vec end(elbow(sign), candidate.anchor.y);
  return clear_of_items({candidate.anchor, end}, candidate) &&
         clear_of_own(candidate.anchor, end, candidate);
}

/// A point of the item's edge from which a level line leaves the picture freely: as near to half
/// its height as can be.
bool Planner::find_anchor(int item, double sign, Candidate& out) const {
  std::vector<int> pieces;
  for (std::size_t i = 0; i < it_->pieces.size(); ++i) {
    if (it_->pieces[i].item == item) {
      pieces.push_back(static_cast<int>(i));
    }
  }
  std::sort(pieces.begin(), pieces.end(), [this, sign](int a, int b) {
    const double of_a = sign * it_->pieces[to_size(a)].ink.centre().x;
    const double of_b = sign * it_->pieces[to_size(b)].ink.centre().x;
    return of_a > of_b || (of_a == of_b && a < b);
  });
  const bool rings = std::any_of(it_->pieces.begin(), it_->pieces.end(),
                                 [](const Piece& piece) { return piece.ring > 0; });
  bool second_best = false;
  for (const int index : pieces) {
    const Piece& piece = it_->pieces[to_size(index)];
    const Box box = piece.ring > 0 ? piece.cover.front() : piece.ink;
    for (const double share :
         {0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78, 0.15, 0.85, 0.09, 0.91, 0.04, 0.96}) {
      const double y = box.min.y + share * box.height();
      double x = 0;
      if (!edge_at(piece, y, sign, x) || (elbow(sign) - x) * sign < 0) {
        continue;
      }
      Candidate here{item, piece.copy, Vec(x, y), y, false};
      if (level_way(here, sign)) {
        out = here;
        return true;
      }
      here.through_rings = true;
      if (rings && !second_best && level_way(here, sign)) {
        second_best = true;
        out = here;
      }
    }
  }
  return second_best;
}

/// How far the words stand from their anchor's height; infinite where they or the bent part of
/// the leader would meet an item (only wide ones reach there).
double Planner::cost(const Candidate& candidate, double y, double sign,
                     const std::vector<const Piece*>& near) const {
  const Vec bend(elbow(sign), candidate.anchor.y);
  const Vec end(words_x(sign) - sign * kWordGap, y);
  const Box words = words_box(candidate.item, Vec(words_x(sign), y), sign).grown(1);
  for (const Piece* piece : near) {
    for (const Box& box : piece->cover) {
      if (box.overlaps(words) || meets(box.grown(1), bend, end)) {
        return kInf;
      }
    }
  }
  return std::abs(y - candidate.anchor.y);
}

/// The pieces that reach into the column.
std::vector<const Piece*> Planner::near_column(double sign) const {
  std::vector<const Piece*> out;
  for (const Piece& piece : it_->pieces) {
    if (sign > 0 ? piece.ink.max.x >= elbow(sign) : piece.ink.min.x <= elbow(sign)) {
      out.push_back(&piece);
    }
  }
  return out;
}

/// Heights of the words in one column, in the order of the anchors. Leaders in this order cannot
/// cross: their level parts end where their bent parts begin.
std::vector<Candidate> Planner::spread(std::vector<Candidate> column, double sign,
                                       std::vector<int>& dropped) const {
  std::sort(column.begin(), column.end(), [](const Candidate& a, const Candidate& b) {
    return a.anchor.y < b.anchor.y || (a.anchor.y == b.anchor.y && a.item < b.item);
  });
  std::vector<ColumnEntry> entries;
  double needed = 0;
  for (const Candidate& one : column) {
    entries.push_back({one.anchor.y, label(one.item).height});
    needed += entries.back().height + kStep;
  }
  const bool scrolls = it_->content.height() > viewport_->height - 2 * viewport_->margin;
  const double spare = std::max(0.0, needed - (viewport_->height - 2 * viewport_->margin)) / 2;
  const Column place{(scrolls ? it_->content.min.y : viewport_->margin) - spare,
                     (scrolls ? it_->content.max.y : viewport_->height - viewport_->margin) + spare,
                     kStep, kReach};
  const std::vector<const Piece*> near = near_column(sign);
  const auto heights = spread_column(entries, place, [&](std::size_t entry, double y) {
    return cost(column[entry], y, sign, near);
  });
  std::vector<Candidate> kept;
  for (std::size_t i = 0; i < column.size(); ++i) {
    if (heights[i]) {
      kept.push_back(column[i]);
      kept.back().y = *heights[i];
    } else {
      dropped.push_back(column[i].item);
    }
  }
  // On the raster words stand up to a pixel off their anchor: level them where that is free.
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const double want = kept[i].anchor.y;
    const auto apart = [this, &kept, i](std::size_t other) {
      return (label(kept[i].item).height + label(kept[other].item).height) / 2;
    };
    const bool above = i == 0 || want - kept[i - 1].y >= apart(i - 1);
    const bool below = i + 1 == kept.size() || kept[i + 1].y - want >= apart(i + 1);
    if (std::abs(want - kept[i].y) <= kStep && above && below &&
        cost(kept[i], want, sign, near) < kInf) {
      kept[i].y = want;
    }
  }
  return kept;
}

void Planner::add(int item, Contour leader, const Box& words, Anchor anchor, bool over) {
  Callout callout;
  callout.id = item;
  callout.leader = std::move(leader);
  callout.box = words;
  callout.lines = label(item).lines;
  callout.anchor = anchor;
  callout.over = over;
  done_.push_back(std::move(callout));
}

void Planner::add_column(const std::vector<Candidate>& column, double sign) {
  for (const Candidate& one : column) {
    const Vec end(words_x(sign) - sign * kWordGap, one.y);
    Contour leader{one.anchor};
    if (std::abs(one.y - one.anchor.y) > 0.5) {
      leader.emplace_back(elbow(sign), one.anchor.y);
    }
    leader.push_back(end);
    add(one.item, std::move(leader), words_box(one.item, Vec(words_x(sign), one.y), sign),
        sign > 0 ? Anchor::left : Anchor::right, false);
    starts_.push_back(one);
  }
}

/// A bent leader becomes one straight line where nothing is in its way.
void Planner::straighten() {
  for (std::size_t i = 0; i < starts_.size(); ++i) {
    Contour& leader = done_[i].leader;
    if (leader.size() < 3) {
      continue;
    }
    const Contour straight{leader.front(), leader.back()};
    const bool level_enough =
        std::abs(straight[1].y - straight[0].y) < 0.8 * std::abs(straight[1].x - straight[0].x);
    bool fine = level_enough && clear_of_items(straight, starts_[i]) &&
                clear_of_own(straight[0], straight[1], starts_[i]);
    for (std::size_t j = 0; fine && j < done_.size(); ++j) {
      if (j == i) {
        continue;
      }
      fine = !meets(done_[j].box.grown(1), straight[0], straight[1]);
      for (std::size_t k = 0; fine && k + 1 < done_[j].leader.size(); ++k) {
        fine = !geom::touch(straight[0], straight[1], done_[j].leader[k], done_[j].leader[k + 1]);
      }
    }
    if (fine) {
      leader = straight;
    }
  }
}

CalloutPlan Planner::run() {
  CalloutPlan plan;
  std::vector<Candidate> columns[2];
  std::vector<int> rest;
  for (int item = 0; item < to_int(it_->labels.size()); ++item) {
    if (label(item).lines.empty()) {
      continue;
    }
    std::vector<double> signs{1};
    if (viewport_->side == CalloutSide::left) {
      signs = {-1};
    } else if (viewport_->side == CalloutSide::both) {
      Box box;
      for (const Piece& piece : it_->pieces) {
        box.add(piece.item == item ? piece.ink : Box{});
      }
      const bool right = box.centre().x >= it_->narrow.centre().x - 1;
      signs = right ? std::vector<double>{1, -1} : std::vector<double>{-1, 1};
    }
    Candidate found;
    bool placed = false;
    for (const double sign : signs) {
      if (!placed && find_anchor(item, sign, found)) {
        columns[sign > 0 ? 0 : 1].push_back(found);
        placed = true;
      }
    }
    if (!placed) {
      rest.push_back(item);
    }
  }
  add_column(spread(columns[0], 1, rest), 1);
  add_column(spread(columns[1], -1, rest), -1);
  straighten();
  std::sort(rest.begin(), rest.end());
  for (const int item : rest) {
    if (!add_close_by(item)) {
      plan.unlabelled.push_back(item);
    }
  }
  plan.callouts = std::move(done_);
  return plan;
}

CalloutPlan plan_callouts(const Arrangement& arrangement, const Viewport& viewport) {
  return Planner(arrangement, viewport).run();
}

std::vector<Callout> callouts_over(const Arrangement& arrangement, const Viewport& viewport,
                                   const std::vector<int>& items,
                                   const std::vector<Callout>& taken) {
  return Planner(arrangement, viewport).over(items, taken);
}

}  // namespace kp::scene
