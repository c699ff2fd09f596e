#include "plan/explain.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::plan {
namespace {

class Explainer {
 public:
  Explainer(const Rules& rules, const Sequence& sequence, const Landmarks& marks)
      : r_(rules), s_(sequence), marks_(marks) {}

  Reason take() { return std::move(out_); }

  void item(int i) {
    if (circle(blocker(i), r_.item_name(i))) return;
    const Item& item = r_.item(i);
    if ((item.positions & marks_.places) == 0) {
      position(lowest(item.positions));
      return;
    }
    ways(item, i);
  }

  void position(int p) {
    const std::string name = r_.position_name(p);
    if (circle(Blocker{Blocker::What::position, p}, name)) return;
    int from = -1;
    for (const Move& move : s_.moves) {
      if (move.to != p || move.from == p) continue;
      const int joint = (move.needs - marks_.reached).first();
      if (joint >= 0) {
        item(joint);
        return;
      }
      if (from < 0 && (marks_.places >> static_cast<unsigned>(move.from) & 1U) == 0) from = move.from;
    }
    if (from >= 0) {
      position(from);
      return;
    }
    for (const RuleTurn& turn : r_.turns()) {
      if (turn.to != p || turn.never.empty()) continue;
      fixed(turn.never.front());
      return;
    }
    if (barred(p)) return;
    out_.root = Reason::Root::position;
    out_.words = cat("there is no change of position that leads to: ", name);
  }

  /// The way that lacks least says what is missing.
  void ways(const Item& item, int self) {
    const ItemWay* best = nullptr;
    int least = ItemSet::kSize + 1;
    for (const ItemWay& way : item.ways) {
      const int lacks = (way.items - marks_.reached).count();
      if (lacks >= least) continue;
      least = lacks;
      best = &way;
    }
    if (best != nullptr && least > 0) {
      this->item((best->items - marks_.reached).first());
      return;
    }
    if (best != nullptr) {
      // All of it comes away, but not where this way is open.
      const int p = lowest(best->positions & item.positions);
      if ((marks_.places >> static_cast<unsigned>(p) & 1U) == 0 || !barred(p)) position(p);
      return;
    }
    if (!item.never.empty()) {
      fixed(item.never.front());
      return;
    }
    out_.root = Reason::Root::fixed;
    out_.words = cat(self < 0 ? "it" : r_.item_name(self), " does not come away");
  }

 private:
  void fixed(int part) {
    out_.root = Reason::Root::fixed;
    out_.chain.push_back(blocker(r_.joints() + part));
    out_.words = cat(r_.item_name(r_.joints() + part), " does not come away");
  }

  /// Everything else would let the unit be there; false where nothing is forbidden there.
  bool barred(int p) {
    for (const Bar& bar : s_.bars) {
      if ((bar.positions >> static_cast<unsigned>(p) & 1U) == 0) continue;
      out_.root = Reason::Root::forbidden;
      bar.items.each([&](int i) { out_.chain.push_back(blocker(i)); });
      out_.words = forbidden_words(r_, bar, p);
      return true;
    }
    return false;
  }

  [[nodiscard]] Blocker blocker(int i) const {
    if (i < r_.joints()) return Blocker{Blocker::What::joint, i};
    return Blocker{Blocker::What::part, i - r_.joints()};
  }

  static int lowest(std::uint64_t mask) { return mask == 0 ? 0 : std::countr_zero(mask); }

  bool circle(Blocker blocker, const std::string& name) {
    const bool again = std::find(out_.chain.begin(), out_.chain.end(), blocker) != out_.chain.end();
    out_.chain.push_back(blocker);
    if (!again) return false;
    out_.root = Reason::Root::circle;
    out_.words = cat(name, " is in its own way");
    return true;
  }

  const Rules& r_;
  const Sequence& s_;
  const Landmarks& marks_;
  Reason out_;
};

}  // namespace

std::string forbidden_words(const Rules& rules, const Bar& bar, int position) {
  std::string names;
  bar.items.each([&](int i) { names += cat(names.empty() ? "" : ", ", rules.item_name(i)); });
  return cat(rules.position_name(position), " is forbidden with all of these released: ", names);
}

Reason explain(const Rules& rules, const Sequence& sequence, const Landmarks& marks, int item) {
  Explainer explainer(rules, sequence, marks);
  explainer.item(item);
  return explainer.take();
}

Reason explain_position(const Rules& rules, const Sequence& sequence, const Landmarks& marks,
                        int position) {
  Explainer explainer(rules, sequence, marks);
  explainer.position(position);
  return explainer.take();
}

Reason explain_point(const Rules& rules, const Sequence& sequence, const Landmarks& marks,
                     const Item& point) {
  Explainer explainer(rules, sequence, marks);
  explainer.ways(point, -1);
  return explainer.take();
}

}  // namespace kp::plan
