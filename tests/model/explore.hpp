#pragma once
// Breadth first over the states of the gate, with the small machine and the onlooker. Stamps count
// by their age: now, minutes ago, hours ago.

#include <array>
#include <deque>
#include <functional>
#include <unordered_set>

#include "model/breach.hpp"
#include "model/moves.hpp"

namespace kp::model {

struct Node {
  safety::State state;
  Toy toy;
  Onlooker seen;
};

inline safety::Stamp now_by(const std::string& person) { return {1, {kNow, 0}, kNow, person}; }

inline void age_stamp(safety::Stamp& stamp, int ms) {
  if (stamp.holds() && kNow - stamp.mono_ms < ms) {
    stamp.at.utc_ms = stamp.mono_ms = kNow - ms;
  }
}
/// Time passes by both clocks: everything is at least so old.
inline void age_all(safety::State& state, int ms) {
  for (safety::Stamp* stamp :
       {&state.prepared, &state.stopped, &state.frame_nil, &state.isolated, &state.held,
        &state.tried_at, &state.supply_dead, &state.power_back, &state.shut, &state.relieved,
        &state.tight, &state.holding, &state.neutral_quiet, &state.water_back, &state.cooled,
        &state.secured, &state.propped,
        &state.inspected, &state.warned, &state.locks_off, &state.looked, &state.last_hands_in,
        &state.tagged, &state.ended, &state.gap_at, &state.lost_at}) {
    age_stamp(*stamp, ms);
  }
  for (safety::GroupProof& group : state.groups) {
    age_stamp(group.dead, ms);
    age_stamp(group.discharged, ms);
  }
  for (safety::Reading& reading : state.series.readings) {
    reading.mono_ms = std::min<std::int64_t>(reading.mono_ms, kNow - ms);
    reading.at.utc_ms = reading.mono_ms;
  }
}

using Key = std::array<std::uint64_t, 3>;
struct KeyHash {
  std::size_t operator()(const Key& key) const {
    std::uint64_t hash = key[0] * 0x9E3779B97F4A7C15ULL;
    hash = (hash ^ (hash >> 29U) ^ key[1]) * 0xBF58476D1CE4E5B9ULL;
    hash = (hash ^ (hash >> 31U) ^ key[2]) * 0x94D049BB133111EBULL;
    return to_size(static_cast<std::int64_t>(hash ^ (hash >> 32U)));
  }
};

class KeyWriter {
 public:
  void put(std::uint64_t value, unsigned bits) {
    if (used_ + bits > 64) {
      ++word_;
      used_ = 0;
    }
    key_.at(word_) |= value << used_;
    used_ += bits;
  }
  template <class... Flags>
  void flags(Flags... all) { (put(all ? 1 : 0, 1), ...); }
  [[nodiscard]] Key key() const { return key_; }

 private:
  Key key_{};
  std::size_t word_ = 0;
  unsigned used_ = 0;
};

inline unsigned age_of(const safety::Stamp& stamp, const std::string& worker) {
  if (!stamp.holds()) return 0;
  const std::int64_t age = kNow - stamp.mono_ms;
  const unsigned grade = age < kElevenMinutes ? 1 : age < kFiveHours ? 2 : 3;
  return stamp.person == worker ? grade : 3;
}

/// All of a node that decides what can follow.
inline Key key_of(const Node& node) {
  const safety::State& s = node.state;
  const Toy& toy = node.toy;
  const Onlooker& o = node.seen;
  KeyWriter out;
  const auto age = [&](const safety::Stamp& stamp) { out.put(age_of(stamp, s.worker), 2); };
  out.flags(s.prepared.holds(), s.frame_first, s.stopped.holds(), s.frame_nil.holds(), s.frame_live, s.exposed,
            s.device_opened, s.gap_open, s.cooled.holds(), s.secured.holds(), s.propped.holds(),
            s.people > 1, s.inspected.holds(), s.warned.holds(), s.locks_off.holds(),
            s.last_hands_in.holds(), s.tagged.holds(), s.ending != safety::Ending::none,
            s.worker == "Ben", s.worker.empty(), s.means == safety::Means::plug_out,
            s.control == safety::Control::in_hand, s.lock == "8", s.lock.empty(), s.barred.holds());
  out.put(static_cast<unsigned>(s.power), 3);
  out.put(static_cast<unsigned>(s.water), 3);
  out.put(static_cast<unsigned>(s.tried), 2);
  for (const char* id : {"7", "8", "9"}) {
    out.flags(std::any_of(s.locks.begin(), s.locks.end(),
                          [&](const safety::Lock& lock) { return lock.id == id; }));
  }
  // What is believed for hours is the same after minutes.
  const auto proof = [&](const safety::Stamp& stamp) {
    const unsigned grade = age_of(stamp, s.worker);
    out.put(grade == 2 ? 1 : grade, 2);
  };
  age(s.held), proof(s.supply_dead), age(s.relieved), proof(s.tight), proof(s.holding), age(s.looked);
  for (const char* id : {"g1", "g2"}) {
    const safety::GroupProof* group = s.group(id);
    proof(group == nullptr ? safety::Stamp{} : group->dead);
    proof(group == nullptr ? safety::Stamp{} : group->discharged);
  }
  proof(s.neutral_quiet);
  const bool late = !s.series.readings.empty() &&
                    kNow - s.series.readings.front().mono_ms >= kElevenMinutes;
  const std::string& at = s.series.place;
  out.put(at.empty() ? 0U : at == "g1" ? 1U : at == "g2" ? 2U : 3U, 2);
  safety::Wanted wanted;
  const safety::Place place = at.empty() ? group_of("g2") : o.place_of(at);
  const bool more = !at.empty() && safety::next_of(s.series, place, wanted);
  out.flags(late, more, wanted.low_impedance);
  safety::ReadingTaken next;
  next.place = place.id, next.role = wanted.role, next.a = wanted.pair.a, next.b = wanted.pair.b;
  out.put(more ? o.bit_of(next) : 0, 12);
  out.flags(toy.way_on, toy.box_on, toy.panel_on, toy.tests_due, toy.door_open, toy.fixing_fast,
            toy.out, toy.laid);
  out.put(static_cast<unsigned>(toy.loose), 3);
  // The onlooker's memory belongs to the state: two ways to one state may differ in it.
  out.flags(o.listed, o.frame_asked, o.stopped, o.frame == never, o.frame_live, o.on, o.parted, o.plug, o.held,
            o.by_hand, o.tagged, o.lock7, o.lock8, o.lock9, o.holds8, o.tried, o.started, o.late,
            o.exposed, o.opened, o.cool, o.secured, o.propped, o.people > 1, o.look_late, o.worked,
            o.inspected, o.gap, o.ended, o.worker == "Ben", o.barred);
  out.put(o.water, 3);
  out.put(o.release, 3);
  out.put(o.read, 12);
  for (const Age one : {o.dead, o.dead1, o.dead2, o.uncharged1, o.neutral, o.watched, o.tight}) {
    out.put(one == minutes ? fresh : one, 2);
  }
  out.put(o.held_for, 2), out.put(o.relieved, 2);
  return out.key();
}


inline std::string worker_of(const safety::State& state) {
  return state.worker.empty() ? "Ana" : state.worker;
}

/// The question of a move as far as it is the same everywhere.
inline safety::Ask ask_of(const Move& move) {
  safety::Ask ask;
  ask.demand = move.demand;
  ask.place = move.place;
  ask.fact = move.fact.has_value() ? &*move.fact : nullptr;
  return ask;
}
/// Fills in the rest; false where the move cannot be made by the machine or in this world.
inline bool put_question(const Node& node, const Move& move, safety::Ask& ask, Toy& after,
                         std::optional<safety::Fact>& judged) {
  after = node.toy;
  if (!does(move.deed, after) || !node.seen.hangs(move.hangs)) {
    return false;
  }
  ask.machine = machine_of(node.toy, after, node.state);
  ask.by = move.by.empty() ? worker_of(node.state) : move.by;
  const bool reads = safety::in_acts(safety::acts(safety::Act::reading, safety::Act::read_frame,
                                                  safety::Act::read_neutral), move.demand.act);
  if (reads && move.fact.has_value()) {
    judged = safety::completed(node.state, *move.fact, move.place, {});
    ask.fact = &*judged;
  }
  return true;
}

/// The node after the accepted move, or after what happened.
inline Node follow(const Node& node, const Move& move, const Toy& after, const safety::Fact* fact,
                   const std::string& by) {
  Node next = node;
  next.toy = after;
  const safety::Stamp stamp = now_by(by);
  const auto both = [&](const auto& change) {
    safety::apply(next.state, change, stamp);
    next.seen(change);
  };
  if (fact != nullptr) {
    both(*fact);
  } else if (move.ends != safety::Ending::none) {
    both(safety::VisitEnded{move.ends});
  } else {
    both(safety::Worked{move.demand.act, move.deed == Deed::lay, "other", move.deed == Deed::dry});
  }
  return next;
}

inline bool may_happen(const Node& node, const Move& move) {
  if (!move.happens.has_value()) {
    return move.passes_ms > 0;
  }
  const bool answers = std::holds_alternative<safety::Fact>(*move.happens) &&
                       std::holds_alternative<safety::GapAnswered>(std::get<safety::Fact>(*move.happens));
  if (std::holds_alternative<safety::VisitReopened>(*move.happens)) {
    return node.state.ending != safety::Ending::none;
  }
  return !answers || node.state.gap_open;
}
inline Node happened(const Node& node, const Move& move) {
  Node next = node;
  if (move.passes_ms > 0) {
    age_all(next.state, move.passes_ms);
    next.seen.grow(move.passes_ms);
    return next;
  }
  safety::apply(next.state, *move.happens, now_by(worker_of(node.state)));
  std::visit(next.seen, *move.happens);
  return next;
}

/// A series was begun and is not read to its end.
inline bool is_reading(const Node& node) {
  const std::string& at = node.state.series.place;
  safety::Wanted wanted;
  return !at.empty() && !node.state.series.readings.empty() &&
         safety::next_of(node.state.series, node.seen.place_of(at), wanted) &&
         wanted.role != safety::Role::known_before;
}
/// A series that was begun is read on, or something happens to it; of all else only what would hurt
/// most is asked, and nothing of it is followed.
inline bool is_of_series(const Move& move) {
  return move.demand.act == safety::Act::reading || move.demand.act == safety::Act::restart_series;
}
inline bool is_asked_while_reading(const Move& move) {
  using enum safety::Act;
  return is_of_series(move) ||
         is_one_of(move.demand.act, {hands_in, reach_tub, cover, power_on, discharge, lay_down});
}

/// Told of every question put at every state: the node, the move, the machine after it, the verdict.
using OnAsk = std::function<void(const Node&, const Move&, const Toy&, const safety::Ask&,
                                 const safety::Verdict&)>;
/// Told of every step: before, the move, after. False ends the walk.
using OnStep = std::function<bool(const Node&, const Move&, const Node&)>;

/// Breadth first from nothing. `most`: no more states than this; the number that were seen.
inline int explore(Site site, unsigned walk, const std::vector<Move>& moves,
                   const safety::Law& law, int most, const OnAsk& on_ask, const OnStep& on_step) {
  std::unordered_set<Key, KeyHash> known;
  std::deque<Node> open(1);
  open.front().toy.site = open.front().seen.site = site;
  open.front().toy.boxed = site != Site::cord && (walk & (kProof | kBack | kFrame)) != 0;
  known.insert(key_of(open.front()));
  const auto keep = [&](const Node& from, const Move& move, Node next) {
    next.state.near_misses.clear();
    const bool on = on_step(from, move, next);
    if (to_int(known.size()) < most && known.insert(key_of(next)).second) {
      open.push_back(std::move(next));
    }
    return on;
  };
  std::vector<safety::Ask> asks;
  for (const Move& move : moves) {
    asks.push_back(ask_of(move));
  }
  while (!open.empty()) {
    const Node node = std::move(open.front());
    open.pop_front();
    const bool reading = is_reading(node);
    for (std::size_t i = 0; i < moves.size(); ++i) {
      const Move& move = moves[i];
      if ((move.walks & walk) == 0) {
        continue;
      }
      if (move.happens.has_value() || move.passes_ms > 0) {
        if (may_happen(node, move) && !keep(node, move, happened(node, move))) {
          return to_int(known.size());
        }
        continue;
      }
      if (reading && !is_asked_while_reading(move)) {
        continue;
      }
      safety::Ask& ask = asks[i];
      Toy after;
      std::optional<safety::Fact> judged;
      if (!put_question(node, move, ask, after, judged)) {
        continue;
      }
      const safety::Verdict verdict = safety::permit(node.state, ask, {kNow, kNow}, law);
      on_ask(node, move, after, ask, verdict);
      if (verdict.allowed && move.leads_on && (!reading || is_of_series(move)) &&
          !keep(node, move, follow(node, move, after, ask.fact, ask.by))) {
        return to_int(known.size());
      }
    }
  }
  return to_int(known.size());
}

}  // namespace kp::model
