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

/// One thing taken from a question that was allowed: these acts must then be refused, and with this
/// word. The acts are those of the order of safety, 1.8 and the table of section 2.
struct Taking {
  const char* code;
  safety::ActSet from;
  void (*take)(safety::State&, safety::Ask&, safety::Now&);
};

inline const std::vector<Taking>& takings() {
  using enum safety::Act;
  using safety::Ask;
  using safety::Now;
  using safety::State;
  constexpr safety::ActSet all = (safety::ActSet{1} << safety::kActs) - 1;
  constexpr safety::ActSet eyes = safety::acts(look_outside, look_inside);
  constexpr safety::ActSet hands =
      safety::acts(reach_tub, cover, relieve, relieve_outside, hands_in, part_supply, measure_dead,
                   insulation_test, place_probes, hot_reading, static_test, move_out, lay_down,
                   prove_dead_test);
  constexpr safety::ActSet turned_on = safety::acts(run, live_reading);
  constexpr safety::ActSet whole = turned_on | safety::acts(inspect, power_on);
  static const std::vector<Taking> list = {
      {"job-ended", all, [](State& s, Ask&, Now&) { s.ending = safety::Ending::not_to_be_used; }},
      {"clock-doubt", all & ~safety::acts(look_outside),
       [](State& s, Ask&, Now& now) { now.utc_ms = s.newest.utc_ms - 1; }},
      {"other-person", all & ~eyes & ~safety::acts(hand_over, lock_off),
       [](State& s, Ask& ask, Now&) {
         s.worker = worker_of(s);
         ask.by = "Eve";
       }},
      {"gap-open", all & ~eyes & ~safety::acts(touch_outside),
       [](State& s, Ask&, Now&) { s.gap_open = true; }},
      {"not-prepared", all & ~eyes & ~safety::acts(touch_outside, prepare, stop, hand_over),
       [](State& s, Ask&, Now&) { s.prepared = {}; }},
      {"energy-not-listed", hands | turned_on,
       [](State&, Ask& ask, Now&) { ask.demand.contacts.push_back(safety::Contact::sprung); }},
      // Without the hold "press start first" alone would be said, of a live machine.
      {"not-held", safety::acts(reach_tub, cover, reading, move_out, try_controls, tag, bar_openings),
       [](State& s, Ask&, Now&) { s.power = safety::Power::live; }},
      {"control-lost",
       (hands & ~safety::acts(relieve_outside)) |
           safety::acts(try_controls, reading, discharge, read_neutral),
       [](State& s, Ask& ask, Now&) {
         s.power = s.power == safety::Power::supply_dead ? s.power : safety::Power::held;
         s.means = safety::Means::plug_out;
         s.control = safety::Control::in_hand;
         ask.machine.workers = 2;
       }},
      {"power-not-proved", safety::acts(reach_tub),
       [](State& s, Ask&, Now&) {
         s.power = safety::Power::held;
         s.frame_first = true;
         s.frame_nil = s.prepared;
         s.supply_dead = {};
       }},
      {"found-live", safety::acts(cover),
       [](State& s, Ask& ask, Now&) {
         s.exposed = ask.machine.supply_open = true;
         s.supply_dead = {};
       }},
      {"neutral-not-read", safety::acts(part_supply),
       [](State& s, Ask& ask, Now&) {
         s.neutral_quiet = {};
         ask.demand.parts_neutral = true;
       }},
      {"leave-open", safety::acts(leave),
       [](State& s, Ask& ask, Now&) {
         s.barred = {};
         ask.machine.nothing_open = false;
       }},
      {"work-not-proved", (hands & ~safety::acts(cover)) | safety::acts(read_neutral),
       [](State&, Ask& ask, Now&) { ask.demand.groups.push_back({group_of("elsewhere"), false}); }},
      {"charge-not-gone", (hands & ~safety::acts(cover)) | safety::acts(read_neutral),
       [](State&, Ask& ask, Now&) { ask.demand.groups.push_back({group_of("elsewhere"), true}); }},
      {"not-secured", hands & ~safety::acts(reach_tub, cover),
       [](State& s, Ask& ask, Now&) {
         s.secured = {};
         ask.demand.contacts.push_back(safety::Contact::heavy);
       }},
      {"helper-missing", hands | safety::acts(run),
       [](State&, Ask& ask, Now&) { ask.demand.people = 7; }},
      {"would-tip",
       (hands & ~safety::acts(lay_down)) | turned_on | eyes |
           safety::acts(touch_outside, power_on, leave, end_in_service),
       [](State& s, Ask& ask, Now&) {
         s.propped = {};
         ask.machine.stable = false;
       }},
      {"not-upright",
       turned_on | safety::acts(cover, reading, move_out, hot_reading, power_on, leave,
                                end_in_service, read_neutral),
       [](State&, Ask& ask, Now&) { ask.machine.upright = false; }},
      {"door-open", safety::acts(lay_down, try_controls),
       [](State&, Ask& ask, Now&) { ask.machine.door_open = true; }},
      {"cover-off", whole, [](State&, Ask& ask, Now&) { ask.machine.live_covers_on = false; }},
      {"lead-off", whole | safety::acts(static_test, water_static), [](State&, Ask& ask, Now&) { ask.machine.leads_joined = false; }},
      {"joint-open", whole | safety::acts(static_test, water_static, water_on),
       [](State&, Ask& ask, Now&) { ask.machine.wet_joined = false; }},
      {"earth-loose", safety::acts(inspect, power_on),
       [](State&, Ask& ask, Now&) { ask.machine.earths_fast = false; }},
      {"tests-open", safety::acts(inspect, power_on),
       [](State&, Ask& ask, Now&) { ask.machine.tests_done = false; }},
  };
  return list;
}

inline bool says(const safety::Verdict& verdict, const std::string& code) {
  return std::any_of(verdict.reasons.begin(), verdict.reasons.end(),
                     [&](const safety::Reason& reason) { return reason.code == code; });
}

/// Looks on while the states are enumerated and notes which cuts would have let something through.
/// A row that is gone whole lets the same through: an act is judged by the rows that name it.
class MutantWatch {
 public:
  void see(const Node& node, const Move& move, const Toy& after, const safety::Ask& ask,
           const safety::Verdict& verdict) {
    if (verdict.allowed) {
      return take_away(node, ask);
    }
    const Cut cut{lone_row(verdict), move.demand.act};
    // A cut that lets only harmless things through is not asked for ever.
    if (cut.first == 0 || seen_.count(cut) > 0 || ++tried_[cut] > 300) {
      return;
    }
    const bool through = safety::permit(node.state, ask, {kNow, kNow}, without(cut)).allowed;
    if (through && *breach({move, node.toy, after, node.seen, ask.by}) != '\0') {
      seen_.insert(cut);
    }
  }

  /// Noticed by the onlooker, or by what section 2 asks of the act.
  [[nodiscard]] const std::set<Cut>& seen() const { return seen_; }
  [[nodiscard]] const std::set<Cut>& missed() const { return missed_; }
  /// Acts that were not refused, or not with the word, although something was taken from them.
  [[nodiscard]] const std::set<std::string>& loose() const { return loose_; }

 private:
  void take_away(const Node& node, const safety::Ask& allowed) {
    const safety::Act act = allowed.demand.act;
    for (std::size_t i = 0; i < takings().size(); ++i) {
      const Taking& taking = takings()[i];
      if (!safety::in_acts(taking.from, act) || !done_.insert({i, act}).second) {
        continue;
      }
      safety::State state = node.state;
      safety::Ask ask = allowed;
      safety::Now now{kNow, kNow};
      taking.take(state, ask, now);
      const safety::Verdict verdict = safety::permit(state, ask, now, {});
      if (!says(verdict, taking.code)) {
        loose_.insert(cat(safety::words(act), " is not refused with ", taking.code));
      }
      for (const safety::Reason& reason : verdict.reasons) {
        const Cut cut{reason.row, act};
        if (reason.code == taking.code &&
            !says(safety::permit(state, ask, now, without(cut)), taking.code)) {
          missed_.insert(cut);
        }
      }
    }
  }

  std::set<Cut> seen_;
  std::set<Cut> missed_;
  std::set<std::pair<std::size_t, safety::Act>> done_;
  std::map<Cut, int> tried_;
  std::set<std::string> loose_;
};

}  // namespace kp::model
