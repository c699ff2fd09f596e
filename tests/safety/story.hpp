#pragma once
// A job told in short words: facts numbered and timed one after the other, each asked of the gate
// before it is folded, as a session does.

#include <string>
#include <utility>
#include <vector>

#include "safety/gate.hpp"

namespace kp::test {

inline constexpr std::int64_t kMinuteMs = 60'000;
inline constexpr std::int64_t kHourMs = 60 * kMinuteMs;

/// The place of the supply's proof: the pins of a plug, or terminals that are joined to the house.
inline safety::Place supply_place(safety::Connection connection, safety::System system) {
  safety::Place place;
  place.id = safety::kSupply;
  place.pairs = safety::supply_pairs(system);
  place.joined_to_house = connection == safety::Connection::fixed;
  return place;
}

/// Bare terminals a and b: each to earth and to its neighbour.
inline safety::Place group_place(const std::string& id, bool charge = false) {
  safety::Place place;
  place.id = id;
  place.pairs = {{"a", ""}, {"b", ""}, {"a", "b"}};
  place.dc = charge;
  return place;
}

inline safety::Demand demand(safety::Act act) {
  safety::Demand out;
  out.act = act;
  return out;
}
/// Hands at a group's terminals.
inline safety::Demand at_group(safety::Act act, const std::string& id, bool charge = false) {
  safety::Demand out = demand(act);
  out.groups = {{group_place(id, charge), charge}};
  return out;
}

inline safety::Reading good_reading(const safety::Wanted& wanted) {
  safety::Reading reading;
  reading.role = wanted.role;
  reading.pair = wanted.pair;
  reading.shown = {true, 0};
  reading.tester = "T1";
  return reading;
}

class Story {
 public:
  explicit Story(safety::Connection connection = safety::Connection::fixed,
                 safety::System system = safety::System::single) {
    told_.connection = connection;
    told_.system = system;
    told_.built_in = connection == safety::Connection::fixed;
    told_.energies = (1U << safety::kEnergies) - 1;
    place = supply_place(connection, system);
  }

  [[nodiscard]] safety::Now now() const { return {wall_ms, mono_ms}; }
  [[nodiscard]] safety::Stamp stamp() {
    return {++events_, {wall_ms, 0}, mono_ms, person};
  }
  /// Both clocks go on.
  void wait(std::int64_t ms) {
    wall_ms += ms;
    mono_ms += ms;
  }

  /// Asks the gate for the fact; folds it when it is allowed. `of`: what is read, where it counts.
  bool tell(safety::Fact fact, const safety::Place& of = {}) {
    fact = safety::completed(state, std::move(fact), of, law.policy);
    safety::Ask ask;
    ask.machine = machine;
    ask.fact = &fact;
    ask.place = of;
    ask.by = person;
    safety::Act act = safety::Act::look_outside;
    refused.clear();
    if (safety::act_of(fact, act)) {
      ask.demand.act = act;
      ask.demand.behind_cover = false;
      refused = safety::permit(state, ask, now(), law).reasons;
      if (!refused.empty()) {
        return false;
      }
    }
    safety::apply(state, fact, stamp());
    wait(1000);
    return true;
  }
  /// What happens is never refused.
  void happens(const safety::Change& change) {
    safety::apply(state, change, stamp());
    wait(1000);
  }
  [[nodiscard]] safety::Verdict may(const safety::Demand& asked) const {
    safety::Ask ask;
    ask.demand = asked;
    ask.machine = machine;
    ask.by = person;
    return safety::permit(state, ask, now(), law);
  }
  /// Does the work if the gate allows it.
  bool work(const safety::Demand& asked) {
    const safety::Verdict verdict = may(asked);
    refused = verdict.reasons;
    if (verdict.allowed) {
      happens(safety::Worked{asked.act, false, {}});
    }
    return verdict.allowed;
  }

  bool prepare() { return tell(told_); }
  bool isolate() {
    const bool cord = told_.connection == safety::Connection::cord;
    return tell(safety::Stopped{}) &&
           tell(safety::Isolated{cord ? safety::Means::plug_out : safety::Means::breaker_off});
  }
  bool hold(const std::string& lock = "7") {
    return tell(safety::HeldFast{safety::Control::locked, lock, "card " + lock, {}});
  }
  bool shut() { return tell(safety::WaterShut{"valve under the sink"}); }
  bool relieve() { return tell(safety::Relieved{{}}); }
  bool try_it() { return tell(safety::ControlsTried{}); }
  /// Stop, isolate, shut, hold, try: approach.
  bool approach() { return prepare() && isolate() && shut() && hold() && try_it(); }

  /// The reading that the series wants next, with what a good tester shows.
  [[nodiscard]] safety::ReadingTaken next(const safety::Place& of) const {
    safety::Wanted wanted;
    safety::ReadingTaken out;
    out.place = of.id;
    out.tester = "T1";
    const safety::Series fresh;
    if (!safety::next_of(state.series, of, wanted)) {
      (void)safety::next_of(fresh, of, wanted);
    }
    out.role = wanted.role;
    out.a = wanted.pair.a;
    out.b = wanted.pair.b;
    out.shown = {true, 0};
    if (wanted.low_impedance) {
      out.function = safety::MeterFunction::volts_ac_low_impedance;
      out.shown = {false, 0};
    }
    const safety::Range band = safety::outlet_band(state.volts);
    if (wanted.role == safety::Role::known_before || wanted.role == safety::Role::known_after) {
      out.shown = {false, state.volts};
      out.band_low = band.low;
      out.band_high = band.high;
    } else if (wanted.role == safety::Role::earth_shown) {
      out.function = safety::MeterFunction::ohms;
      out.shown = {false, 0.2};
    }
    return out;
  }
  /// The whole series at a place, from its start.
  bool prove(const safety::Place& of) {
    state.series = {};
    bool all = true;
    for (int i = 0; all && i < 20; ++i) {
      all = tell(next(of), of);
      safety::Wanted wanted;
      if (!safety::next_of(state.series, of, wanted)) {
        return all;
      }
    }
    return false;
  }
  bool prove() { return prove(place); }
  /// From nothing to hands in, water relieved.
  bool make_safe() { return approach() && prove() && relieve(); }
  /// Inspect, warn, lock off, look: up to the breaker.
  bool release(const std::string& lock = "7") {
    return tell(safety::Inspected{}) && tell(safety::Warned{{"Ida"}}) &&
           tell(safety::LockOff{lock}) && tell(safety::LookedClear{});
  }

  [[nodiscard]] bool was_refused_for(const std::string& code) const { return has(refused, code); }
  static bool has(const std::vector<safety::Reason>& reasons, const std::string& code) {
    for (const safety::Reason& reason : reasons) {
      if (reason.code == code) {
        return true;
      }
    }
    return false;
  }
  [[nodiscard]] bool is_dead() const { return safety::supply_dead(state, now(), law.policy); }

  safety::State state;
  safety::Machine machine;
  safety::Law law;
  safety::Place place;
  std::int64_t wall_ms = 1'700'000'000'000;
  std::int64_t mono_ms = 5'000;
  std::string person = "Ana";
  std::vector<safety::Reason> refused;

 private:
  safety::Prepared told_;
  std::int64_t events_ = 0;
};

}  // namespace kp::test
