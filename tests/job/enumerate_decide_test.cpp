// The order of safety, 1.7: I1 to I11 over the states that decide() and apply() reach at three small
// machines, said by an eye that knows neither rows nor guards; and whether it is noticed when a row of
// the gate's table is taken away, at run time.

#include <doctest/doctest.h>

#include <memory>

#include "job/small_breach.hpp"
#include "job/small_refusals.hpp"
#include "job/small_walk.hpp"

using namespace kp;
using namespace kp::test;

namespace {

/// So many states are opened for each machine, those of the stories first.
constexpr int kMost = 60;
constexpr std::size_t kStride = 3;

/// Rows that decide() cannot lose: it refuses the same before it asks the gate (1: an ended job; 81:
/// the energies are filled in from the pack), or never puts such a question (15, 20, 23: it calls a
/// cover only what lies on the way and is not live; 24: no pack says a time to bleed). The states of
/// the gate alone are enumerated in tests/safety.
constexpr int kElsewhere[] = {1, 15, 20, 23, 24, 81};

safety::Rules without(int number) {
  safety::Rules rows = safety::rules();
  rows.erase(std::remove_if(rows.begin(), rows.end(),
                            [number](const safety::Row& row) { return row.number == number; }),
             rows.end());
  return rows;
}

// I4: any way into live clears what was proved, not the locks and not the covers.
std::string fault_of_step(const SmallNode& before, const Intent& intent, const SmallNode& after) {
  const safety::State& s = after.state.safety;
  const bool live = s.power == safety::Power::live || s.power == safety::Power::on;
  if (live && (s.supply_dead.holds() || !s.groups.empty() || s.held.holds() ||
               s.tried != safety::Tried::no)) {
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

/// The rows that are still to be missed by somebody.
class Missing {
 public:
  Missing() {
    for (const safety::Row& row : safety::rules()) open_.insert(row.number);
    for (const int row : kElsewhere) open_.erase(row);
    all_ = to_int(open_.size());
  }
  /// A refusal that one row alone stands for: without it, is something accepted that breaks?
  void see(Site site, const SmallNode& node, const Intent& intent, const job::Decision& refused) {
    const int row = refused.reasons.front().row;
    const bool lone = std::all_of(refused.reasons.begin(), refused.reasons.end(),
                                  [row](const auto& reason) { return reason.row == row; });
    if (!lone || open_.count(row) == 0) return;
    const SmallJob& job = mutant(site, row);
    const job::Decision decision = job.ask(node, intent);
    if (!decision.accepted()) return;
    const SmallNode after = job.after(node, intent, decision);
    Breach::Counts counts{};
    const std::string by = intent.by.empty() ? node.eye.worker : intent.by;
    if (!Breach(node.eye, after.eye, by, counts).of(intent.body).empty() ||
        !fault_of_step(node, intent, after).empty()) {
      open_.erase(row);
    }
  }
  /// A refusal that must stand loses its reason.
  void see(const Refusal& refusal, const SmallNode& node, const Intent& intent) {
    for (auto row = open_.begin(); row != open_.end();) {
      const job::Decision decision = mutant(refusal.site, *row).ask(node, intent);
      row = says(decision, refusal.code) ? std::next(row) : open_.erase(row);
    }
  }
  static bool says(const job::Decision& decision, const std::string& code) {
    return std::any_of(decision.reasons.begin(), decision.reasons.end(),
                       [&](const safety::Reason& reason) { return reason.code == code; });
  }
  [[nodiscard]] const std::set<int>& open() const { return open_; }
  [[nodiscard]] int all() const { return all_; }

 private:
  const SmallJob& mutant(Site site, int row) {
    std::unique_ptr<SmallJob>& one = jobs_[{static_cast<int>(site), row}];
    if (one == nullptr) one = std::make_unique<SmallJob>(site, without(row));
    return *one;
  }

  std::set<int> open_;
  int all_ = 0;
  std::map<std::pair<int, int>, std::unique_ptr<SmallJob>> jobs_;
};

/// What one machine's enumeration saw.
struct Seen {
  int states = 0, opened = 0;
  long tried = 0, accepted = 0;
  Breach::Counts counts{};
  std::set<std::string> faults;
};

class Enumeration {
 public:
  Enumeration(Site site, Missing& missing) : site_(site), job_(site), missing_(missing) {}

  Seen run() {
    std::vector<SmallNode> all;
    for (const Story& story : stories(site_)) {
      std::string stuck;
      for (SmallNode& node : job_.walk(story, stuck)) all.push_back(std::move(node));
      if (!stuck.empty()) seen_.faults.insert(cat("a story of careful work is refused: ", stuck));
    }
    // Spread over all stories: not every state of them is opened.
    for (std::size_t from = 0; from < kStride; ++from) {
      for (std::size_t i = from; i < all.size(); i += kStride) take(all[i]);
    }
    while (!queue_.empty() && seen_.opened < kMost) {
      const SmallNode node = std::move(queue_.front());
      queue_.pop_front();
      open(node);
    }
    return std::move(seen_);
  }

 private:
  void take(SmallNode node) {
    if (!known_.insert(SmallKey(node).take()).second) return;
    ++seen_.states;
    queue_.push_back(std::move(node));
  }

  void open(const SmallNode& node) {
    ++seen_.opened;
    for (const Intent& intent : SmallMoves(node.eye).take()) {
      ++seen_.tried;
      const job::Decision decision = job_.ask(node, intent);
      if (!decision.accepted()) {
        missing_.see(site_, node, intent, decision);
        continue;
      }
      ++seen_.accepted;
      SmallNode after = job_.after(node, intent, decision);
      const std::string by = intent.by.empty() ? node.eye.worker : intent.by;
      note(node, intent, Breach(node.eye, after.eye, by, seen_.counts).of(intent.body));
      ++seen_.counts[4];
      note(node, intent, fault_of_step(node, intent, after));
      take(std::move(after));
    }
    for (const std::int64_t ms : {kWatchMs, kFiveHoursMs}) take(SmallJob::later(node, ms));
  }

  void note(const SmallNode& node, const Intent& intent, const std::string& fault) {
    if (!fault.empty()) {
      seen_.faults.insert(cat(intent.name, " after ", node.last, ": ", fault));
    }
  }

  Site site_;
  SmallJob job_;
  Missing& missing_;
  Seen seen_;
  std::deque<SmallNode> queue_;
  std::set<std::string> known_;
};

}  // namespace

TEST_CASE("decide: nothing accepted breaks I1 to I11, and each row taken away is noticed") {
  Missing missing;
  Breach::Counts all{};
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    const std::string name = kSites[static_cast<int>(site)];
    CHECK(small_library().models[to_size(static_cast<int>(site))].pack.parts.size() <= 6);
    const Seen seen = Enumeration(site, missing).run();
    for (const std::string& fault : seen.faults) {
      FAIL_CHECK(name << ": " << fault);
    }
    std::string counts;
    for (int i = 1; i <= kInvariants; ++i) {
      counts += cat(" I", i, " ", seen.counts[to_size(i)]);
      all[to_size(i)] += seen.counts[to_size(i)];
    }
    MESSAGE(name << ": " << seen.states << " states, " << seen.opened << " of them opened, "
                 << seen.tried << " intents, " << seen.accepted << " accepted; checked" << counts);
    CHECK(seen.states >= 1000);
  }
  for (int i = 1; i <= kInvariants; ++i) {
    CHECK_MESSAGE(all[to_size(i)] > 0, "I" << i << " was never asked");
  }
  for (const Refusal& refusal : refusals()) {
    std::string stuck;
    const SmallJob job(refusal.site);
    SmallNode node = job.walk(refusal.story, stuck).back();
    CHECK_MESSAGE(stuck.empty(), refusal.intent << ": " << stuck);
    node.eye.now += refusal.later_ms;
    const Intent intent = SmallJob::named(node, refusal.intent);
    const job::Decision decision = job.ask(node, intent);
    CHECK_MESSAGE(Missing::says(decision, refusal.code), refusal.intent << " wants " << refusal.code);
    if (Missing::says(decision, refusal.code)) missing.see(refusal, node, intent);
  }
  for (const int row : missing.open()) {
    FAIL_CHECK("row " << row << " taken away, and nobody notices");
  }
  const int noticed = missing.all() - to_int(missing.open().size());
  MESSAGE("mutants noticed: " << noticed << " of " << missing.all());
  CHECK(missing.all() >= 40);
}
