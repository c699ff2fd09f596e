#include "plan/changeover_bound.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"

namespace kp::plan {
namespace {

constexpr std::size_t kWidest = 128;  // 64 positions, 63 tools

void raise(std::uint8_t* most, const std::uint8_t* other, std::size_t n) {
  for (std::size_t i = 0; i < n; ++i) most[i] = std::max(most[i], other[i]);
}

std::uint8_t more(std::uint8_t count) {
  return count == 255 ? count : static_cast<std::uint8_t>(count + 1);
}

}  // namespace

ChangeoverBound::ChangeoverBound(const Sequence& sequence, const ItemSet& wanted,
                                 const Landmarks& before) {
  price(sequence);
  chain(sequence, wanted, before);
}

void ChangeoverBound::price(const Sequence& sequence) {
  empty_hand_ = sequence.empty_hand;
  positions_.count = sequence.positions;
  positions_.enter.assign(to_size(sequence.positions), kNever);
  positions_.leave.assign(to_size(sequence.positions), kNever);
  for (const Move& move : sequence.moves) {
    if (move.from == move.to) continue;
    Cost& enter = positions_.enter[to_size(move.to)];
    Cost& leave = positions_.leave[to_size(move.from)];
    enter = std::min(enter, move.cost);
    leave = std::min(leave, move.cost);
  }
  // The empty hand is left at most once and its first tool may be free: free_start sees to that.
  const int held = sequence.tools - (empty_hand_ ? 1 : 0);
  tools_.count = sequence.tools;
  tools_.offset = to_size(sequence.positions);
  tools_.enter.assign(to_size(sequence.tools), kNever);
  tools_.leave.assign(to_size(sequence.tools), kNever);
  for (int a = 0; a < held; ++a) {
    for (int b = 0; b < sequence.tools; ++b) {
      if (a == b) continue;
      tools_.enter[to_size(b)] = std::min(tools_.enter[to_size(b)], sequence.change_cost(a, b));
      tools_.leave[to_size(a)] = std::min(tools_.leave[to_size(a)], sequence.change_cost(a, b));
    }
  }
  if (!empty_hand_) return;
  tools_.leave.back() = 0;
  for (int b = 0; b < held; ++b) {
    first_.push_back(sequence.change_cost(held, b));
    tools_.enter[to_size(b)] = std::min(
        tools_.enter[to_size(b)], held == 1 ? first_.back() : kNever);
  }
}

void ChangeoverBound::step(Axis axis, std::uint64_t mask, std::uint8_t* row) const {
  for (int v = 0; v < axis.count; ++v) {
    const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(v);
    std::uint8_t* in_away = row + axis.offset + v;
    std::uint8_t* in_held = in_away + width_;
    std::uint8_t* out_away = in_held + width_;
    std::uint8_t* out_held = out_away + width_;
    if (mask == bit) {
      *in_away = more(*in_held);
      *out_away = *out_held;
    } else if ((mask & bit) == 0) {
      *in_held = *in_away;
      *out_held = more(*out_away);
    }
  }
}

void ChangeoverBound::chain(const Sequence& sequence, const ItemSet& wanted,
                            const Landmarks& before) {
  width_ = to_size(sequence.positions + sequence.tools);
  rows_.assign(sequence.jobs.size() * width_ * 4, 0);
  std::vector<int> order;
  wanted.each([&](int j) { order.push_back(j); });
  // What comes before a job has fewer landmarks than the job.
  std::vector<int> depth(sequence.jobs.size());
  for (const int j : order) depth[to_size(j)] = before.of_job[to_size(j)].count();
  std::sort(order.begin(), order.end(), [&](int a, int b) {
    const int da = depth[to_size(a)];
    const int db = depth[to_size(b)];
    return da != db ? da > db : a < b;
  });
  for (const int j : order) {
    std::uint8_t* row = &rows_[to_size(j) * width_ * 4];
    const Job& job = sequence.jobs[to_size(j)];
    // By now the row holds the most that any job after this one needs.
    step(positions_, job.positions, row);
    step(tools_, job.tools, row);
    const ItemSet earlier = before.of_job[to_size(j)] & wanted;
    earlier.each([&](int e) {
      if (e != j) raise(&rows_[to_size(e) * width_ * 4], row, width_ * 4);
    });
  }
}

ChangeoverBound::Sums ChangeoverBound::sum(const Axis& axis, int now,
                                           const std::uint8_t* most) const {
  Sums sums;
  for (int v = 0; v < axis.count; ++v) {
    const std::uint8_t* at = most + axis.offset + v;
    const int entries = at[v == now ? width_ : 0];
    const int exits = at[v == now ? 3 * width_ : 2 * width_];
    const Cost enter = axis.enter[to_size(v)];
    const Cost leave = axis.leave[to_size(v)];
    if ((entries > 0 && enter == kNever) || (exits > 0 && leave == kNever)) return {kNever, kNever};
    if (entries > 0) sums.in += entries * enter;
    if (exits > 0) sums.out += exits * leave;
  }
  return sums;
}

/// What the first tool may cost less than assumed, at most.
Cost ChangeoverBound::free_start(const std::uint8_t* most) const {
  Cost saved = 0;
  for (std::size_t v = 0; v < first_.size(); ++v) {
    if (most[tools_.offset + v] == 0) continue;
    saved = std::max(saved, tools_.enter[v] - first_[v]);
  }
  return saved;
}

Cost ChangeoverBound::of(const ItemSet& rest, int position, int tool) const {
  std::array<std::uint8_t, kWidest * 4> most{};
  rest.each([&](int j) { raise(most.data(), &rows_[to_size(j) * width_ * 4], width_ * 4); });
  const Sums turning = sum(positions_, position, most.data());
  Sums taking = sum(tools_, tool, most.data());
  if (turning.in == kNever || taking.in == kNever) return kNever;
  if (empty_hand_ && tool == tools_.count - 1) taking.in -= free_start(most.data());
  return std::max(turning.in, turning.out) + std::max(taking.in, taking.out);
}

}  // namespace kp::plan
