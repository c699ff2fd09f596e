#include "scene/probes.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/text.hpp"
#include "geom/segment.hpp"

namespace kp::scene {
namespace {

constexpr int kDirections = 16;
constexpr std::array<double, 4> kReach = {22, 30, 40, 54};  // px from the point to its letter
constexpr double kFree = 3;                                 // px between a disc and anything else

// What a place costs. Letters that hide one another, or points, help nobody; the rest is looks.
constexpr double kOnBadge = 100;
constexpr double kOutside = 60;
constexpr double kOnWords = 40;
constexpr double kOnLeader = 12;
constexpr double kOnItem = 8;
constexpr double kOnOwn = 5;
constexpr double kTurned = 3;     // by half a turn from straight out
constexpr double kFar = 0.1;      // a px

struct Point {
  int piece = 0;
  Vec tip{0, 0};
  std::string letter;
};

double apart(Vec a, Vec b) { return geom::length(a - b); }

/// From a place to the line between two others.
double apart(Vec at, Vec from, Vec to) { return apart(at, geom::nearest_on(from, to, at)); }

class Placer {
 public:
  Placer(const Arrangement& arrangement, const std::vector<Callout>& callouts,
         const Viewport& viewport, std::vector<Point> points)
      : it_(arrangement), callouts_(callouts), points_(std::move(points)) {
    window_ = Box::of(0, 0, viewport.width, viewport.height);
    window_.add(arrangement.content);
  }

  std::vector<Vec> place() {
    for (const Point& point : points_) {
      done_.push_back(best(point));
    }
    return std::move(done_);
  }

 private:
  [[nodiscard]] Vec best(const Point& point) const {
    const Vec middle = it_.pieces[to_size(point.piece)].ink.centre();
    const Vec out = apart(point.tip, middle) < 1 ? Vec(0, -1) : geom::unit(point.tip - middle);
    const double straight = std::atan2(out.y, out.x);
    Vec found = point.tip;
    double least = std::numeric_limits<double>::infinity();
    for (const double reach : kReach) {
      for (int i = 0; i < kDirections; ++i) {
        // Straight out first, then to both sides by turns.
        const double turn = std::numbers::pi * 2 / kDirections * ((i + 1) / 2) * (i % 2 == 0 ? 1 : -1);
        const Vec centre = point.tip + Vec(std::cos(straight + turn), std::sin(straight + turn)) * reach;
        const double cost = std::abs(turn) / std::numbers::pi * kTurned +
                            (reach - kReach.front()) * kFar + meets_cost(point, centre);
        if (cost < least) {
          least = cost;
          found = centre;
        }
      }
    }
    return found;
  }

  [[nodiscard]] double meets_cost(const Point& point, Vec centre) const {
    const double radius = kBadge + kFree;
    const Box disc = Box::around(centre, radius, radius);
    double cost = window_.contains(disc) ? 0 : kOutside;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const bool own = &points_[i] == &point;
      if (!own && apart(points_[i].tip, centre) < radius + kFree) cost += kOnBadge;
      if (i >= done_.size()) continue;
      if (apart(done_[i], centre) < 2 * kBadge + kFree) cost += kOnBadge;
      if (apart(centre, points_[i].tip, done_[i]) < radius) cost += kOnLeader;
      if (apart(done_[i], point.tip, centre) < radius) cost += kOnLeader;
    }
    for (const Callout& callout : callouts_) {
      if (callout.box.overlaps(disc)) cost += kOnWords;
      if (geom::distance(callout.leader, false, centre) < radius) cost += kOnLeader;
    }
    for (std::size_t i = 0; i < it_.pieces.size(); ++i) {
      const bool own = to_int(i) == point.piece;
      bool hit = false;
      bool crossed = false;
      for (const Box& cover : it_.pieces[i].cover) {
        hit = hit || cover.overlaps(disc);
        crossed = crossed || (!own && meets(cover, point.tip, centre));
      }
      if (hit) cost += own ? kOnOwn : kOnItem;
      if (crossed) cost += kOnItem;
    }
    return cost;
  }

  const Arrangement& it_;
  const std::vector<Callout>& callouts_;
  std::vector<Point> points_;
  std::vector<Vec> done_;
  Box window_;
};

}  // namespace

std::vector<Badge> badges_of(const std::vector<Item>& shown, const Arrangement& arrangement,
                             const std::vector<Callout>& callouts, const Viewport& viewport) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < arrangement.pieces.size(); ++i) {
    const Piece& piece = arrangement.pieces[i];
    const Item& item = shown[to_size(piece.item)];
    if (piece.copy != 0 || item.state == ItemState::removed) {
      continue;
    }
    for (const Probe& probe : item.probes) {
      const Vec at(piece.mirrored ? -probe.at.x : probe.at.x, probe.at.y);
      points.push_back({to_int(i), piece.at + at * piece.scale, probe.letter});
    }
  }
  const std::vector<Vec> centres = Placer(arrangement, callouts, viewport, points).place();
  std::vector<Badge> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Item& item = shown[to_size(arrangement.pieces[to_size(points[i].piece)].item)];
    out.push_back({item.id, points[i].tip, centres[i], points[i].letter});
  }
  return out;
}

}  // namespace kp::scene
