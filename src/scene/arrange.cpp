#include "scene/arrange.hpp"

#include <algorithm>
#include <cmath>

#include "scene/cast.hpp"
#include "scene/slide.hpp"
#include "scene/words.hpp"

namespace kp::scene {
namespace {

constexpr double kRingGap = 5;       // px between a ring and its neighbours
constexpr double kEdge = 3;          // px: wide pieces come as near as this to the window's edge
constexpr int kLevels = 40;
constexpr double kLevel = 0.96;      // scales come in steps, so that small changes change nothing

/// Tries scales and gaps.
class Plan {
 public:
  Plan(const std::vector<Item>& shown, const std::vector<Item>& all, const Viewport& viewport)
      : cast_(shown, all, viewport), viewport_(&viewport) {}

  [[nodiscard]] Arrangement best(bool exploded) const;
  [[nodiscard]] bool fits(double scale) const {
    Arrangement unused;
    return try_at(scale, viewport_->least_gap, true, false, unused);
  }

 private:
  /// Everything in px, shifted into the window: true and in `out` where it fits, `anyway` also
  /// where it does not.
  bool try_at(double scale, double gap, bool exploded, bool anyway, Arrangement& out) const;
  [[nodiscard]] bool hopeless(const std::vector<Body>& bodies, const std::vector<Offset>& offsets,
                              double scale) const;
  [[nodiscard]] Arrangement built(const std::vector<Offset>& offsets, double scale) const;
  [[nodiscard]] std::vector<Piece> pieces_of(int index, const Offset& offset, double scale) const;
  void measure_boxes(Arrangement& out) const;
  void find_seats(Arrangement& arrangement) const;
  /// Shifts it; false where it does not fit.
  bool fit(Arrangement& arrangement) const;

  Cast cast_;
  const Viewport* viewport_;
};

std::vector<Piece> Plan::pieces_of(int index, const Offset& offset, double scale) const {
  const Item& item = cast_.item(index);
  const std::vector<Vec> places = cast_.homes(index);
  std::vector<Piece> out;
  for (std::size_t copy = 0; copy < places.size(); ++copy) {
    const bool twin = copy > 0 && cast_.twinned(index);
    Piece piece;
    piece.item = index;
    piece.copy = static_cast<int>(copy);
    piece.drawing = &cast_.drawing(item);
    piece.mirrored = cast_.mirrored(index, places[copy]);
    const Vec home = places[copy] + (twin ? offset.twin() : offset.own());
    piece.scale = item.fastener ? fastener_scale(*piece.drawing, scale) : scale;
    piece.ring = item.fastener ? ring_of(*piece.drawing, scale) : 0;
    // A fastener's ring is centred where its picture would be at the common scale.
    const Box& box = piece.drawing->box;
    const Vec middle = (piece.mirrored ? geom::mirrored(box) : box).centre();
    piece.at = item.fastener ? (home + middle) * scale - middle * piece.scale : home * scale;
    // Where it sits: seen with what it holds, once that has moved.
    if (item.fastener) {
      piece.seat = places[copy];
      piece.holder = cast_.holder(index);
    }
    out.push_back(std::move(piece));
  }
  return out;
}

/// Too large even without its fasteners, which take longest to place.
bool Plan::hopeless(const std::vector<Body>& bodies, const std::vector<Offset>& offsets,
                    double scale) const {
  Box all;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    if (!bodies[i].loose) {
      all.add(hull_of(boxes_at(bodies[i], offsets[i])));
    }
  }
  return all.height() * scale > viewport_->height || all.width() * scale > viewport_->width;
}

bool Plan::try_at(double scale, double gap, bool exploded, bool anyway, Arrangement& out) const {
  const std::vector<Body> bodies = cast_.bodies(scale);
  std::vector<Offset> offsets(bodies.size());
  if (exploded) {
    offsets = explode(bodies, cast_.groups(), gap / scale);
    squeeze(bodies, offsets, std::max(1.5 * gap, 20.0) / scale);
    if (!anyway && hopeless(bodies, offsets, scale)) {
      return false;
    }
    attach(bodies, offsets, kRingGap / scale);
  }
  Arrangement tried = built(offsets, scale);
  const bool fits = fit(tried);
  if (fits || anyway) {
    out = std::move(tried);
  }
  return fits;
}

Arrangement Plan::built(const std::vector<Offset>& offsets, double scale) const {
  Arrangement out;
  out.scale = scale;
  out.labels = cast_.labels();
  out.column = cast_.column();
  out.has_axis = cast_.has_axis();
  out.axis_x = cast_.axis_x() * scale;
  for (std::size_t i = 0; i < offsets.size(); ++i) {
    for (Piece& piece : pieces_of(static_cast<int>(i), offsets[i], scale)) {
      out.pieces.push_back(std::move(piece));
    }
  }
  measure_boxes(out);
  return out;
}

void Plan::measure_boxes(Arrangement& out) const {
  for (Piece& piece : out.pieces) {
    const auto put = [&piece](const Box& box) {
      return (piece.mirrored ? geom::mirrored(box) : box).scaled(piece.scale).moved(piece.at);
    };
    piece.ink = put(piece.drawing->box);
    piece.cover.clear();
    for (const Box& box : piece.drawing->cover) {
      piece.cover.push_back(put(box));
    }
    piece.core = piece.cover;
    const Item& item = cast_.item(piece.item);
    Box whole = piece.ink;
    if (piece.ring > 0) {
      const Box ring = Box::around(piece.ink.centre(), piece.ring, piece.ring);
      piece.cover.assign(1, ring);
      whole.add(ring.grown(1.5));
      if (item.away != Vec(0, 0)) {
        Box arrow = Box::around(ring.centre() + item.away * piece.ring, 6, 6);
        arrow.add(Box::around(ring.centre() + item.away * (piece.ring + kArrow - 6), 6, 6));
        piece.cover.push_back(arrow);
        piece.core.push_back(arrow);
        whole.add(arrow);
      }
    }
    piece.room = whole;
    out.content.add(whole);
    const bool wide = whole.width() > 0.62 * viewport_->width &&
                      whole.height() < 0.14 * viewport_->height;
    if (!wide) {
      out.narrow.add(whole);
    }
  }
  if (out.narrow.empty()) {
    out.narrow = out.content;
  }
}

/// Where a fastener sits on what it holds.
void Plan::find_seats(Arrangement& arrangement) const {
  for (Piece& piece : arrangement.pieces) {
    for (const Piece& other : arrangement.pieces) {
      if (other.item == piece.holder && other.copy == 0) {
        piece.seat_at =
            other.at + (piece.seat - cast_.item(other.item).home) * other.scale;
        piece.seated = cast_.seats(other.item, piece.seat);
      }
    }
  }
}

bool Plan::fit(Arrangement& arrangement) const {
  const double margin = viewport_->margin;
  const bool words = cast_.column() > 0;
  const CalloutSide side = viewport_->side;
  const double right = words && side != CalloutSide::left ? kChannel + cast_.column() : 0;
  const double left = words && side != CalloutSide::right ? kChannel + cast_.column() : 0;
  // Shifts that keep the narrow pieces clear of the columns and all pieces in the window.
  const double from = std::max(margin + left - arrangement.narrow.min.x,
                               kEdge - arrangement.content.min.x);
  const double to =
      std::min(viewport_->width - margin - right - arrangement.narrow.max.x,
               viewport_->width - kEdge - arrangement.content.max.x);
  const double room = viewport_->height - 2 * margin;
  const bool fits = from <= to + 1e-9 && arrangement.content.height() <= room + 1e-9;
  const double wanted = viewport_->width / 2 - arrangement.narrow.centre().x;
  const double x = from <= to ? std::clamp(wanted, from, to) : from;
  const double y = arrangement.content.height() <= room
                       ? viewport_->height / 2 - arrangement.content.centre().y
                       : margin - arrangement.content.min.y;
  const Vec shift(x, y);
  for (Piece& piece : arrangement.pieces) {
    piece.at += shift;
    piece.ink = piece.ink.moved(shift);
    piece.room = piece.room.moved(shift);
    piece.cover = moved(std::move(piece.cover), shift);
    piece.core = moved(std::move(piece.core), shift);
  }
  find_seats(arrangement);
  arrangement.narrow = arrangement.narrow.moved(shift);
  arrangement.content = arrangement.content.moved(shift);
  arrangement.axis_x += shift.x;
  arrangement.right_labels = arrangement.narrow.max.x + kChannel;
  arrangement.left_labels = arrangement.narrow.min.x - kChannel;
  return fits;
}

/// The largest scale that fits, then the widest gaps; if none fits, the smallest of both.
Arrangement Plan::best(bool exploded) const {
  const auto scale_at = [this](int level) {
    return std::max(viewport_->least_scale, viewport_->most_scale * std::pow(kLevel, level));
  };
  Arrangement out;
  if (!try_at(viewport_->least_scale, viewport_->least_gap, exploded, true, out)) {
    return out;
  }
  int low = 0;
  int high = kLevels;  // fits
  while (low < high) {
    const int middle = (low + high) / 2;
    if (try_at(scale_at(middle), viewport_->least_gap, exploded, false, out)) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  // A wider gap may push a ring out of the window and a still wider one let it in again: from the
  // widest down, all are tried.
  for (const double share : {1.0, 0.8, 0.65, 0.5, 0.4, 0.3, 0.2, 0.1}) {
    const double gap = viewport_->least_gap + share * (viewport_->most_gap - viewport_->least_gap);
    if (exploded && try_at(scale_at(low), gap, true, false, out)) {
      break;
    }
  }
  return out;
}

double mixed(double a, double b, double share) { return a + (b - a) * share; }

Box mixed(const Box& a, const Box& b, double share) {
  Box out;
  out.min = geom::mix(a.min, b.min, share);
  out.max = geom::mix(a.max, b.max, share);
  return out;
}

}  // namespace

const Drawing& no_drawing() {
  static const Drawing box =
      drawing_of("no drawing", {{Vec(-14, -9), Vec(14, -9), Vec(14, 9), Vec(-14, 9)}}, Role::paper);
  return box;
}

double label_width(const Viewport& viewport, std::string_view text) {
  return viewport.measure ? viewport.measure(text, viewport.label_size, true)
                          : words_width(text, viewport.label_size);
}

bool fits_at(const std::vector<Item>& shown, const std::vector<Item>& all, double scale,
             const Viewport& viewport) {
  return Plan(shown, all, viewport).fits(scale);
}

Arrangement arrange(const std::vector<Item>& shown, const std::vector<Item>& all, double progress,
                    const Viewport& viewport) {
  const Plan plan(shown, all, viewport);
  if (progress >= 1) {
    return plan.best(true);
  }
  Arrangement out = plan.best(false);
  if (progress <= 0) {
    return out;
  }
  const Arrangement apart = plan.best(true);
  out.scale = mixed(out.scale, apart.scale, progress);
  out.axis_x = mixed(out.axis_x, apart.axis_x, progress);
  out.narrow = mixed(out.narrow, apart.narrow, progress);
  out.content = mixed(out.content, apart.content, progress);
  out.right_labels = mixed(out.right_labels, apart.right_labels, progress);
  out.left_labels = mixed(out.left_labels, apart.left_labels, progress);
  for (std::size_t i = 0; i < out.pieces.size(); ++i) {
    Piece& piece = out.pieces[i];
    const Piece& end = apart.pieces[i];
    piece.at = geom::mix(piece.at, end.at, progress);
    piece.scale = mixed(piece.scale, end.scale, progress);
    piece.ring = mixed(piece.ring, end.ring, progress);
    piece.ink = mixed(piece.ink, end.ink, progress);
    piece.room = mixed(piece.room, end.room, progress);
    piece.seat_at = geom::mix(piece.seat_at, end.seat_at, progress);
    piece.seated = piece.seated && end.seated;
    for (std::size_t b = 0; b < piece.cover.size(); ++b) {
      piece.cover[b] = mixed(piece.cover[b], end.cover[b], progress);
    }
    for (std::size_t b = 0; b < piece.core.size(); ++b) {
      piece.core[b] = mixed(piece.core[b], end.core[b], progress);
    }
  }
  return out;
}

}  // namespace kp::scene
