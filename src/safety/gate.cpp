#include "safety/gate.hpp"

#include <algorithm>
#include <cmath>

namespace kp::safety {

Verdict permit(const State& state, const Ask& ask, Now now, const Law& law) {
  const Policy policy = bounded(law.policy);
  Verdict verdict;
  bool ruled = false;
  for (const Row& row : law.rows) {
    if (!in_acts(row.acts, ask.demand.act)) {
      continue;
    }
    ruled = true;
    if (!holds(row.guard, state, ask, now, policy, verdict.stands_on)) {
      const GuardWords& words = words_of(row.guard);
      verdict.reasons.push_back({words.code, words.sentence, row.number});
    }
  }
  if (!ruled) {
    verdict.reasons.push_back({"no-rule", "Do not do this: no rule allows it.", 0});
  }
  verdict.allowed = verdict.reasons.empty();
  if (!verdict.allowed) {
    verdict.stands_on.clear();
  }
  std::sort(verdict.stands_on.begin(), verdict.stands_on.end());
  verdict.stands_on.erase(std::unique(verdict.stands_on.begin(), verdict.stands_on.end()),
                          verdict.stands_on.end());
  return verdict;
}

Fact completed(const State& state, Fact fact, const Place& place, const Policy& policy) {
  if (auto* frame = std::get_if<FrameRead>(&fact)) {
    frame->found = judge(Role::pair, frame->shown, frame->function, {}, policy);
  }
  if (auto* neutral = std::get_if<NeutralRead>(&fact)) {
    // 0.0 A on a clamp that shows tenths. Common practice, no source.
    neutral->quiet = std::fabs(neutral->amperes) < 0.05;
  }
  auto* taken = std::get_if<ReadingTaken>(&fact);
  if (taken == nullptr) {
    return fact;
  }
  taken->found = judge(taken->role, taken->shown, taken->function,
                       {taken->band_low, taken->band_high}, policy);
  Reading last;
  last.role = taken->role;
  last.pair = {taken->a, taken->b};
  last.found = taken->found;
  taken->proves = closes(state.series, last, place);
  return fact;
}

}  // namespace kp::safety
