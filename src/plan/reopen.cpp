#include "plan/reopen.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "plan/choices.hpp"
#include "plan/musts.hpp"
#include "plan/opening.hpp"

namespace kp::plan {
namespace {

struct Now {
  ItemSet open;
  int position = 0;
  int tool = -1;
};

struct Node {
  Now now;
  Cost paid = 0;
  Cost ahead = 0;
  int parent = -1;
  int turn = -1;  ///< how it was come by: this turn,
  int item = -1;  ///< or this item, opened or closed; neither: a tool was taken
};

struct Entry {
  Cost total = 0;
  Cost paid = 0;
  int node = 0;
};

bool later(const Entry& a, const Entry& b) {
  if (a.total != b.total) return a.total > b.total;
  if (a.paid != b.paid) return a.paid < b.paid;
  return a.node > b.node;
}

class Reopener {
 public:
  Reopener(const Rules& rules, const State& state, std::uint64_t limit)
      : r_(rules), musts_(rules), start_(state), limit_(limit) {
    const Now now{rules.open(state), state.position, state.tool};
    for (const RuleTurn& turn : r_.turns()) {
      for (const ItemSet& way : turn.ways) turning_ |= way;
    }
    for (const Bar& bar : r_.bars()) hampering_ |= bar.items;
    ItemSet tied;  // a joint is not fastened again while a part that it ties is away
    for (int p = 0; p < r_.parts(); ++p) {
      if (r_.ties(p).meets(hampering_)) tied.set(r_.joints() + p);
    }
    hampering_ |= tied;
    collect_uses(now);
    enter_.assign(to_size(r_.positions()), kNever);
    for (const RuleTurn& turn : r_.turns()) {
      if (turn.from == turn.to) continue;
      Cost& enter = enter_[to_size(turn.to)];
      enter = std::min(enter, cost_of_ms(turn.cost_ms));
    }
    table_.assign(1024, -1);
  }

  ReopenResult run() {
    ReopenResult out;
    const Now first{r_.open(start_), start_.position, start_.tool};
    if (!musts_.possible(first.open, first.position)) return out;
    Node start;
    start.now = first;
    offer(std::move(start));
    while (!queue_.empty()) {
      const Entry next = queue_.front();
      std::pop_heap(queue_.begin(), queue_.end(), later);
      queue_.pop_back();
      const Node node = nodes_[to_size(next.node)];
      if (node.paid != next.paid) continue;
      if (node.now.open.none() && node.now.position == r_.home()) {
        out.found = true;
        out.cost = node.paid;
        out.bound = node.paid;
        out.events = path(next.node);
        return out;
      }
      if (out.expanded >= limit_) {
        out.stopped = true;
        out.bound = next.total;
        one_after_the_other(out);
        return out;
      }
      ++out.expanded;
      expand(next.node, node);
    }
    return out;
  }

 private:
  [[nodiscard]] Cost work(int item) const { return cost_of_ms(r_.item(item).cost_ms); }

  /// All items that could be worth opening: what opens the way to anything, or lets a turn happen.
  void collect_uses(const Now& now) {
    const ItemSet must = musts_.of(now.open, now.position);
    ItemSet known = now.open;
    ItemSet fresh = now.open | must | turning_;
    while (fresh.any()) {
      known |= fresh;
      ItemSet more;
      fresh.each([&](int i) {
        for (const ItemWay& way : r_.item(i).ways) more |= way.items;
      });
      fresh = more - known;
    }
    useful_ = known;
    perhaps_ = known - must - now.open;
  }

  [[nodiscard]] bool workable(const Now& now, int item) const {
    const Item& what = r_.item(item);
    if ((what.positions >> static_cast<unsigned>(now.position) & 1U) == 0) return false;
    ItemSet others = now.open;
    others.reset(item);
    bool free = false;
    for (const ItemWay& way : what.ways) free = free || way.stands(others, now.position);
    if (!free) return false;
    if (!now.open.test(item)) others.set(item);
    if (barred_by(r_.bars(), others, now.position) >= 0) return false;
    if (!now.open.test(item) || item >= r_.joints()) return true;
    for (int p = 0; p < r_.parts(); ++p) {
      if (now.open.test(r_.joints() + p) && r_.ties(p).test(item)) return false;
    }
    return true;
  }

  [[nodiscard]] bool in_hand(const Now& now, int item) const {
    return r_.item(item).tool == -1 || r_.item(item).tool == now.tool;
  }

  /// Nothing that may still be done asks for this item to be open.
  [[nodiscard]] bool safe_to_close(int item, const ItemSet& coming) const {
    if (turning_.test(item)) return false;
    bool asked = false;
    coming.each([&](int other) {
      if (other == item || asked) return;
      for (const ItemWay& way : r_.item(other).ways) asked = asked || way.items.test(item);
    });
    return !asked;
  }

  /// Does at once what costs no changeover and cannot hinder: opens what must be opened and has to
  /// do with no bar, closes what nothing else needs open.
  Cost settle(Now& now, std::vector<Event>* events) const {
    Cost cost = 0;
    for (bool changed = true; changed;) {
      changed = false;
      const ItemSet must = musts_.of(now.open, now.position);
      // Where something is forbidden, what is done already may have to be done over again.
      const ItemSet coming = hampering_.any() ? useful_ : now.open | must | perhaps_;
      (now.open | must).each([&](int i) {
        if (changed || !in_hand(now, i) || !workable(now, i)) return;
        const bool closing = now.open.test(i);
        if (closing ? !safe_to_close(i, coming) : hampering_.test(i)) return;
        toggle(now, i, events);
        cost += work(i);
        changed = true;
      });
    }
    return cost;
  }

  static void toggle(Now& now, int item, std::vector<Event>* events) {
    const bool closing = now.open.test(item);
    if (events != nullptr) {
      events->push_back(Event{closing ? Event::What::close : Event::What::open, item});
    }
    if (closing) {
      now.open.reset(item);
    } else {
      now.open.set(item);
    }
  }

  [[nodiscard]] Cost take(const Now& now, int tool) const {
    const bool free = now.tool == -1 && r_.first_tool_free();
    return cost_of_ms(free ? 0 : r_.take_ms(tool)) + kOneTake;
  }

  /// Work that is certain, each tool once, each position once, and home at the end.
  [[nodiscard]] Cost ahead(const Now& now) const {
    const ItemSet must = musts_.of(now.open, now.position);
    Cost cost = 0;
    std::uint64_t tools = 0;
    std::uint64_t places = 0;
    const auto count = [&](int i) {
      const Item& item = r_.item(i);
      if (item.tool != -1) tools |= std::uint64_t{1} << static_cast<unsigned>(item.tool);
      if (std::has_single_bit(item.positions)) places |= item.positions;
    };
    now.open.each([&](int i) { cost += work(i); count(i); });
    must.each([&](int i) { cost += 2 * work(i); count(i); });
    Cost largest = 0;
    for (int t = 0; t < r_.tools(); ++t) {
      if ((tools >> static_cast<unsigned>(t) & 1U) == 0 || t == now.tool) continue;
      cost += cost_of_ms(r_.take_ms(t)) + kOneTake;
      largest = std::max(largest, cost_of_ms(r_.take_ms(t)));
    }
    if (now.tool == -1 && r_.first_tool_free()) cost -= largest;
    places &= ~(std::uint64_t{1} << static_cast<unsigned>(now.position));
    if (now.position != r_.home() || places != 0) {
      places |= std::uint64_t{1} << static_cast<unsigned>(r_.home());
    }
    for (int p = 0; p < r_.positions(); ++p) {
      if ((places >> static_cast<unsigned>(p) & 1U) == 0) continue;
      if (enter_[to_size(p)] == kNever) return kNever;
      cost += enter_[to_size(p)];
    }
    return cost;
  }

  void expand(int index, const Node& node) {
    const auto child = [&](Cost cost) {
      Node next;
      next.now = node.now;
      next.paid = node.paid + cost;
      next.parent = index;
      return next;
    };
    for (int t = 0; t < to_int(r_.turns().size()); ++t) {
      const RuleTurn& turn = r_.turns()[to_size(t)];
      if (turn.from != node.now.position || turn.to == turn.from) continue;
      if (!turn.stands(node.now.open)) continue;
      if (barred_by(r_.bars(), node.now.open, turn.to) >= 0) continue;
      Node next = child(cost_of_ms(turn.cost_ms));
      next.now.position = turn.to;
      next.turn = t;
      offer(std::move(next));
    }
    std::uint64_t tools = 0;
    (node.now.open | useful_).each([&](int i) {
      if (!workable(node.now, i)) return;
      if (!in_hand(node.now, i)) {
        tools |= std::uint64_t{1} << static_cast<unsigned>(r_.item(i).tool);
        return;
      }
      Node next = child(work(i));
      next.item = i;
      toggle(next.now, i, nullptr);
      offer(std::move(next));
    });
    for (int t = 0; t < r_.tools(); ++t) {
      if ((tools >> static_cast<unsigned>(t) & 1U) == 0) continue;
      Node next = child(take(node.now, t));
      next.now.tool = t;
      offer(std::move(next));
    }
  }

  void offer(Node node) {
    node.paid += settle(node.now, nullptr);
    const std::size_t slot = find(node.now);
    int index = table_[slot];
    if (index >= 0 && nodes_[to_size(index)].paid <= node.paid) return;
    if (index < 0) {
      node.ahead = ahead(node.now);
      index = to_int(nodes_.size());
      nodes_.push_back(node);
      table_[slot] = index;
      grow();
    } else {
      node.ahead = nodes_[to_size(index)].ahead;
      nodes_[to_size(index)] = node;
    }
    if (node.ahead == kNever) return;
    queue_.push_back(Entry{node.paid + node.ahead, node.paid, index});
    std::push_heap(queue_.begin(), queue_.end(), later);
  }

  [[nodiscard]] std::size_t find(const Now& now) const {
    const std::size_t mask = table_.size() - 1;
    const std::uint64_t hash = now.open.hash(static_cast<std::uint64_t>(now.position * 64 + now.tool + 1));
    for (std::size_t slot = static_cast<std::size_t>(hash) & mask;; slot = (slot + 1) & mask) {
      if (table_[slot] < 0) return slot;
      const Now& other = nodes_[to_size(table_[slot])].now;
      if (other.position == now.position && other.tool == now.tool && other.open == now.open) {
        return slot;
      }
    }
  }

  void grow() {
    if (nodes_.size() * 2 < table_.size()) return;
    table_.assign(table_.size() * 4, -1);
    for (int i = 0; i < to_int(nodes_.size()); ++i) table_[find(nodes_[to_size(i)].now)] = i;
  }

  [[nodiscard]] std::vector<Event> path(int index) const {
    std::vector<int> line;
    for (int i = index; i >= 0; i = nodes_[to_size(i)].parent) line.push_back(i);
    std::reverse(line.begin(), line.end());
    std::vector<Event> events;
    Now now{r_.open(start_), start_.position, start_.tool};
    for (const int i : line) {
      const Node& node = nodes_[to_size(i)];
      if (node.turn >= 0) events.push_back(Event{Event::What::turn, node.turn});
      if (node.item >= 0) toggle(now, node.item, &events);
      now.position = node.now.position;
      now.tool = node.now.tool;
      settle(now, &events);
    }
    return events;
  }

  /// First open all that must be opened, then close everything: a sound plan without a proof.
  void one_after_the_other(ReopenResult& out) const {
    Sequence open = opening(r_, start_);
    Job goal;
    goal.positions = r_.every_position();
    goal.tools = open.every_tool();
    goal.ways.push_back(ItemWay{musts_.of(r_.open(start_), start_.position)});
    open.jobs.push_back(std::move(goal));
    const ChoiceResult first = choose(open, r_.items(), r_.items(), limit_);
    if (!first.best.found) return;
    std::vector<Event> events = arrange(r_, open, first.best.batches);
    State between = start_;
    for (const Event& event : events) {
      if (event.what == Event::What::turn) {
        between.position = r_.turns()[to_size(event.index)].to;
        continue;
      }
      if (event.index < r_.joints()) {
        between.released.set(event.index);
      } else {
        between.removed.set(event.index - r_.joints());
      }
      if (r_.item(event.index).tool != -1) between.tool = r_.item(event.index).tool;
    }
    const Sequence back = closing_backwards(r_, between);
    ItemSet wanted = r_.open(between);
    wanted.set(to_int(back.jobs.size()) - 1);
    const Solution second = solve(back, wanted, kNever, std::max<std::uint64_t>(limit_, 100'000), true);
    if (!second.found) return;
    std::vector<Event> closing = arrange(r_, back, second.batches);
    std::reverse(closing.begin(), closing.end());
    for (Event event : closing) {
      if (event.what == Event::What::open) event.what = Event::What::close;
      events.push_back(event);
    }
    out.found = true;
    out.cost = first.best.cost + second.cost;
    out.events = std::move(events);
  }

  const Rules& r_;
  Musts musts_;
  State start_;
  std::uint64_t limit_;
  ItemSet turning_;    ///< what some turn needs open
  ItemSet hampering_;  ///< what could bring a bar about, or keep it from being undone
  ItemSet useful_;
  ItemSet perhaps_;  ///< could be worth opening, but need not be opened
  std::vector<Cost> enter_;
  std::vector<Node> nodes_;
  std::vector<int> table_;
  std::vector<Entry> queue_;
};

}  // namespace

ReopenResult reopen(const Rules& rules, const State& state, std::uint64_t limit) {
  return Reopener(rules, state, limit).run();
}

}  // namespace kp::plan
