// The order of safety, 1.7: I1 to I11 over the states that decide() and apply() reach at three small
// machines, said by an eye that knows neither rows nor guards; and whether it is noticed when a row of
// the gate's table is taken away, at run time.

#include <doctest/doctest.h>

#include "decide/row_mutants.hpp"

using namespace kp;
using namespace kp::test;

namespace {

/// So many states are opened for each machine, every state of the stories first: in each all that can
/// be said or done is asked. The whole space is larger; the gate's own is walked in tests/safety.
constexpr int kMost = 240;

/// What one machine's enumeration saw.
struct Seen {
  int states = 0, told = 0, opened = 0;
  std::int64_t tried = 0, accepted = 0;
  Breach::Counts counts{};
  std::set<std::string> faults;
};

class Enumeration {
 public:
  Enumeration(Site site, RowMutants& mutants) : site_(site), job_(site), mutants_(mutants) {}

  Seen run() {
    for (const Story& story : stories(site_)) {
      std::string stuck;
      for (SmallNode& node : job_.walk(story, stuck)) take(std::move(node));
      if (!stuck.empty()) seen_.faults.insert(cat("a story of careful work is refused: ", stuck));
    }
    seen_.told = seen_.states;
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
        mutants_.see(site_, node, intent, decision);
        continue;
      }
      ++seen_.accepted;
      SmallNode after = job_.after(node, intent, decision);
      const std::string fault = broken_by(node, intent, after, seen_.counts);
      if (!fault.empty()) {
        seen_.faults.insert(cat(intent.name, " after ", node.last, ": ", fault));
      }
      take(std::move(after));
    }
    for (const std::int64_t ms : {kWatchMs, kFiveHoursMs}) take(SmallJob::later(node, ms));
  }

  Site site_;
  SmallJob job_;
  RowMutants& mutants_;
  Seen seen_;
  std::deque<SmallNode> queue_;
  std::set<std::string> known_;
};

std::string words_of_counts(const Breach::Counts& counts) {
  std::string out;
  for (int i = 1; i <= kInvariants; ++i) out += cat(" I", i, " ", counts[to_size(i)]);
  return out;
}

/// The node after the story, when its time has passed; and what must be refused there.
std::pair<SmallNode, Intent> scene(const Refusal& refusal) {
  std::string stuck;
  SmallNode node = SmallJob(refusal.site).walk(refusal.story, stuck).back();
  CHECK_MESSAGE(stuck.empty(), refusal.intent << ": " << stuck);
  node.eye.now += refusal.later_ms;
  Intent intent = SmallJob::named(node, refusal.intent);
  const job::Decision decision = SmallJob(refusal.site).ask(node, intent);
  std::string codes;
  for (const safety::Reason& reason : decision.reasons) codes += cat(" ", reason.code);
  CHECK_MESSAGE(says(decision, refusal.code),
                refusal.intent << " wants " << refusal.code << ", is told" << codes);
  return {std::move(node), std::move(intent)};
}

}  // namespace

TEST_CASE("decide: nothing accepted breaks I1 to I11, and each row taken away is noticed") {
  RowMutants mutants;
  Breach::Counts all{};
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    const std::string name = kSites[static_cast<int>(site)];
    CHECK(small_library().models[to_size(static_cast<int>(site))].pack.parts.size() <= 6);
    const Seen seen = Enumeration(site, mutants).run();
    for (const std::string& fault : seen.faults) {
      FAIL_CHECK(name << ": " << fault);
    }
    for (int i = 1; i <= kInvariants; ++i) {
      all[to_size(i)] += seen.counts[to_size(i)];
      // On a cord nothing shares the neutral.
      const bool asked = seen.counts[to_size(i)] > 0 || (i == 9 && site == Site::cord);
      CHECK_MESSAGE(asked, name << ": I" << i << " was never asked");
    }
    MESSAGE(name << ": " << seen.states << " states; in " << seen.opened
                 << " of them, the bound, all is asked (first the " << seen.told
                 << " of careful work, then one act on): " << seen.tried << " intents, "
                 << seen.accepted << " accepted; asked" << words_of_counts(seen.counts));
    CHECK(seen.opened == kMost);
    CHECK(seen.told < kMost);
    CHECK(seen.states >= 1000);
  }
  for (const Refusal& refusal : refusals()) {
    const auto [node, intent] = scene(refusal);
    mutants.see(refusal, node, intent);
  }
  for (const int row : mutants.open()) {
    FAIL_CHECK("row " << row << " taken away, and nobody notices");
  }
  for (const int row : kSilent) {
    CHECK_MESSAGE(mutants.spoken().count(row) == 0, "row " << row << " speaks: it must be noticed");
  }
  const int noticed = mutants.all() - to_int(mutants.open().size());
  MESSAGE("I1 to I11, all three:" << words_of_counts(all) << "\n"
          << noticed << " of " << mutants.all() << " mutants noticed (one row of the gate gone each): "
          << mutants.by_invariant() << " by an invariant, the others by a refusal that must stand"
          << mutants.list());
  CHECK(mutants.all() >= 40);
}

TEST_CASE("decide: what it refuses beside the gate") {
  std::string stuck;
  const SmallNode tips = SmallJob(Site::fixed).walk(found_tipping(), stuck).back();
  const SmallJob mutant(Site::fixed, without(kSaidTwice));
  CHECK(says(mutant.ask(tips, SmallJob::named(tips, "release toe-screws")), "would-tip"));
  for (const Refusal& refusal : own_refusals()) {
    (void)scene(refusal);
  }
}

TEST_CASE("decide: an insulation below its limit does not pass, whatever is said of it") {
  std::string stuck;
  const SmallJob job(Site::cord);
  const SmallNode node = job.walk(made_safe(Site::cord), stuck).back();
  CHECK(stuck.empty());
  Intent intent = SmallJob::named(node, "prove insulation");
  // 1.0 megohm: VDE 0701-0702 by the order of safety, B3.
  const std::pair<double, bool> readings[] = {{0.99, false}, {1.0, true}, {2.0, true}};
  for (const auto& [value, passes] : readings) {
    std::get<job::ProveRecorded>(intent.body).value = value;
    std::get<job::ProveRecorded>(intent.body).passed = !passes;
    const job::Decision decision = job.ask(node, intent);
    REQUIRE(decision.accepted());
    const auto* kept = std::get_if<job::ProveRecorded>(&decision.events.front());
    REQUIRE(kept != nullptr);
    CHECK(kept->passed == passes);
  }
}
