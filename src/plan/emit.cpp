#include "plan/emit.hpp"

#include <algorithm>
#include <tuple>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::plan {
namespace {

class Arranger {
 public:
  Arranger(const Rules& rules, const Sequence& sequence, const std::vector<Batch>& batches)
      : r_(rules), s_(sequence), open_(sequence.done), position_(sequence.position) {
    for (const Batch& batch : batches) wanted_ |= batch.jobs;
  }

  void batch(const Batch& batch, std::vector<Event>& events) {
    if (batch.move >= 0) {
      const Move& move = s_.moves[to_size(batch.move)];
      events.push_back(Event{Event::What::turn, move.turn});
      position_ = move.to;
    }
    ItemSet rest = batch.jobs & ItemSet::up_to(r_.items());
    while (rest.any()) {
      const int next = pick(rest);
      KP_CHECK(next >= 0);
      events.push_back(Event{Event::What::open, next});
      open_.set(next);
      rest.reset(next);
    }
  }

 private:
  [[nodiscard]] bool free(int i) const {
    for (const ItemWay& way : r_.item(i).ways) {
      if (way.stands(open_, position_)) return true;
    }
    return false;
  }

  [[nodiscard]] int pick(const ItemSet& rest) const {
    int part = -1;
    int joint = -1;
    auto least = std::make_tuple(0, 0);
    rest.each([&](int i) {
      if (part >= 0 || !free(i)) return;
      if (i >= r_.joints()) {
        part = i;
        return;
      }
      const auto rank = nearest_part(i);
      if (joint < 0 || rank < least) {
        joint = i;
        least = rank;
      }
    });
    if (part >= 0) return part;
    // A joint was seen before a part could be: joints come first in the set.
    return joint;
  }

  /// How many joints, and which part: the one that this joint helps to free soonest.
  [[nodiscard]] std::tuple<int, int> nearest_part(int joint) const {
    std::tuple<int, int> best{kMaxJoints + 1, r_.parts()};
    for (int p = 0; p < r_.parts(); ++p) {
      const int i = r_.joints() + p;
      if (!r_.ties(p).test(joint) || !wanted_.test(i) || open_.test(i)) continue;
      best = std::min(best, std::make_tuple((r_.ties(p) - open_).count(), p));
    }
    return best;
  }

  const Rules& r_;
  const Sequence& s_;
  ItemSet open_;
  ItemSet wanted_;
  int position_ = 0;
};

/// Writes steps and remembers which step brought about what, for the reasons.
class Writer {
 public:
  Writer(const Rules& rules, const State& start, Plan& plan)
      : r_(rules), state_(start), plan_(plan), opened_(to_size(rules.items()), -1),
        closed_(to_size(rules.items()), -1),
        found_barred_(barred_by(rules.bars(), rules.open(start), start.position) >= 0) {}

  void event(const Event& event) {
    if (event.what == Event::What::turn) {
      turn(event.index);
      return;
    }
    const int tool = r_.item(event.index).tool;
    if (tool != -1 && tool != state_.tool) {
      step(Kind::take_tool, tool, {});
      last_take_ = to_int(plan_.steps.size()) - 1;
    }
    if (event.what == Event::What::open) {
      open(event.index);
    } else {
      close(event.index);
    }
  }

 private:
  void step(Kind kind, int subject, std::vector<int> needs) {
    Step step;
    step.kind = kind;
    step.subject = subject;
    step.cost_ms = r_.cost_ms(state_, Action{kind, subject});
    state_ = r_.apply(state_, Action{kind, subject});
    step.position = state_.position;
    step.tool = state_.tool;
    if (kind != Kind::take_tool) {
      add(needs, out_of_bar_);
      if (found_barred_ && out_of_bar_ < 0) out_of_bar_ = to_int(plan_.steps.size());
    }
    std::sort(needs.begin(), needs.end());
    needs.erase(std::unique(needs.begin(), needs.end()), needs.end());
    step.needs = std::move(needs);
    plan_.cost_ms += step.cost_ms;
    plan_.steps.push_back(std::move(step));
  }

  static void add(std::vector<int>& needs, int step) {
    if (step >= 0) needs.push_back(step);
  }

  void turn(int index) {
    std::vector<int> needs;
    add(needs, last_turn_);
    const RuleTurn& turn = r_.turns()[to_size(index)];
    const ItemSet& open = way_of(turn);
    open.each([&](int i) { add(needs, opened_[to_size(i)]); });
    keep_off_bars(needs, r_.open(state_), turn.to);
    step(Kind::turn, index, std::move(needs));
    last_turn_ = to_int(plan_.steps.size()) - 1;
    stood_on_.push_back({last_turn_, open});
  }

  [[nodiscard]] int last_opening(const ItemSet& items) const {
    int last = -1;
    items.each([&](int i) { last = std::max(last, opened_[to_size(i)]); });
    return last;
  }

  [[nodiscard]] const ItemSet& way_of(const RuleTurn& turn) const {
    const ItemSet open = r_.open(state_);
    const ItemSet* best = nullptr;
    for (const ItemSet& way : turn.ways) {
      if (!way.within(open)) continue;
      if (best == nullptr || last_opening(way) < last_opening(*best)) best = &way;
    }
    KP_CHECK(best != nullptr);
    return *best;
  }

  /// Of each bar that could stand in the position something must stay closed: where it was open
  /// before, the step that closed it is a reason.
  void keep_off_bars(std::vector<int>& needs, const ItemSet& open, int position) const {
    for (const Bar& bar : r_.bars()) {
      if ((bar.positions >> static_cast<unsigned>(position) & 1U) == 0) continue;
      int first = to_int(plan_.steps.size());
      (bar.items - open).each([&](int i) { first = std::min(first, closed_[to_size(i)]); });
      add(needs, first);
    }
  }

  [[nodiscard]] std::vector<int> place_and_tool(int item, const ItemWay& way) const {
    std::vector<int> needs;
    if ((r_.every_position() & ~way.positions) != 0) add(needs, last_turn_);
    if (r_.item(item).tool != -1) add(needs, last_take_);
    return needs;
  }

  /// The way that stood open first: its last step is the earliest.
  [[nodiscard]] ItemWay way_of(int item) const {
    ItemSet open = r_.open(state_);
    open.reset(item);
    ItemWay best;
    int best_last = -2;
    for (const ItemWay& way : r_.item(item).ways) {
      if (!way.stands(open, state_.position)) continue;
      const int last = last_opening(way.items);
      if (best_last != -2 && last >= best_last) continue;
      best = way;
      best_last = last;
    }
    return best;
  }

  void open(int item) {
    const ItemWay way = way_of(item);
    std::vector<int> needs = place_and_tool(item, way);
    way.items.each([&](int i) { add(needs, opened_[to_size(i)]); });
    add(needs, closed_[to_size(item)]);
    for (const Bar& bar : r_.bars()) {
      if (bar.items.test(item)) add(needs, last_turn_);
    }
    ItemSet after = r_.open(state_);
    after.set(item);
    keep_off_bars(needs, after, state_.position);
    finish(item, way.items, std::move(needs), opened_, Kind::release, Kind::remove);
  }

  void close(int item) {
    const ItemWay way = way_of(item);
    std::vector<int> needs = place_and_tool(item, way);
    way.items.each([&](int i) { add(needs, opened_[to_size(i)]); });
    add(needs, opened_[to_size(item)]);
    // A turn, or work on another item, that had to find this one open; a part's joints among them.
    for (const auto& [by, items] : stood_on_) {
      if (items.test(item)) needs.push_back(by);
    }
    finish(item, way.items, std::move(needs), closed_, Kind::fasten, Kind::set);
  }

  void finish(int item, const ItemSet& way, std::vector<int> needs, std::vector<int>& record,
              Kind on_joint, Kind on_part) {
    const bool joint = item < r_.joints();
    step(joint ? on_joint : on_part, joint ? item : item - r_.joints(), std::move(needs));
    record[to_size(item)] = to_int(plan_.steps.size()) - 1;
    stood_on_.push_back({record[to_size(item)], way});
  }

  struct Stood {
    int step = 0;
    ItemSet items;  ///< had to be open for the step
  };

  const Rules& r_;
  State state_;
  Plan& plan_;
  std::vector<int> opened_;  ///< per item, the step that opened it, -1: it was so at the start
  std::vector<int> closed_;
  std::vector<Stood> stood_on_;
  int last_turn_ = -1;
  int last_take_ = -1;
  bool found_barred_ = false;
  int out_of_bar_ = -1;  ///< the step that brought the unit out of the forbidden state it was in
};

}  // namespace

std::vector<Event> arrange(const Rules& rules, const Sequence& sequence,
                           const std::vector<Batch>& batches) {
  std::vector<Event> events;
  Arranger arranger(rules, sequence, batches);
  for (const Batch& batch : batches) arranger.batch(batch, events);
  return events;
}

void emit(const Rules& rules, const State& start, const std::vector<Event>& events, Plan& plan) {
  Writer writer(rules, start, plan);
  for (const Event& event : events) writer.event(event);
}

}  // namespace kp::plan
