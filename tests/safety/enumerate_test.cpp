// The order of safety, 1.7: I1 to I11 in every state that can be reached, said by an onlooker who
// knows neither rows nor guards; and whether it notices each row that is taken away.

#include <doctest/doctest.h>

#include "model/mutants.hpp"

using namespace kp;
using namespace kp::model;

namespace {

constexpr int kMost = 60'000;   // none of the walks is as long

// I4: any way into live clears what was proved, not the locks; near misses stay.
std::string fault_of_step(const Node& before, const Move& move, const Node& after) {
  const safety::State& s = after.state;
  const bool live = s.power == safety::Power::live || s.power == safety::Power::on;
  if (live && (s.supply_dead.holds() || !s.groups.empty() || s.tried != safety::Tried::no ||
               s.held.holds())) {
    return "I4: live, and something proved is kept";
  }
  const bool lock_fact = move.demand.act == safety::Act::lock_off || move.name == "lock-found-off";
  if (!lock_fact && s.locks.size() < before.state.locks.size()) {
    return "I4: a lock is forgotten";
  }
  const bool gone = after.toy.way_on != before.toy.way_on && move.deed == Deed::none;
  return gone ? "I4: a cover moved by itself" : "";
}

// Every row, and every act of a row, must be missed by somebody.
void report(const MutantWatch& mutants) {
  int rows = 0;
  int rows_noticed = 0;
  int acts_noticed = 0;
  const std::set<Cut> cuts = all_cuts();
  for (const safety::Row& row : safety::rules()) {
    bool noticed = false;
    for (const Cut& cut : cuts) {
      if (cut.first == row.number) {
        const bool one = mutants.seen().count(cut) + mutants.missed().count(cut) > 0;
        CAPTURE(cut.first);
        CAPTURE(std::string(safety::words(cut.second)));
        CHECK(one);
        acts_noticed += one ? 1 : 0;
        noticed = noticed || one;
      }
    }
    ++rows;
    rows_noticed += noticed ? 1 : 0;
  }
  const int all = rows + to_int(cuts.size());
  MESSAGE("mutants noticed: " << rows_noticed + acts_noticed << " of " << all << " (" << rows
          << " rows gone whole, " << cuts.size() << " acts taken out of a row; the onlooker notices "
          << mutants.seen().size() << " of these by an invariant)");
  CHECK(all >= 40);
}

}  // namespace

TEST_CASE("enumerate: no accepted act breaks I1 to I11, and each row taken away is noticed") {
  MutantWatch mutants;
  std::set<std::string> faults;
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    const std::vector<Move> moves = Moves(site).take();
    int states = 0;
    int accepted = 0;
    for (unsigned walk = 0; walk < std::size(kWalks); ++walk) {
      const int seen = explore(
          site, 1U << walk, moves, {}, kMost,
          [&](const Node& node, const Move& move, const Toy& after, const safety::Ask& ask,
              const safety::Verdict& verdict) {
            mutants.see(node, move, after, ask, verdict);
            if (!verdict.allowed) {
              return;
            }
            ++accepted;
            const char* what = breach({move, node.toy, after, node.seen, ask.by});
            if (*what != '\0') {
              faults.insert(cat(move.name, ": ", what));
            }
            if (safety::hands_in(move.demand.act) && verdict.stands_on.empty()) {
              faults.insert(cat(move.name, ": stands on nothing"));
            }
          },
          [&](const Node& before, const Move& move, const Node& after) {
            const std::string fault = fault_of_step(before, move, after);
            if (!fault.empty()) {
              faults.insert(cat(move.name, ": ", fault));
            }
            return true;
          });
      CHECK(seen < kMost);
      states += seen;
    }
    MESSAGE(std::string(kSites[static_cast<int>(site)]) << ": " << states << " states, " << accepted
            << " acts accepted, I1 to I11 hold in each");
    CHECK(states > 1000);
  }
  for (const std::string& fault : faults) {
    FAIL_CHECK(fault);
  }
  for (const std::string& what : mutants.loose()) {
    FAIL_CHECK(what);
  }
  report(mutants);
}
