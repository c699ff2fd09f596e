#include "plan/choices.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "plan/changeover_bound.hpp"
#include "plan/landmarks.hpp"

namespace kp::plan {
namespace {

struct Branch {
  std::vector<std::uint64_t> ways;  ///< per job, the ways that are left
  std::vector<bool> barred;         ///< per move
  ItemSet asked;                    ///< jobs done for a move's sake
  ItemSet needed;                   ///< what this choice stands on so far
  ItemSet reached;
  Cost bound = 0;
  int made = 0;
};

bool later(const Branch& a, const Branch& b) {
  return a.bound != b.bound ? a.bound > b.bound : a.made > b.made;
}

class Chooser {
 public:
  Chooser(const Sequence& sequence, int goal, int virtual_from, std::uint64_t limit)
      : s_(sequence), goal_(goal), limit_(limit), all_(ItemSet::up_to(to_int(sequence.jobs.size()))) {
    real_ = ItemSet::up_to(virtual_from);
    const std::uint64_t everywhere =
        s_.positions == 64 ? ~std::uint64_t{0}
                           : (std::uint64_t{1} << static_cast<unsigned>(s_.positions)) - 1;
    const Job& end = s_.jobs[to_size(goal)];
    ends_somewhere_ = end.positions != everywhere;
    for (const ItemWay& way : end.ways) {
      ends_somewhere_ = ends_somewhere_ || (everywhere & ~way.positions) != 0;
    }
  }

  ChoiceResult run() {
    Branch root;
    root.barred.assign(s_.moves.size(), false);
    for (const Job& job : s_.jobs) root.ways.push_back(ways_at_start(job));
    if (!settle(root)) {
      out_.possible = false;
      return out_;
    }
    push(std::move(root));
    while (!open_.empty() && open_.front().bound < out_.best.cost) {
      std::pop_heap(open_.begin(), open_.end(), later);
      const Branch branch = std::move(open_.back());
      open_.pop_back();
      if (out_.best.expanded >= limit_) {
        stop(branch);
        return out_;
      }
      std::vector<Branch> children;
      if (!split(branch, children)) {
        if (!sequence(branch)) return out_;
        continue;
      }
      ++out_.best.expanded;
      for (Branch& child : children) push(std::move(child));
    }
    out_.best.bound = out_.best.cost;
    return out_;
  }

 private:
  /// A way that stands open already, wherever the job can be done, is as good as any: the others
  /// drop out.
  [[nodiscard]] std::uint64_t ways_at_start(const Job& job) const {
    std::uint64_t all = 0;
    for (std::size_t k = 0; k < job.ways.size(); ++k) {
      const std::uint64_t bit = std::uint64_t{1} << k;
      const ItemWay& way = job.ways[k];
      if (way.items.within(s_.done) && (job.positions & ~way.positions) == 0) return bit;
      all |= bit;
    }
    return all;
  }

  /// Works out what the branch stands on; false when its goal cannot be met.
  bool settle(Branch& branch) const {
    const Landmarks marks = landmarks(s_, Scope{all_, branch.ways, branch.barred});
    ItemSet goals = branch.asked;
    goals.set(goal_);
    if (!goals.within(marks.reached)) return false;
    branch.needed = ItemSet{};
    goals.each([&](int j) { branch.needed |= marks.of_job[to_size(j)]; });
    branch.reached = marks.reached;
    for (std::size_t m = 0; m < s_.moves.size(); ++m) {
      // A set that is done all the same belongs to the other branch.
      if (branch.barred[m] && s_.moves[m].needs.within(branch.needed | s_.done)) return false;
    }
    branch.bound = bound_of(branch, marks);
    return branch.bound != kNever;
  }

  void push(Branch branch) {
    if (branch.bound >= out_.best.cost) return;
    branch.made = made_++;
    open_.push_back(std::move(branch));
    std::push_heap(open_.begin(), open_.end(), later);
  }

  /// The jobs to be put in order; the goal is one of them where it binds the end.
  [[nodiscard]] ItemSet work_of(const Branch& branch) const {
    ItemSet work = branch.needed & real_;
    if (ends_somewhere_) work.set(goal_);
    return work;
  }

  [[nodiscard]] Sequence bound_to(const Branch& branch) const {
    Sequence s = s_;
    const ItemSet work = branch.needed & real_;
    const ItemSet have = branch.needed | s_.done;
    std::vector<ItemWay>& ways = s.jobs[to_size(goal_)].ways;
    std::vector<ItemWay> bound;
    for (const ItemWay& way : ways) {
      if (way.items.within(have)) bound.push_back(ItemWay{work, way.positions});
    }
    ways = std::move(bound);
    return s;
  }

  /// Only what is needed for certain counts; alternatives still open may add to it.
  [[nodiscard]] Cost bound_of(const Branch& branch, const Landmarks& marks) const {
    const ItemSet work = work_of(branch);
    const Cost ahead = ChangeoverBound(s_, work, marks, ChangeoverBound::single_positions(s_))
                           .of(work, s_.position, s_.tool);
    if (ahead == kNever) return kNever;
    Cost cost = ahead;
    work.each([&](int j) { cost += s_.jobs[to_size(j)].work; });
    return cost;
  }

  /// The branches that a choice still open gives; false where none is open.
  bool split(const Branch& branch, std::vector<Branch>& children) const {
    const ItemSet have = branch.needed | s_.done;
    bool found = false;
    branch.needed.each([&](int j) {
      if (!found) found = split_job(branch, j, have, children);
    });
    for (std::size_t m = 0; m < s_.moves.size() && !found; ++m) {
      found = split_move(branch, m, have, children);
    }
    return found;
  }

  bool split_job(const Branch& branch, int j, const ItemSet& have,
                 std::vector<Branch>& children) const {
    const Job& job = s_.jobs[to_size(j)];
    std::uint64_t inside = 0;
    std::vector<std::uint64_t> masks;
    for (std::size_t k = 0; k < job.ways.size(); ++k) {
      const std::uint64_t bit = std::uint64_t{1} << k;
      const ItemSet& items = job.ways[k].items;
      if ((branch.ways[to_size(j)] & bit) == 0 || !items.within(branch.reached)) continue;
      if (items.within(have)) {
        inside |= bit;
      } else {
        masks.push_back(bit);
      }
    }
    if (masks.empty()) return false;
    if (inside != 0) masks.insert(masks.begin(), inside);
    for (const std::uint64_t mask : masks) {
      Branch child = branch;
      child.ways[to_size(j)] = mask;
      if (settle(child)) children.push_back(std::move(child));
    }
    return true;
  }

  /// With all of what the move needs, or without some of it, which bars the move.
  bool split_move(const Branch& branch, std::size_t m, const ItemSet& have,
                  std::vector<Branch>& children) const {
    const ItemSet& needs = s_.moves[m].needs;
    if (branch.barred[m] || needs.within(have) || !needs.within(branch.reached)) return false;
    Branch with = branch;
    with.asked |= needs - s_.done;
    if (settle(with)) children.push_back(std::move(with));
    Branch without = branch;
    for (std::size_t other = 0; other < s_.moves.size(); ++other) {
      if (needs.within(s_.moves[other].needs)) without.barred[other] = true;
    }
    if (settle(without)) children.push_back(std::move(without));
    return true;
  }

  /// False when the limit was met.
  bool sequence(const Branch& branch) {
    const ItemSet work = work_of(branch);
    if (std::find(tried_.begin(), tried_.end(), work) != tried_.end()) return true;
    tried_.push_back(work);
    const std::uint64_t left = limit_ - out_.best.expanded;
    Solution found = solve(bound_to(branch), work, out_.best.cost, left);
    found.expanded += out_.best.expanded;
    out_.best.expanded = found.expanded;
    if (found.stopped) {
      Branch at = branch;
      at.bound = std::max(at.bound, found.bound);
      stop(at);
      return false;
    }
    if (found.found) {
      out_.best = std::move(found);
      out_.wanted = work;
    }
    return true;
  }

  /// The limit is met: a sound plan from the most promising choice, and what could be gained.
  void stop(Branch branch) {
    Cost least = branch.bound;
    for (const Branch& other : open_) least = std::min(least, other.bound);
    if (!out_.best.found) {
      for (std::vector<Branch> children; split(branch, children) && !children.empty();) {
        branch = *std::min_element(
            children.begin(), children.end(),
            [](const Branch& a, const Branch& b) { return a.bound < b.bound; });
        children.clear();
      }
      const std::uint64_t expanded = out_.best.expanded;
      out_.best = solve(bound_to(branch), work_of(branch), kNever, kHastyLimit, true);
      out_.best.expanded += expanded;
      out_.wanted = work_of(branch);
    }
    out_.best.stopped = true;
    out_.best.bound = std::min(least, out_.best.cost);
  }

  static constexpr std::uint64_t kHastyLimit = 100'000;

  const Sequence& s_;
  int goal_;
  std::uint64_t limit_;
  ItemSet all_;
  ItemSet real_;
  bool ends_somewhere_ = false;
  int made_ = 0;
  std::vector<Branch> open_;
  std::vector<ItemSet> tried_;
  ChoiceResult out_;
};

}  // namespace

ChoiceResult choose(const Sequence& sequence, int goal, int virtual_from, std::uint64_t limit) {
  return Chooser(sequence, goal, virtual_from, limit).run();
}

}  // namespace kp::plan
