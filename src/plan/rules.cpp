#include "plan/rules.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "plan/structure.hpp"

namespace kp::plan {
namespace {

std::uint64_t position_mask(const std::vector<int>& positions, std::uint64_t every) {
  if (positions.empty()) return every;
  std::uint64_t mask = 0;
  for (const int p : positions) mask |= std::uint64_t{1} << static_cast<unsigned>(p);
  return mask;
}

std::string spoken(const std::string& name, const char* kind, int index) {
  return name.empty() ? cat(kind, " ", index) : name;
}

bool contains(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

/// Turns "these parts must be away" into "these items must be open": a carrier may go instead.
class Expander {
 public:
  Expander(int joints, const std::vector<std::vector<int>>& carriers,
           const std::vector<bool>& removable, std::vector<int> shared)
      : joints_(joints), carriers_(carriers), removable_(removable), shared_(std::move(shared)) {}

  /// Fills item.ways and item.never, and narrows item.positions to those of the ways; false when
  /// there are too many ways.
  bool run(const Access& behind, const ItemSet& base, Item& item) {
    item_ = &item;
    leaves_ = 0;
    if (behind.empty()) {
      item.ways.push_back(ItemWay{base, item.positions});
      return true;
    }
    for (const Way& way : behind) {
      const std::uint64_t places = position_mask(way.positions, item.positions) & item.positions;
      if (places != 0) grow(way.parts, 0, ItemWay{base, places});
    }
    std::uint64_t places = 0;
    for (const ItemWay& way : item.ways) places |= way.positions;
    if (places != 0) item.positions = places;
    return leaves_ <= kMaxLeaves && item.ways.size() <= to_size(kMaxWays);
  }

 private:
  static constexpr int kMaxLeaves = 4096;

  void grow(const std::vector<int>& parts, std::size_t k, const ItemWay& chosen) {
    if (leaves_ > kMaxLeaves) return;
    if (k == parts.size()) {
      ++leaves_;
      keep(chosen);
      return;
    }
    std::vector<int> instead;
    const int part = parts[k];
    if (removable_[to_size(part)]) instead.push_back(part);
    for (const int carrier : carriers_[to_size(part)]) {
      if (removable_[to_size(carrier)] && !contains(shared_, carrier)) instead.push_back(carrier);
    }
    for (const int other : instead) {
      if (chosen.items.test(joints_ + other)) {
        grow(parts, k + 1, chosen);
        return;
      }
    }
    if (instead.empty() && !contains(item_->never, part)) item_->never.push_back(part);
    for (const int other : instead) {
      ItemWay more = chosen;
      more.items.set(joints_ + other);
      grow(parts, k + 1, more);
    }
  }

  /// A way that asks for more than another is no use.
  void keep(const ItemWay& way) {
    std::vector<ItemWay>& ways = item_->ways;
    for (const ItemWay& other : ways) {
      if (other.covers(way)) return;
    }
    ways.erase(std::remove_if(ways.begin(), ways.end(),
                              [&](const ItemWay& other) { return way.covers(other); }),
               ways.end());
    ways.push_back(way);
  }

  int joints_;
  const std::vector<std::vector<int>>& carriers_;
  const std::vector<bool>& removable_;
  std::vector<int> shared_;
  Item* item_ = nullptr;
  int leaves_ = 0;
};

}  // namespace

struct Rules::Build {
  const Problem& p;
  Rules& r;

  void frame() {
    r.joints_ = to_int(p.joints.size());
    r.parts_ = to_int(p.parts.size());
    r.positions_ = to_int(p.positions.size());
    r.home_ = p.home;
    r.first_tool_free_ = p.first_tool_free;
    r.every_position_ = r.positions_ == 64 ? ~std::uint64_t{0}
                                           : (std::uint64_t{1} << static_cast<unsigned>(r.positions_)) - 1;
    for (const Tool& tool : p.tools) r.take_ms_.push_back(tool.take_ms);
    for (int i = 0; i < r.positions_; ++i) {
      r.position_names_.push_back(spoken(p.positions[to_size(i)].name, "position", i));
    }
    for (int j = 0; j < r.joints_; ++j) {
      r.item_names_.push_back(spoken(p.joints[to_size(j)].name, "joint", j));
    }
    for (int k = 0; k < r.parts_; ++k) {
      const Part& part = p.parts[to_size(k)];
      r.item_names_.push_back(spoken(part.name, "part", k));
      r.removable_.push_back(part.removable);
      r.carriers_.emplace_back();
      for (int c = part.inside; c >= 0; c = p.parts[to_size(c)].inside) {
        r.carriers_.back().push_back(c);
      }
    }
  }

  bool turn(const Turn& turn) {
    RuleTurn& rule = r.turns_.emplace_back();
    rule.from = turn.from;
    rule.to = turn.to;
    rule.cost_ms = turn.cost_ms;
    ItemSet needs;
    for (const int j : turn.needs_released) needs.set(j);
    Item item;
    item.positions = r.every_position_;
    Access away;
    if (!turn.needs_removed.empty()) away.emplace_back(turn.needs_removed);
    const bool small =
        Expander(r.joints_, r.carriers_, r.removable_, {}).run(away, needs, item);
    for (const ItemWay& way : item.ways) rule.ways.push_back(way.items);
    rule.never = std::move(item.never);
    return small;
  }

  void bars() {
    for (const Forbidden& forbidden : p.forbidden) {
      Bar& bar = r.bars_.emplace_back();
      bar.positions = position_mask(forbidden.positions, r.every_position_);
      for (const int j : forbidden.joints) bar.items.set(j);
    }
  }

  /// The part itself and all that carry it.
  [[nodiscard]] std::vector<int> up(int part) const {
    std::vector<int> all{part};
    const std::vector<int>& more = r.carriers_[to_size(part)];
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }

  /// What carries the joint as a whole. The ends of a joint with one part are this part and its
  /// carrier.
  [[nodiscard]] std::vector<int> shared(const Joint& joint) const {
    if (joint.parts.empty()) return {};
    if (joint.parts.size() == 1) return r.carriers_[to_size(joint.parts[0])];
    std::vector<int> both;
    const std::vector<int> other = up(joint.parts[1]);
    for (const int c : up(joint.parts[0])) {
      if (contains(other, c)) both.push_back(c);
    }
    return both;
  }

  void ties() {
    r.ties_.resize(p.parts.size());
    for (int j = 0; j < r.joints_; ++j) {
      const Joint& joint = p.joints[to_size(j)];
      const std::vector<int> both = shared(joint);
      for (const int end : joint.parts) {
        for (const int c : up(end)) {
          if (!contains(both, c)) r.ties_[to_size(c)].set(j);
        }
      }
    }
  }

  bool joint(int j) {
    const Joint& joint = p.joints[to_size(j)];
    Item& item = r.items_.emplace_back();
    item.cost_ms = joint.cost_ms;
    item.tool = joint.tool;
    item.positions = position_mask(joint.positions, r.every_position_);
    ItemSet needs;
    for (const int other : joint.needs_released) needs.set(other);
    return Expander(r.joints_, r.carriers_, r.removable_, shared(joint))
        .run(joint.behind, needs, item);
  }

  bool part(int k) {
    const Part& part = p.parts[to_size(k)];
    Item& item = r.items_.emplace_back();
    item.cost_ms = part.cost_ms;
    item.tool = part.tool;
    item.positions = position_mask(part.positions, r.every_position_);
    if (!part.removable) return true;
    return Expander(r.joints_, r.carriers_, r.removable_, up(k))
        .run(part.behind, r.ties_[to_size(k)], item);
  }
};

Result<Rules> Rules::make(const Problem& problem) {
  Findings findings;
  check_structure(problem, findings);
  if (!findings.all().empty()) {
    const Finding& first = findings.all().front();
    return fail("bad-problem", first.what, first.pointer, first.remedy);
  }
  Rules rules;
  Build build{problem, rules};
  build.frame();
  build.bars();
  build.ties();
  bool small = true;
  for (const Turn& turn : problem.turns) small = build.turn(turn) && small;
  for (int j = 0; j < rules.joints_; ++j) small = build.joint(j) && small;
  for (int k = 0; k < rules.parts_; ++k) small = build.part(k) && small;
  if (!small) {
    return fail("bad-problem", "a joint, part or turn has too many alternatives",
                "/joints, /parts, /turns",
                cat("Use at most ", kMaxWays, " ways"));
  }
  return rules;
}

Result<Item> Rules::point(const Point& point) const {
  if (point.on < -1 || point.on >= parts_) {
    return fail("bad-target", cat("there is no part ", point.on), "point");
  }
  for (const Way& way : point.behind) {
    for (const int position : way.positions) {
      if (position < 0 || position >= positions_) {
        return fail("bad-target", cat("there is no position ", position), "point");
      }
    }
    for (const int part : way.parts) {
      if (part < 0 || part >= parts_) {
        return fail("bad-target", cat("there is no part ", part), "point");
      }
    }
  }
  std::vector<int> shared;
  if (point.on >= 0) {
    shared = carriers_[to_index(point.on)];
    shared.push_back(point.on);
  }
  Item item;
  item.positions = every_position_;
  if (!Expander(joints_, carriers_, removable_, std::move(shared))
           .run(point.behind, ItemSet{}, item)) {
    return fail("bad-target", "a point has too many alternatives", "point");
  }
  return item;
}

ItemSet Rules::open(const State& state) const {
  ItemSet open;
  state.released.each([&](int j) { open.set(j); });
  state.removed.each([&](int p) { open.set(joints_ + p); });
  return open;
}

std::optional<Error> Rules::fault(const State& state) const {
  const auto bad = [](std::string what) {
    return std::optional<Error>(Error{"bad-state", std::move(what), {}, {}});
  };
  if (state.position < 0 || state.position >= positions_) {
    return bad(cat("there is no position ", state.position));
  }
  if (state.tool < -1 || state.tool >= tools()) return bad(cat("there is no tool ", state.tool));
  if (!state.released.within(Set::up_to(joints_)) || !state.removed.within(Set::up_to(parts_))) {
    return bad("a joint or part is not in the problem");
  }
  const ItemSet now = open(state);
  std::optional<Error> found;
  state.removed.each([&](int p) {
    const int tie = (ties_[to_index(p)] - now).first();
    if (tie >= 0 && !found) {
      found = bad(cat(item_name(joints_ + p), " is away but ", item_name(tie), " is fastened"));
    }
  });
  return found;
}

}  // namespace kp::plan
