#pragma once
// The gate's rows with one thing taken away: a whole row, or one act out of a row's set. Nothing is
// compiled anew: the rows are data.

#include <map>
#include <set>
#include <utility>

#include "model/explore.hpp"

namespace kp::model {

/// One act out of one row.
using Cut = std::pair<int, safety::Act>;

inline safety::Law without(const Cut& cut) {
  safety::Law law;
  for (safety::Row& row : law.rows) {
    if (row.number == cut.first) {
      row.acts &= ~safety::act_bit(cut.second);
    }
  }
  return law;
}

inline std::set<Cut> all_cuts() {
  std::set<Cut> out;
  for (const safety::Row& row : safety::rules()) {
    for (int i = 0; i < safety::kActs; ++i) {
      if (safety::in_acts(row.acts, static_cast<safety::Act>(i))) {
        out.insert({row.number, static_cast<safety::Act>(i)});
      }
    }
  }
  return out;
}

/// The row that alone refuses; 0 where several do, or none.
inline int lone_row(const safety::Verdict& verdict) {
  return verdict.reasons.size() == 1 ? verdict.reasons.front().row : 0;
}

/// What holds of every act, whatever it is: one thing is taken from a question that was allowed, and
/// it must be refused. The exceptions are those of the order of safety, 1.8 and 2.
enum class Taken { open, clock, person, answer, list, energy };
inline constexpr int kTaken = 6;
inline bool is_free_of(Taken what, safety::Act act) {
  using enum safety::Act;
  const bool eyes = is_one_of(act, {look_outside, look_inside});
  switch (what) {
    case Taken::open: return false;
    case Taken::clock: return act == look_outside;
    case Taken::person: return eyes || is_one_of(act, {hand_over, lock_off});
    case Taken::answer: return eyes || act == touch_outside;
    case Taken::list: return eyes || is_one_of(act, {touch_outside, prepare, stop, hand_over});
    case Taken::energy:
      return !safety::hands_in(act) && !is_one_of(act, {run, live_reading});
  }
  return true;
}
inline void take(Taken what, safety::State& state, safety::Ask& ask, safety::Now& now) {
  switch (what) {
    case Taken::open: state.ending = safety::Ending::not_to_be_used; return;
    case Taken::clock: now.utc_ms -= 1; return;
    case Taken::person: ask.by = "Eve"; return;
    case Taken::answer: state.gap_open = true; return;
    case Taken::list: state.prepared = {}; return;
    case Taken::energy: ask.demand.contacts.push_back(safety::Contact::sprung); return;
  }
}

/// Looks on while the states are enumerated and notes which cuts would have let something through.
class MutantWatch {
 public:
  MutantWatch() : open_(all_cuts()), all_(open_.size()) {}

  void see(const Node& node, const Move& move, const Toy& after, const safety::Ask& ask,
           const safety::Verdict& verdict) {
    if (verdict.allowed) {
      return take_away(node, ask);
    }
    const Cut cut{lone_row(verdict), move.demand.act};
    if (open_.count(cut) == 0) {
      return;
    }
    const bool through = safety::permit(node.state, ask, {kNow, kNow}, without(cut)).allowed;
    if (through && *breach({move, node.toy, after, node.seen, ask.by}) != '\0') {
      open_.erase(cut);
    } else if (through) {
      ++slipped_[cut];
    }
  }

  [[nodiscard]] const std::set<Cut>& open() const { return open_; }
  [[nodiscard]] int all() const { return to_int(all_); }
  [[nodiscard]] int slipped(const Cut& cut) const {
    const auto found = slipped_.find(cut);
    return found == slipped_.end() ? 0 : found->second;
  }
  void notice(const Cut& cut) { open_.erase(cut); }
  /// Questions that stayed allowed although something was taken from them.
  [[nodiscard]] const std::set<std::string>& loose() const { return loose_; }

 private:
  void take_away(const Node& node, const safety::Ask& allowed) {
    const safety::Act act = allowed.demand.act;
    for (int i = 0; i < kTaken; ++i) {
      const auto what = static_cast<Taken>(i);
      if (is_free_of(what, act) || done_.count({i, act}) > 0) {
        continue;
      }
      Node other = node;
      safety::Ask ask = allowed;
      safety::Now now{kNow, kNow};
      take(what, other.state, ask, now);
      const safety::Verdict verdict = safety::permit(other.state, ask, now, {});
      if (verdict.allowed) {
        loose_.insert(cat(safety::words(act), " without ", i));
      }
      const Cut cut{lone_row(verdict), act};
      if (cut.first != 0 && safety::permit(other.state, ask, now, without(cut)).allowed) {
        open_.erase(cut);
        done_.insert({i, act});
      }
    }
  }

  std::set<Cut> open_;
  std::size_t all_;
  std::set<std::pair<int, safety::Act>> done_;
  std::map<Cut, int> slipped_;
  std::set<std::string> loose_;
};

}  // namespace kp::model
