#include "plan/changeover_bound.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <utility>

#include "base/text.hpp"

namespace kp::plan {
namespace {

constexpr std::size_t kMostPairs = 64;
constexpr std::size_t kWidest = 192;  // 64 groups, 63 tools, the pairs

void raise(std::uint8_t* most, const std::uint8_t* other, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) most[i] = std::max(most[i], other[i]);
}

std::uint8_t more(std::uint8_t count) {
  return count == 255 ? count : static_cast<std::uint8_t>(count + 1);
}

std::uint64_t bit(int i) { return std::uint64_t{1} << static_cast<unsigned>(i); }

/// The mask of the list that holds all of `mask`, or -1.
int around(const std::vector<std::uint64_t>& masks, std::uint64_t mask) {
  for (int k = 0; k < to_int(masks.size()); ++k) {
    if ((mask & ~masks[to_size(k)]) == 0) return k;
  }
  return -1;
}

}  // namespace

std::vector<std::uint64_t> ChangeoverBound::single_positions(const Sequence& sequence) {
  std::vector<std::uint64_t> groups;
  for (int p = 0; p < sequence.positions; ++p) groups.push_back(bit(p));
  return groups;
}

std::vector<std::vector<std::uint64_t>> ChangeoverBound::joint_positions(const Sequence& sequence,
                                                                         const ItemSet& wanted) {
  struct Use {
    std::uint64_t mask = 0;
    int jobs = 0;
  };
  std::vector<Use> uses;
  bool wide = false;
  wanted.each([&](int j) {
    const std::uint64_t mask = sequence.jobs[to_size(j)].positions;
    if (std::popcount(mask) == sequence.positions) return;
    wide = wide || !std::has_single_bit(mask);
    const auto same = [mask](const Use& use) { return use.mask == mask; };
    const auto at = std::find_if(uses.begin(), uses.end(), same);
    if (at == uses.end()) {
      uses.push_back(Use{mask, 1});
    } else {
      ++at->jobs;
    }
  });
  if (!wide) return {};
  std::stable_sort(uses.begin(), uses.end(), [](const Use& a, const Use& b) { return a.jobs > b.jobs; });
  std::vector<std::vector<std::uint64_t>> all;
  for (const Use& first : uses) {
    std::vector<std::uint64_t> groups{first.mask};
    std::uint64_t covered = first.mask;
    for (const Use& use : uses) {
      if ((use.mask & covered) != 0) continue;
      groups.push_back(use.mask);
      covered |= use.mask;
    }
    for (int p = 0; p < sequence.positions; ++p) {
      if ((covered & bit(p)) == 0) groups.push_back(bit(p));
    }
    std::sort(groups.begin(), groups.end());
    if (std::find(all.begin(), all.end(), groups) == all.end()) all.push_back(std::move(groups));
  }
  return all;
}

ChangeoverBound::ChangeoverBound(const Sequence& sequence, const ItemSet& wanted,
                                 const Landmarks& before, std::vector<std::uint64_t> groups)
    : by_exit_(sequence.by_exit), empty_hand_(sequence.empty_hand) {
  groups_.masks = std::move(groups);
  if (by_exit_ && empty_hand_ && sequence.end >= 0 && wanted.test(sequence.end) &&
      sequence.jobs[to_size(sequence.end)].tools == bit(sequence.tools - 1)) {
    end_empty_ = sequence.end;
  }
  price_groups(sequence);
  price_tools(sequence);
  pair_up(sequence, wanted);
  std::vector<Cost> costs;
  for (const Move& move : sequence.moves) costs.push_back(move.cost);
  walk_ = WalkBound(sequence, wanted, costs);
  if (!pairs_.empty()) discounted_ = WalkBound(sequence, wanted, discounted(sequence));
  chain(sequence, wanted, before);
}

void ChangeoverBound::price_groups(const Sequence& sequence) {
  groups_.cost.assign(groups_.masks.size(), kNever);
  for (const Move& move : sequence.moves) {
    const int from = around(groups_.masks, bit(move.from));
    const int to = around(groups_.masks, bit(move.to));
    if (from == to) continue;
    Cost& cost = groups_.cost[to_size(by_exit_ ? from : to)];
    cost = std::min(cost, move.cost);
  }
}

void ChangeoverBound::price_tools(const Sequence& sequence) {
  const int held = sequence.tools - (empty_hand_ ? 1 : 0);
  tools_.offset = groups_.masks.size();
  for (int t = 0; t < sequence.tools; ++t) tools_.masks.push_back(bit(t));
  tools_.cost.assign(to_size(sequence.tools), kNever);
  for (int a = 0; a < held; ++a) {
    for (int b = 0; b < held; ++b) {
      if (a == b) continue;
      Cost& cost = tools_.cost[to_size(by_exit_ ? a : b)];
      cost = std::min(cost, sequence.change_cost(a, b));
    }
  }
  if (!empty_hand_) return;
  // Changes out of the empty hand at the start, or into it at the end, happen once and may be
  // free: they are left out here, and free_hand sees to what that overstates.
  for (int t = 0; t < held; ++t) {
    const Cost cost = by_exit_ ? sequence.change_cost(t, held) : sequence.change_cost(held, t);
    once_.push_back(cost);
    if (held == 1) tools_.cost[0] = cost;
  }
  tools_.cost.back() = 0;
}

void ChangeoverBound::pair_up(const Sequence& sequence, const ItemSet& wanted) {
  wanted.each([&](int j) {
    const Job& job = sequence.jobs[to_size(j)];
    const int group = around(groups_.masks, job.positions);
    const int tool = around(tools_.masks, job.tools);
    if (group < 0 || tool < 0 || pairs_.size() == kMostPairs) return;
    for (const Pair& other : pairs_) {
      if (other.group == group && other.tool == tool) return;
    }
    const Cost take = std::min(tools_.cost[to_size(tool)], groups_.cost[to_size(group)]);
    pairs_.push_back(Pair{group, tool, take});
    paired_ |= bit(tool);
  });
  std::stable_sort(pairs_.begin(), pairs_.end(), [](const Pair& a, const Pair& b) {
    return a.group != b.group ? a.group < b.group : a.take > b.take;
  });
}

std::vector<Cost> ChangeoverBound::discounted(const Sequence& sequence) const {
  std::vector<Cost> dearest(groups_.masks.size(), 0);
  for (const Pair& pair : pairs_) {
    dearest[to_size(pair.group)] = std::max(dearest[to_size(pair.group)], pair.take);
  }
  std::vector<Cost> costs;
  for (const Move& move : sequence.moves) {
    const int from = around(groups_.masks, bit(move.from));
    const int to = around(groups_.masks, bit(move.to));
    const Cost off = from == to ? 0 : dearest[to_size(by_exit_ ? from : to)];
    costs.push_back(move.cost - off);
  }
  return costs;
}

/// `at` holds what the jobs after this one need; `exact`: this job needs the value, `barred`: it
/// cannot be done with it.
void ChangeoverBound::count(std::uint8_t* at, bool exact, bool barred) const {
  std::uint8_t& away = at[0];
  std::uint8_t& held = at[width_];
  if (exact) {
    away = by_exit_ ? held : more(held);
  } else if (barred) {
    held = by_exit_ ? more(away) : away;
  }
}

void ChangeoverBound::step_axis(const Axis& axis, std::uint64_t mask, std::uint8_t* row) const {
  for (std::size_t v = 0; v < axis.masks.size(); ++v) {
    count(row + axis.offset + v, (mask & ~axis.masks[v]) == 0, (mask & axis.masks[v]) == 0);
  }
}

void ChangeoverBound::step(const Job& job, std::uint8_t* row) const {
  step_axis(groups_, job.positions, row);
  step_axis(tools_, job.tools, row);
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    const std::uint64_t places = groups_.masks[to_size(pairs_[k].group)];
    const std::uint64_t tool = bit(pairs_[k].tool);
    count(row + pair_offset_ + k, (job.positions & ~places) == 0 && job.tools == tool,
          (job.positions & places) == 0 || (job.tools & tool) == 0);
  }
}

void ChangeoverBound::chain(const Sequence& sequence, const ItemSet& wanted,
                            const Landmarks& before) {
  pair_offset_ = groups_.masks.size() + tools_.masks.size();
  width_ = pair_offset_ + pairs_.size();
  rows_.assign(sequence.jobs.size() * width_ * 2, 0);
  std::vector<int> order;
  wanted.each([&](int j) { order.push_back(j); });
  // What comes before a job has fewer landmarks than the job.
  std::vector<int> depth(sequence.jobs.size());
  for (const int j : order) depth[to_size(j)] = before.of_job[to_size(j)].count();
  std::stable_sort(order.begin(), order.end(),
                   [&](int a, int b) { return depth[to_size(a)] > depth[to_size(b)]; });
  for (const int j : order) {
    std::uint8_t* row = &rows_[to_size(j) * width_ * 2];
    // By now the row holds the most that any job after this one needs.
    step(sequence.jobs[to_size(j)], row);
    const ItemSet earlier = before.of_job[to_size(j)] & wanted;
    earlier.each([&](int e) {
      if (e != j) raise(&rows_[to_size(e) * width_ * 2], row, width_ * 2);
    });
  }
}

Cost ChangeoverBound::sum(const Axis& axis, int now, const std::uint8_t* most) const {
  Cost total = 0;
  for (int v = 0; v < to_int(axis.masks.size()); ++v) {
    const int times = most[(v == now ? width_ : 0) + axis.offset + to_size(v)];
    if (times == 0) continue;
    if (axis.cost[to_size(v)] == kNever) return kNever;
    total += times * axis.cost[to_size(v)];
  }
  return total;
}

/// What the one change out of, or into, the empty hand may cost less than assumed.
Cost ChangeoverBound::free_hand(const ItemSet& rest, int tool, const std::uint8_t* most) const {
  const bool applies = by_exit_ ? end_empty_ >= 0 && rest.test(end_empty_)
                                : empty_hand_ && tool == to_int(once_.size());
  Cost saved = 0;
  for (std::size_t v = 0; applies && v < once_.size(); ++v) {
    if (most[tools_.offset + v] + most[width_ + tools_.offset + v] == 0) continue;
    saved = std::max(saved, tools_.cost[v] - once_[v]);
  }
  return saved;
}

Cost ChangeoverBound::paired(const ItemSet& rest, int position, int group, int tool,
                             const std::uint8_t* most) const {
  Cost all = 0;     // every entry is a take
  Cost turned = 0;  // turns, and the takes they do not stand for
  int turns = 0;
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    const Pair& pair = pairs_[k];
    if (k == 0 || pairs_[k - 1].group != pair.group) {
      turns = most[(pair.group == group ? width_ : 0) + to_size(pair.group)];
    }
    const bool held = pair.group == group && pair.tool == tool;
    const int entries = most[(held ? width_ : 0) + pair_offset_ + k];
    const int saved = std::min(entries, turns);
    turns -= saved;
    all += entries * pair.take;
    turned += (entries - saved) * pair.take;
  }
  turned += sum(groups_, group, most);
  all += discounted_.of(rest, position);
  Cost other = 0;
  for (int t = 0; t < to_int(tools_.masks.size()); ++t) {
    if ((paired_ & bit(t)) != 0) continue;
    const int times = most[(t == tool ? width_ : 0) + tools_.offset + to_size(t)];
    if (times > 0) other += times * tools_.cost[to_size(t)];
  }
  return std::max(all, turned) + other;
}

Cost ChangeoverBound::of(const ItemSet& rest, int position, int tool) const {
  std::array<std::uint8_t, kWidest * 2> most{};
  rest.each([&](int j) { raise(most.data(), &rows_[to_size(j) * width_ * 2], width_ * 2); });
  const int group = around(groups_.masks, bit(position));
  const Cost turning = sum(groups_, group, most.data());
  const Cost taking = sum(tools_, tool, most.data());
  const Cost walk = walk_.of(rest, position);
  if (turning == kNever || taking == kNever || walk == kNever) return kNever;
  Cost best = std::max(turning, walk) + taking;
  if (!pairs_.empty()) {
    best = std::max(best, paired(rest, position, group, tool, most.data()));
  }
  return best - free_hand(rest, tool, most.data());
}

}  // namespace kp::plan
