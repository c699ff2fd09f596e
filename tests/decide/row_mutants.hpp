#pragma once
// The gate with one row taken away, at run time: who notices, and by what.

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>

#include "decide/breach.hpp"
#include "decide/refusals.hpp"
#include "decide/walk.hpp"
#include "job/good_answers.hpp"

namespace kp::test {

/// Rows that never speak here: decide() refuses the same before it asks the gate (1: an ended job; 81:
/// the energies are filled in from the pack), or never puts such a question (15, 20, 23: it calls a
/// cover only what lies on a way and is not live). They are taken away one by one in tests/safety.
inline constexpr int kSilent[] = {1, 15, 20, 23, 81};
/// A cover of a machine that tips: decide() says the same of itself, by the rules of the planner.
inline constexpr int kSaidTwice = 22;

inline safety::Rules without(int number) {
  safety::Rules rows = safety::rules();
  rows.erase(std::remove_if(rows.begin(), rows.end(),
                            [number](const safety::Row& row) { return row.number == number; }),
             rows.end());
  return rows;
}

/// I4: any way into live clears what was proved, not the locks and not the covers.
inline std::string fault_of_step(const SmallNode& before, const Intent& intent,
                                 const SmallNode& after) {
  const safety::State& s = after.state.safety;
  const bool live = s.power == safety::Power::live || s.power == safety::Power::on;
  if (live && (s.supply_dead.holds() || !s.groups.empty() || s.held.holds() ||
               s.neutral_quiet.holds() || s.tried != safety::Tried::no)) {
    return "I4: live, and something proved is kept";
  }
  const bool off = std::holds_alternative<safety::LockOff>(intent.body) ||
                   intent.name == "doubt lock-found-off";
  if (!off && s.locks.size() < before.state.safety.locks.size()) {
    return "I4: a lock is forgotten";
  }
  const bool moves = std::holds_alternative<job::StepDone>(intent.body) ||
                     std::holds_alternative<safety::Relieved>(intent.body) ||
                     std::holds_alternative<job::UnitAsFound>(intent.body);
  if (!moves && after.state.as_left != before.state.as_left) {
    return "I4: a cover moved by itself";
  }
  if (s.power == safety::Power::supply_dead && after.eye.dead == Eye::kNever) {
    return "I1: believed dead, and never shown";
  }
  return "";
}

/// What an accepted intent breaks; empty: nothing.
inline std::string broken_by(const SmallNode& before, const Intent& intent, const SmallNode& after,
                             Breach::Counts& counts) {
  const std::string by = intent.by.empty() ? before.eye.worker : intent.by;
  const std::string fault = Breach(before.eye, after.eye, by, counts).of(intent.body);
  ++counts[4];
  return fault.empty() ? fault_of_step(before, intent, after) : fault;
}

/// The rows that are still to be missed by somebody.
class RowMutants {
 public:
  RowMutants() {
    for (const safety::Row& row : safety::rules()) open_.insert(row.number);
    for (const int row : kSilent) open_.erase(row);
    open_.erase(kSaidTwice);
    all_ = to_int(open_.size());
  }
  /// A refusal that one row alone stands for: without it, is something accepted that breaks?
  void see(Site site, const SmallNode& node, const Intent& intent, const job::Decision& refused) {
    for (const safety::Reason& reason : refused.reasons) spoken_.insert(reason.row);
    const int row = refused.reasons.front().row;
    const bool lone = std::all_of(refused.reasons.begin(), refused.reasons.end(),
                                  [row](const auto& reason) { return reason.row == row; });
    if (!lone || open_.count(row) == 0) return;
    const SmallJob& job = mutant(site, row);
    const job::Decision decision = job.ask(node, intent);
    if (!decision.accepted()) return;
    Breach::Counts counts{};
    const std::string fault = broken_by(node, intent, job.after(node, intent, decision), counts);
    if (!fault.empty()) {
      noticed(row, cat(fault, " (", intent.name, " after ", node.last, ")"));
      ++by_invariant_;
    }
  }
  /// A refusal that must stand loses its reason.
  void see(const Refusal& refusal, const SmallNode& node, const Intent& intent) {
    const std::set<int> open = open_;
    for (const int row : open) {
      if (!says(mutant(refusal.site, row).ask(node, intent), refusal.code)) {
        noticed(row, cat(intent.name, " is no longer refused with ", refusal.code));
      }
    }
  }
  [[nodiscard]] const std::set<int>& open() const { return open_; }
  [[nodiscard]] int all() const { return all_; }
  [[nodiscard]] int by_invariant() const { return by_invariant_; }
  /// Each row with what noticed that it was gone, one a line.
  [[nodiscard]] std::string list() const {
    std::string out;
    for (const auto& [row, what] : noticed_) out += cat("\n  row ", row, ": ", what);
    return out;
  }
  /// Rows named by a refusal, alone or with others.
  [[nodiscard]] const std::set<int>& spoken() const { return spoken_; }

 private:
  void noticed(int row, std::string what) {
    open_.erase(row);
    noticed_[row] = std::move(what);
  }
  const SmallJob& mutant(Site site, int row) {
    std::unique_ptr<SmallJob>& one = jobs_[{static_cast<int>(site), row}];
    if (one == nullptr) one = std::make_unique<SmallJob>(site, without(row));
    return *one;
  }

  std::set<int> open_, spoken_;
  std::map<int, std::string> noticed_;
  int all_ = 0, by_invariant_ = 0;
  std::map<std::pair<int, int>, std::unique_ptr<SmallJob>> jobs_;
};

}  // namespace kp::test
