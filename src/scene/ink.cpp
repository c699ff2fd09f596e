#include "scene/ink.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "scene/probes.hpp"

namespace kp::scene {
namespace {

constexpr double kMostRing = 46;
constexpr double kRingPen = 2.5;

Look look_of(ItemState state) {
  switch (state) {
    case ItemState::at_rest: return Look::plain;
    case ItemState::next: return Look::next;
    case ItemState::moving: return Look::moving;
    case ItemState::removed: return Look::ghost;
    case ItemState::target: return Look::target;
  }
  return Look::plain;
}

bool acted_on(ItemState state) { return state == ItemState::next || state == ItemState::moving; }

class Inker {
 public:
  Inker(const std::vector<Item>& shown, const Arrangement& arrangement, const Scene& scene,
        const Viewport& viewport)
      : shown_(&shown), it_(&arrangement), scene_(&scene), viewport_(&viewport) {}

  DisplayList run();

 private:
  [[nodiscard]] const Item& item(const Placed& placed) const;
  [[nodiscard]] PartMark part(const Placed& placed) const;
  void context();
  void ghosts();
  void axes();
  void rings();
  void parts();
  void stems();
  [[nodiscard]] bool stem_clear(const Piece& piece, Vec start) const;
  void arrows();
  void arrow(const Placed& placed, Vec away);
  [[nodiscard]] bool arrow_free(const Placed& placed, Vec from, Vec to) const;
  void words();
  void badges();

  const std::vector<Item>* shown_;
  const Arrangement* it_;
  const Scene* scene_;
  const Viewport* viewport_;
  DisplayList list_;
};

const Item& Inker::item(const Placed& placed) const {
  return *std::find_if(shown_->begin(), shown_->end(),
                       [&placed](const Item& one) { return one.id == placed.id; });
}

PartMark Inker::part(const Placed& placed) const {
  return {placed.drawing, placed.at, placed.scale,
          placed.context ? Look::context : look_of(placed.state), placed.mirrored};
}

void Inker::context() {
  for (const Placed& placed : scene_->items) {
    if (placed.context) {
      list_.emplace_back(part(placed));
    }
  }
}

void Inker::ghosts() {
  for (const Placed& placed : scene_->items) {
    if (placed.state == ItemState::removed && !placed.context) {
      list_.emplace_back(part(placed));
    }
  }
}

void Inker::axes() {
  for (const AxisLine& axis : scene_->axes) {
    list_.emplace_back(LineMark{{axis.from, axis.to}, false, {Role::soft, 0.9, {9, 4, 2, 4}}});
  }
}

void Inker::rings() {
  for (const Placed& placed : scene_->items) {
    if (!acted_on(placed.state) || placed.context) {
      continue;
    }
    if (placed.ring > 0) {
      list_.emplace_back(CircleMark{placed.box.centre(), placed.ring, Role::accent_tint,
                                 {Role::accent, kRingPen, {}}});
    } else {
      list_.emplace_back(HaloMark{part(placed), Role::accent_tint, 14});
    }
  }
}

void Inker::parts() {
  std::vector<const Placed*> order;
  for (const Placed& placed : scene_->items) {
    if (placed.state != ItemState::removed && !placed.context) {
      order.push_back(&placed);
    }
  }
  std::stable_sort(order.begin(), order.end(),
                   [](const Placed* a, const Placed* b) { return a->order < b->order; });
  for (const Placed* placed : order) {
    list_.emplace_back(part(*placed));
  }
}

bool Inker::stem_clear(const Piece& piece, Vec start) const {
  for (const Piece& other : it_->pieces) {
    if (other.item == piece.item || other.item == piece.holder) {
      continue;
    }
    for (const Box& box : other.cover) {
      if (meets(box, start, piece.seat_at)) {
        return false;
      }
    }
  }
  return true;
}

/// From the ring of a fastener to the place where it sits, if that is in sight.
void Inker::stems() {
  for (std::size_t i = 0; i < it_->pieces.size(); ++i) {
    const Piece& piece = it_->pieces[i];
    if (!piece.seated || !acted_on((*shown_)[to_size(piece.item)].state)) {
      continue;
    }
    const Vec centre = piece.ink.centre();
    const Vec way = piece.seat_at - centre;
    const Vec start = centre + geom::unit(way) * piece.ring;
    if (geom::length(way) < piece.ring + 6 || !stem_clear(piece, start)) {
      continue;
    }
    list_.emplace_back(LineMark{{start, piece.seat_at},
                                false,
                                {Role::accent, 1.5, {}}});
    list_.emplace_back(CircleMark{piece.seat_at, 3, Role::accent, {Role::accent, 0, {}}});
  }
}

bool Inker::arrow_free(const Placed& placed, Vec from, Vec to) const {
  Box box;
  box.add(from);
  box.add(to);
  box = box.grown(6);
  if (!Box::of(0, 0, viewport_->width, std::max(viewport_->height, scene_->content.max.y))
           .contains(box)) {
    return false;
  }
  for (const Piece& piece : it_->pieces) {
    const bool own = (*shown_)[to_size(piece.item)].id == placed.id && piece.copy == placed.copy;
    for (const Box& cover : piece.cover) {
      if (!own && cover.overlaps(box)) {
        return false;
      }
    }
  }
  return std::none_of(scene_->callouts.begin(), scene_->callouts.end(), [&](const Callout& one) {
    bool hit = one.box.overlaps(box);
    for (std::size_t i = 0; i + 1 < one.leader.size(); ++i) {
      hit = hit || meets(box, one.leader[i], one.leader[i + 1]);
    }
    return hit;
  });
}

/// Ahead of the item, else beside it, in its real direction.
void Inker::arrow(const Placed& placed, Vec away) {
  const Vec middle = placed.box.centre();
  const Vec across = geom::quarter_turn(away);
  const auto half = [&placed](Vec along) {
    return (std::abs(along.x) * placed.box.width() + std::abs(along.y) * placed.box.height()) / 2;
  };
  const double ahead = placed.ring > 0 ? placed.ring : half(away);
  const double aside = placed.ring > 0 ? placed.ring : half(across) + 8;
  const double size = placed.ring > 0 ? 16 : 24;
  std::vector<std::array<Vec, 2>> ways;
  ways.push_back({middle + away * (ahead + 4), middle + away * (ahead + 4 + size)});
  for (const double sign : {-1.0, 1.0}) {
    const Vec start = middle + across * (sign * (aside + 14)) - away * (size * 0.6);
    ways.push_back({start, start + away * (size * 1.4)});
  }
  auto best = ways.front();
  for (const auto& way : ways) {
    if (arrow_free(placed, way[0], way[1])) {
      best = way;
      break;
    }
  }
  list_.emplace_back(ArrowMark{best[0], best[1], 8.5, {Role::accent, 3, {}}});
}

void Inker::arrows() {
  for (const Placed& placed : scene_->items) {
    if (acted_on(placed.state) && !placed.context && item(placed).away != Vec(0, 0)) {
      arrow(placed, item(placed).away);
    }
  }
}

void Inker::words() {
  const double size = viewport_->label_size;
  for (const Callout& callout : scene_->callouts) {
    const Role line = callout.strong ? Role::accent : Role::soft;
    if (!callout.leader.empty()) {
      list_.emplace_back(LineMark{callout.leader, false, {line, 1, {}}});
      list_.emplace_back(CircleMark{callout.leader.front(), 2, line, {line, 0, {}}});
    }
    for (std::size_t i = 0; i < callout.lines.size(); ++i) {
      TextMark text;
      const double x = callout.anchor == Anchor::left    ? callout.box.min.x
                       : callout.anchor == Anchor::right ? callout.box.max.x
                                                         : callout.box.centre().x;
      const double row = callout.box.min.y + (static_cast<double>(i) + 0.5) * kLineHeight * size;
      text.at = Vec(x, row + 0.35 * size);
      text.anchor = callout.anchor;
      text.size = size;
      text.strong = callout.strong;
      text.role = callout.strong ? Role::line : Role::soft;
      text.text = callout.lines[i];
      list_.emplace_back(text);
    }
  }
}

void Inker::badges() {
  constexpr double kTip = 3.5;
  constexpr double kLetter = 13;
  for (const Badge& badge : scene_->badges) {
    list_.emplace_back(LineMark{{badge.tip, badge.centre}, false, {Role::accent, 2, {}}});
    list_.emplace_back(CircleMark{badge.tip, kTip, Role::accent, {Role::paper, 1, {}}});
  }
  // The discs lie over all lines: two probes may stand close to one another.
  for (const Badge& badge : scene_->badges) {
    list_.emplace_back(CircleMark{badge.centre, kBadge, Role::accent, {Role::paper, 1, {}}});
    TextMark letter;
    letter.at = badge.centre + Vec(0, 0.35 * kLetter);
    letter.anchor = Anchor::middle;
    letter.size = kLetter;
    letter.strong = true;
    letter.role = Role::paper;
    letter.text = badge.letter;
    list_.emplace_back(std::move(letter));
  }
}

DisplayList Inker::run() {
  context();
  ghosts();
  axes();
  rings();
  parts();
  stems();
  words();
  arrows();
  badges();
  return std::move(list_);
}

}  // namespace

bool marked(ItemState state) { return acted_on(state) || state == ItemState::target; }

double ring_radius(const Piece& piece) {
  if (piece.ring > 0) {
    return piece.ring;
  }
  const double radius =
      std::max(kLeast, geom::length(piece.ink.max - piece.ink.min) / 2 + 6);
  return radius <= kMostRing ? radius : 0;
}

DisplayList ink_of(const std::vector<Item>& shown, const Arrangement& arrangement,
                   const Scene& scene, const Viewport& viewport) {
  return Inker(shown, arrangement, scene, viewport).run();
}

}  // namespace kp::scene
