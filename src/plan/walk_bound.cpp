#include "plan/walk_bound.hpp"

#include <algorithm>
#include <bit>

#include "base/text.hpp"

namespace kp::plan {
namespace {

Cost plus(Cost a, Cost b) { return a == kNever || b == kNever ? kNever : a + b; }

}  // namespace

WalkBound::WalkBound(const Sequence& sequence, const ItemSet& wanted,
                     const std::vector<Cost>& costs)
    : positions_(sequence.positions) {
  if (positions_ == 1) return;
  if (sequence.end >= 0 && wanted.test(sequence.end)) {
    const std::uint64_t end = sequence.jobs[to_size(sequence.end)].positions;
    if (std::has_single_bit(end)) last_ = std::countr_zero(end);
  }
  find_demands(sequence, wanted);
  find_ways(sequence, costs);
  const std::size_t sets = std::size_t{1} << demands_.size();
  best_.assign(sets * to_size(positions_), kNever);
  for (std::size_t set = 0; set < sets; ++set) {
    for (int p = 0; p < positions_; ++p) {
      best_[set * to_size(positions_) + to_size(p)] = onwards(set, p);
    }
  }
}

void WalkBound::find_demands(const Sequence& sequence, const ItemSet& wanted) {
  const std::uint64_t everywhere =
      positions_ == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << static_cast<unsigned>(positions_)) - 1;
  wanted.each([&](int j) {
    const std::uint64_t mask = sequence.jobs[to_size(j)].positions;
    if (mask == everywhere || (last_ >= 0 && j == sequence.end)) return;
    for (Demand& demand : demands_) {
      if (demand.positions != mask) continue;
      demand.jobs.set(j);
      return;
    }
    Demand& demand = demands_.emplace_back();
    demand.positions = mask;
    demand.jobs.set(j);
  });
  // The narrowest say most.
  std::stable_sort(demands_.begin(), demands_.end(), [](const Demand& a, const Demand& b) {
    return std::popcount(a.positions) < std::popcount(b.positions);
  });
  if (demands_.size() > kMostDemands) demands_.resize(kMostDemands);
  met_.assign(to_size(positions_), 0);
  for (std::size_t k = 0; k < demands_.size(); ++k) {
    for (int p = 0; p < positions_; ++p) {
      if ((demands_[k].positions >> static_cast<unsigned>(p) & 1U) != 0) {
        met_[to_size(p)] |= std::size_t{1} << k;
      }
    }
  }
}

void WalkBound::find_ways(const Sequence& sequence, const std::vector<Cost>& costs) {
  ways_.assign(to_size(positions_ * positions_), kNever);
  for (int p = 0; p < positions_; ++p) way(p, p) = 0;
  for (std::size_t m = 0; m < costs.size(); ++m) {
    Cost& cost = way(sequence.moves[m].from, sequence.moves[m].to);
    cost = std::min(cost, costs[m]);
  }
  for (int via = 0; via < positions_; ++via) {
    for (int a = 0; a < positions_; ++a) {
      for (int b = 0; b < positions_; ++b) {
        way(a, b) = std::min(way(a, b), plus(way(a, via), way(via, b)));
      }
    }
  }
}

/// By the next position that meets a demand; smaller sets are known already.
Cost WalkBound::onwards(std::size_t set, int position) const {
  if (set == 0) return last_ < 0 ? 0 : ways_[index(position, last_)];
  Cost best = kNever;
  for (int next = 0; next < positions_; ++next) {
    const std::size_t met = set & met_[to_size(next)];
    if (met == 0) continue;
    const Cost rest = best_[(set ^ met) * to_size(positions_) + to_size(next)];
    best = std::min(best, plus(ways_[index(position, next)], rest));
  }
  return best;
}

Cost WalkBound::of(const ItemSet& rest, int position) const {
  if (positions_ == 1) return 0;
  std::size_t set = 0;
  for (std::size_t k = 0; k < demands_.size(); ++k) {
    if (rest.meets(demands_[k].jobs)) set |= std::size_t{1} << k;
  }
  return best_[set * to_size(positions_) + to_size(position)];
}

}  // namespace kp::plan
