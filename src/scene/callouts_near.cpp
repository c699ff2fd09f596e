#include <algorithm>

#include "base/text.hpp"
#include "geom/segment.hpp"
#include "scene/obstacles.hpp"
#include "scene/planner.hpp"

namespace kp::scene {
namespace {

constexpr double kStep = 2;  // px between the heights that are tried

}  // namespace

bool Planner::in_window(const Box& words) const {
  const double margin = viewport_->margin / 2;
  const bool scrolls = it_->content.height() > viewport_->height - 2 * viewport_->margin;
  const double spare = words.height() + 8;
  const Box window = Box::of(margin, scrolls ? it_->content.min.y - spare : margin,
                             viewport_->width - margin,
                             scrolls ? it_->content.max.y + spare : viewport_->height - margin);
  return window.contains(words);
}

bool Planner::off_callouts(const Box& words, const Contour& leader) const {
  for (const Callout& other : done_) {
    if (other.box.grown(2).overlaps(words) ||
        (!leader.empty() && meets(other.box.grown(1), leader[0], leader[1]))) {
      return false;
    }
    for (std::size_t k = 0; k + 1 < other.leader.size(); ++k) {
      if (meets(words.grown(1), other.leader[k], other.leader[k + 1]) ||
          (!leader.empty() &&
           geom::touch(leader[0], leader[1], other.leader[k], other.leader[k + 1]))) {
        return false;
      }
    }
  }
  return true;
}

bool Planner::free(const Box& words, const Contour& leader) const {
  return in_window(words) && off_callouts(words, leader) && room_is_clear(*it_, words);
}

bool Planner::try_spot(const Candidate& candidate, const Box& words, Anchor anchor) {
  const Vec middle = words.centre();
  Vec end(std::clamp(candidate.anchor.x, words.min.x, words.max.x),
          std::clamp(candidate.anchor.y, words.min.y, words.max.y));
  if (anchor == Anchor::left) {
    end = Vec(words.min.x - 3, middle.y);
  } else if (anchor == Anchor::right) {
    end = Vec(words.max.x + 3, middle.y);
  }
  Contour leader;
  if (geom::length(end - candidate.anchor) > 9) {
    leader = {candidate.anchor, end};
  }
  if (!free(words, leader) || !clear_of_items(leader, candidate)) {
    return false;
  }
  add(candidate.item, leader, words, anchor, false);
  return true;
}

/// Words beside, over or under the item itself.
bool Planner::add_close_by(int item) {
  const Label& words = label(item);
  for (const double away : {5.0, 14.0, 26.0, 40.0}) {
    for (const Piece& piece : it_->pieces) {
      if (piece.item != item) {
        continue;
      }
      const Box box = piece.ring > 0 ? piece.cover.front() : piece.ink;
      const Vec middle = box.centre();
      Candidate from{item, piece.copy, middle, 0, false};
      for (const double lift : {0.0, -0.35, 0.35}) {
        const double y = middle.y + lift * box.height();
        for (const double sign : {1.0, -1.0}) {
          double x = 0;
          if (!edge_at(piece, y, sign, x)) {
            continue;
          }
          from.anchor = Vec(x, y);
          const Vec edge((sign > 0 ? box.max.x : box.min.x) + sign * away, y);
          if (try_spot(from, words_box(item, edge, sign),
                       sign > 0 ? Anchor::left : Anchor::right)) {
            return true;
          }
        }
      }
      for (const double aside : {0.0, 0.3, -0.3}) {
        for (const double sign : {1.0, -1.0}) {
          const double edge = sign > 0 ? box.max.y : box.min.y;
          const Vec at(middle.x + aside * box.width(), edge + sign * (away + words.height / 2));
          from.anchor = Vec(at.x, edge);
          const Box room = Box::around(at, words.width / 2, words.height / 2);
          if (try_spot(from, room, Anchor::middle)) {
            return true;
          }
        }
      }
    }
  }
  return false;
}

std::vector<Callout> Planner::over(const std::vector<int>& items,
                                   const std::vector<Callout>& taken) {
  done_ = taken;
  const double sign = viewport_->side == CalloutSide::left ? -1 : 1;
  for (const int item : items) {
    if (label(item).lines.empty()) {
      continue;
    }
    const Piece* piece = nullptr;
    for (const Piece& one : it_->pieces) {
      const bool farther = piece == nullptr ||
                           sign * one.ink.centre().x > sign * piece->ink.centre().x;
      piece = one.item == item && farther ? &one : piece;
    }
    if (piece == nullptr) {
      continue;
    }
    const Box box = piece->ring > 0 ? piece->cover.front() : piece->ink;
    const double y = box.centre().y;
    double x = box.centre().x;
    static_cast<void>(edge_at(*piece, y, sign, x));
    // The free place of the column nearest to the item's height.
    const int most = static_cast<int>((it_->content.height() + viewport_->height) / kStep) * 2;
    for (int k = 0; k < most; ++k) {
      const double shift = kStep * ((k + 1) / 2) * (k % 2 == 0 ? 1 : -1);
      const Vec edge(words_x(sign), y + shift);
      const Box words = words_box(item, edge, sign);
      if (free(words, {})) {
        const Vec end = edge - Vec(sign * kWordGap, 0);
        add(item, {Vec(x, y), end}, words, sign > 0 ? Anchor::left : Anchor::right, true);
        break;
      }
    }
  }
  done_.erase(done_.begin(), done_.begin() + static_cast<std::ptrdiff_t>(taken.size()));
  return std::move(done_);
}

}  // namespace kp::scene
