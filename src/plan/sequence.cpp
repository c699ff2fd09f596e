#include "plan/sequence.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "plan/changeover_bound.hpp"
#include "plan/landmarks.hpp"
#include "plan/tighten.hpp"

namespace kp::plan {
namespace {

Cost work_of(const Sequence& sequence, const ItemSet& wanted) {
  Cost work = 0;
  wanted.each([&](int j) { work += sequence.jobs[to_size(j)].work; });
  return work;
}

/// The bound with the grouping of positions that says most at the start.
ChangeoverBound best_bound(const Sequence& sequence, const ItemSet& jobs, const Landmarks& before) {
  const auto at_start = [&](const ChangeoverBound& bound) {
    return bound.of(jobs, sequence.position, sequence.tool);
  };
  ChangeoverBound best(sequence, jobs, before, ChangeoverBound::single_positions(sequence));
  for (std::vector<std::uint64_t>& groups : ChangeoverBound::joint_positions(sequence, jobs)) {
    ChangeoverBound other(sequence, jobs, before, std::move(groups));
    if (at_start(other) > at_start(best)) best = std::move(other);
  }
  return best;
}

struct Node {
  ItemSet done;
  Cost paid = 0;  ///< changeovers so far
  Cost ahead = 0;
  int parent = -1;
  int move = -1;
  std::uint8_t position = 0;
  std::uint8_t tool = 0;
};

struct Entry {
  Cost total = 0;
  Cost paid = 0;
  int node = 0;
};

/// Whether a comes out of the queue after b: least total first, then the one that has got
/// farther, then the one that was made first.
bool later(const Entry& a, const Entry& b) {
  if (a.total != b.total) return a.total > b.total;
  if (a.paid != b.paid) return a.paid < b.paid;
  return a.node > b.node;
}

/// A* over states (jobs done, position, tool). All jobs have to be done and hardly one hinders
/// another, so whatever can be done without a changeover is done at once: that loses no cheapest
/// order and leaves the changeovers as the only choice. Only when to do what could close a position
/// (Sequence::bars) is a choice as well.
class Search {
 public:
  Search(const Sequence& sequence, const ItemSet& wanted, const Landmarks& before,
         const ItemSet& hampering)
      : s_(sequence),
        wanted_(wanted),
        bound_(best_bound(sequence, wanted - sequence.done, before)),
        hampering_(hampering) {
    at_.resize(to_size(s_.positions));
    with_.resize(to_size(s_.tools));
    (wanted_ - s_.done).each([&](int j) {
      const Job& job = s_.jobs[to_size(j)];
      for (int p = 0; p < s_.positions; ++p) {
        if ((job.positions >> static_cast<unsigned>(p) & 1U) != 0) at_[to_size(p)].set(j);
      }
      for (int t = 0; t < s_.tools; ++t) {
        if ((job.tools >> static_cast<unsigned>(t) & 1U) != 0) with_[to_size(t)].set(j);
      }
    });
    from_.resize(to_size(s_.positions));
    seen_.resize(to_size(s_.positions * s_.tools));
    for (int m = 0; m < to_int(s_.moves.size()); ++m) {
      const Move& move = s_.moves[to_size(m)];
      if (move.from != move.to) from_[to_size(move.from)].push_back(m);
    }
    table_.assign(1024, -1);
  }

  [[nodiscard]] Cost bound_at_start() const {
    return bound_.of(wanted_ - s_.done, s_.position, s_.tool);
  }

  Solution run(Cost cutoff, std::uint64_t limit, bool hasty) {
    const Cost work = work_of(s_, wanted_ - s_.done);
    cutoff_ = cutoff - work;
    hasty_ = hasty;
    Solution out;
    out.bound = std::min(cutoff, kNever);
    offer(s_.done, s_.position, s_.tool, 0, -1, -1);
    while (!open_.empty()) {
      const Entry next = open_.front();
      std::pop_heap(open_.begin(), open_.end(), later);
      open_.pop_back();
      const Node node = nodes_[to_size(next.node)];
      if (node.paid != next.paid) continue;
      if (wanted_.within(node.done)) {
        out.found = true;
        out.cost = work + node.paid;
        out.bound = hasty ? 0 : out.cost;
        out.batches = path(next.node);
        return out;
      }
      if (out.expanded == limit) {
        out.stopped = true;
        out.bound = hasty ? 0 : work + next.total;
        return out;
      }
      if (!hasty && outdone(next.node, node)) continue;
      ++out.expanded;
      expand(next.node, node);
    }
    return out;
  }

 private:
  [[nodiscard]] bool free(int j, const ItemSet& done, int position) const {
    for (const ItemWay& way : s_.jobs[to_size(j)].ways) {
      if (way.stands(done, position)) return true;
    }
    return false;
  }

  void do_all(ItemSet& done, int position, int tool) const {
    ItemSet rest = (at_[to_size(position)] & with_[to_size(tool)]) - done - hampering_;
    // Out of the state in which it was found the unit is brought by one step, if that is barred.
    if (barred_by(s_.bars, done, position) >= 0) rest -= s_.real;
    for (bool changed = true; changed;) {
      changed = false;
      rest.each([&](int j) {
        if (!free(j, done, position)) return;
        done.set(j);
        changed = true;
      });
      rest -= done;
    }
  }

  /// Whether a state in the same position with the same tool has done all of this and more, for
  /// no more: what can be done from here can be done from there, if it is no nearer to a bar. If
  /// not, the state is remembered.
  bool outdone(int index, const Node& node) {
    std::vector<int>& seen = seen_[to_size(node.position * s_.tools + node.tool)];
    for (const int i : seen) {
      const Node& other = nodes_[to_size(i)];
      if (i != index && other.paid <= node.paid && node.done.within(other.done) &&
          (other.done & hampering_) == (node.done & hampering_)) {
        return true;
      }
    }
    // The list is kept short: a lost entry costs time, not soundness.
    if (seen.size() < kMostSeen) {
      seen.push_back(index);
    } else {
      seen[to_size(replaced_++) % kMostSeen] = index;
    }
    return false;
  }

  void expand(int index, const Node& node) {
    for (const int m : from_[node.position]) {
      const Move& move = s_.moves[to_size(m)];
      if (!move.needs.within(node.done)) continue;
      offer(node.done, move.to, node.tool, node.paid + move.cost, index, m);
    }
    // A tool is taken only where there is work for it at once: taken earlier it costs the same.
    const ItemSet rest = at_[node.position] - node.done;
    (rest & with_[node.tool] & hampering_).each([&](int j) {
      if (!free(j, node.done, node.position)) return;
      ItemSet done = node.done;
      done.set(j);
      offer(done, node.position, node.tool, node.paid, index, -1);
    });
    for (int t = 0; t < s_.tools; ++t) {
      if (t == node.tool) continue;
      bool use = false;
      (rest & with_[to_size(t)]).each([&](int j) { use = use || free(j, node.done, node.position); });
      if (!use) continue;
      offer(node.done, node.position, t, node.paid + s_.change_cost(node.tool, t), index, -1);
    }
  }

  void offer(ItemSet done, int position, int tool, Cost paid, int parent, int move) {
    if (s_.forbids(done, position)) return;
    do_all(done, position, tool);
    const std::size_t slot = find(done, position, tool);
    int index = table_[slot];
    if (index >= 0 && nodes_[to_size(index)].paid <= paid) return;
    if (index < 0) {
      Node node;
      node.done = done;
      node.position = static_cast<std::uint8_t>(position);
      node.tool = static_cast<std::uint8_t>(tool);
      node.ahead = bound_.of(wanted_ - done, position, tool);
      index = to_int(nodes_.size());
      nodes_.push_back(node);
      table_[slot] = index;
      grow();
    }
    Node& node = nodes_[to_size(index)];
    node.paid = paid;
    node.parent = parent;
    node.move = move;
    if (node.ahead == kNever || paid + node.ahead >= cutoff_) return;
    open_.push_back(Entry{hasty_ ? paid + kHaste * node.ahead : paid + node.ahead, paid, index});
    std::push_heap(open_.begin(), open_.end(), later);
  }

  /// The slot of the state in the hash table: its own, or the empty one where it belongs.
  [[nodiscard]] std::size_t find(const ItemSet& done, int position, int tool) const {
    const std::size_t mask = table_.size() - 1;
    const std::uint64_t hash = done.hash(static_cast<std::uint64_t>(position * 64 + tool));
    for (std::size_t slot = static_cast<std::size_t>(hash) & mask;; slot = (slot + 1) & mask) {
      if (table_[slot] < 0) return slot;
      const Node& node = nodes_[to_size(table_[slot])];
      if (node.position == position && node.tool == tool && node.done == done) return slot;
    }
  }

  void grow() {
    if (nodes_.size() * 2 < table_.size()) return;
    table_.assign(table_.size() * 4, -1);
    for (int i = 0; i < to_int(nodes_.size()); ++i) {
      const Node& node = nodes_[to_size(i)];
      table_[find(node.done, node.position, node.tool)] = i;
    }
  }

  [[nodiscard]] std::vector<Batch> path(int index) const {
    std::vector<Batch> batches;
    for (int i = index; i >= 0; i = nodes_[to_size(i)].parent) {
      const Node& node = nodes_[to_size(i)];
      const ItemSet& before = node.parent < 0 ? s_.done : nodes_[to_size(node.parent)].done;
      batches.push_back(Batch{node.move, node.done - before});
    }
    std::reverse(batches.begin(), batches.end());
    return batches;
  }

  const Sequence& s_;
  ItemSet wanted_;
  ChangeoverBound bound_;
  ItemSet hampering_;  ///< jobs that could bring a bar about
  std::vector<ItemSet> at_;
  std::vector<ItemSet> with_;
  std::vector<std::vector<int>> from_;
  Cost cutoff_ = kNever;
  bool hasty_ = false;
  std::vector<Node> nodes_;
  std::vector<int> table_;
  std::vector<Entry> open_;
  static constexpr std::size_t kMostSeen = 1024;
  static constexpr Cost kHaste = 5;  ///< weight of what is ahead where no proof is asked for
  std::vector<std::vector<int>> seen_;  ///< expanded states by position and tool
  std::int64_t replaced_ = 0;
};

}  // namespace

Solution solve(const Sequence& sequence, const ItemSet& wanted, Cost cutoff, std::uint64_t limit,
               bool hasty) {
  const auto search = [&](const Sequence& s, const ItemSet& hampering) {
    const Landmarks before = landmarks(s, Scope{wanted, {}, {}});
    if (!wanted.within(before.reached)) return Solution{};
    return Search(s, wanted, before, hampering).run(cutoff, limit, hasty);
  };
  if (sequence.bars.empty()) return search(sequence, {});
  const Tightened tightened = tighten(sequence, wanted);
  return search(tightened.sequence, tightened.hampering);
}

Cost bound(const Sequence& sequence, const ItemSet& wanted) {
  const Landmarks before = landmarks(sequence, Scope{wanted, {}, {}});
  if (!wanted.within(before.reached)) return kNever;
  const Cost ahead = Search(sequence, wanted, before, {}).bound_at_start();
  return ahead == kNever ? kNever : work_of(sequence, wanted - sequence.done) + ahead;
}

}  // namespace kp::plan
