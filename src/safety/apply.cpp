#include <algorithm>

#include "safety/gate.hpp"

namespace kp::safety {

namespace {

Stamp stamp_of(const Event& event) { return Stamp{event.id, event.at, event.person}; }

void note_loss(State& state, VoidCause cause, const Stamp& stamp) {
  if (state.proved.holds() || state.isolated.holds() || state.shut.holds()) {
    state.lost = cause;
    state.lost_at = stamp;
  }
}

void drop_sequence(State& state) {
  state.readings.clear();
  state.verdict = ProveVerdict::unfinished;
  state.proved = {};
}

void drop_release(State& state) {
  state.inspected = {};
  state.panels_set = {};
  state.people_clear = {};
}

// The isolation stands, the proof does not.
void doubt_power(State& state) {
  drop_sequence(state);
  state.controls_tried = {};
  state.charge_gone = {};
  if (state.power == PowerState::proved_dead) {
    state.power = PowerState::isolated;
  }
}

// Nothing is known of the power any more. Locks that hang, hang on.
void forget_power(State& state) {
  doubt_power(state);
  state.power = PowerState::taken_as_live;
  state.isolated = {};
  state.means = Means::word_of_another;
  state.lock.clear();
  state.stopped = {};
  state.cooled = {};
  state.tagged = {};
  state.tag.clear();
}

void forget_water(State& state) {
  state.water = WaterState::taken_as_on;
  state.valve.clear();
  state.shut = {};
  state.relieved = {};
}

void forget_posture(State& state) {
  state.secured = {};
  state.people = 1;
}

bool held_by_own_lock(const State& state) {
  return !state.lock.empty() && state.isolated.holds() &&
         std::any_of(state.locks.begin(), state.locks.end(), [&](const Lock& lock) {
           return lock.id == state.lock && lock.owner == state.worker;
         });
}

// Nobody watched: a lock keeps the isolation, a plug on the floor does not. Taps have no lock.
void lose_sight(State& state, VoidCause cause, const Stamp& stamp) {
  note_loss(state, cause, stamp);
  if (held_by_own_lock(state)) {
    doubt_power(state);
  } else {
    forget_power(state);
  }
  forget_water(state);
  forget_posture(state);
  drop_release(state);
}

// A new person or a new visit starts from nothing but the locks that hang.
void start_over(State& state, VoidCause cause, const Stamp& stamp) {
  note_loss(state, cause, stamp);
  forget_power(state);
  forget_water(state);
  forget_posture(state);
  drop_release(state);
  state.prepared = {};
  state.energies = 0;
  state.worker = stamp.person;
}

void on_prepared(State& state, const Event& event) {
  const bool differs = state.prepared.holds() && state.connection != event.connection;
  if (differs && state.power != PowerState::taken_as_live) {
    note_loss(state, VoidCause::unit_differs, stamp_of(event));
    forget_power(state);
    drop_release(state);
  }
  state.prepared = stamp_of(event);
  state.connection = event.connection;
  state.energies = event.energies;
  state.worker = event.person;
}

void on_isolated(State& state, const Event& event) {
  drop_sequence(state);
  drop_release(state);
  state.controls_tried = {};
  state.charge_gone = {};
  state.tagged = {};
  state.tag.clear();
  state.power = PowerState::isolated;
  state.means = event.means;
  state.isolated = stamp_of(event);
  state.lock.clear();
  if (!rule_of(event.means).needs_lock) {
    return;
  }
  state.lock = event.lock;
  for (Lock& lock : state.locks) {
    if (lock.id == event.lock) {
      lock.put_on = stamp_of(event);
      return;
    }
  }
  state.locks.push_back(Lock{event.lock, event.person, stamp_of(event)});
}

void on_reading(State& state, const Event& event, const Policy& policy) {
  if (event.station == Station::known_before) {
    drop_sequence(state);
    state.power = PowerState::isolated;
  }
  state.readings.push_back(
      Reading{event.station, event.volts, event.function, event.meter, event.at, event.id});
  state.verdict = judge(state.readings, policy);
  if (state.verdict == ProveVerdict::proven_dead) {
    state.power = PowerState::proved_dead;
    state.proved = stamp_of(event);
  } else if (state.verdict == ProveVerdict::live) {
    note_loss(state, VoidCause::meter_says_live, stamp_of(event));
    const std::vector<Reading> evidence = state.readings;
    forget_power(state);
    drop_release(state);
    state.readings = evidence;
    state.verdict = ProveVerdict::live;
  }
}

void on_controls(State& state, const Event& event) {
  if (!event.answered) {
    state.controls_tried = stamp_of(event);
    return;
  }
  note_loss(state, VoidCause::controls_answered, stamp_of(event));
  forget_power(state);
  drop_release(state);
}

void on_step(State& state, const Event& event, const Policy& policy) {
  const Demand demand{event.contacts, event.hands_in, event.running, event.people};
  state.stood_on = permit(state, demand, event.at.utc_ms, policy).stands_on;
  if (event.hands_in) {
    state.last_hands_in = stamp_of(event);
    drop_release(state);
  }
}

void on_lock_removed(State& state, const Event& event) {
  state.locks.erase(std::remove_if(state.locks.begin(), state.locks.end(),
                                   [&](const Lock& lock) { return lock.id == event.lock; }),
                    state.locks.end());
  if (state.lock == event.lock && state.isolated.holds()) {
    note_loss(state, VoidCause::lock_off, stamp_of(event));
    forget_power(state);
  }
}

void power_on(State& state, const Event& event, VoidCause cause, PowerState to) {
  note_loss(state, cause, stamp_of(event));
  forget_power(state);
  state.power = to;
  state.power_back = stamp_of(event);
}

// Hot supply water warms the sump, so cooling is shown again after water was on.
void water_on(State& state, const Event& event, VoidCause cause, WaterState to) {
  note_loss(state, cause, stamp_of(event));
  forget_water(state);
  state.cooled = {};
  state.water = to;
  state.water_back = stamp_of(event);
}

void on_resumed(State& state, const Event& event, const Policy& policy) {
  if (event.away_seconds < 0) {
    lose_sight(state, VoidCause::clock_doubt, stamp_of(event));
  } else if (event.away_seconds > policy.pause_seconds) {
    lose_sight(state, VoidCause::paused, stamp_of(event));
  }
}

void on_reopened(State& state, const Event& event) {
  start_over(state, VoidCause::new_visit, stamp_of(event));
  state.ending = Ending::none;
  state.ended = {};
}

void on_fact(State& state, const Event& event, const Policy& policy) {
  const Stamp stamp = stamp_of(event);
  if (event.at.utc_ms < state.newest.utc_ms) {
    lose_sight(state, VoidCause::clock_doubt, stamp);
  }
  if (event.kind == EventKind::power_found_on) {
    drop_release(state);
    power_on(state, event, VoidCause::found_live, PowerState::taken_as_live);
  } else if (event.kind == EventKind::water_found_on) {
    drop_release(state);
    water_on(state, event, VoidCause::found_wet, WaterState::taken_as_on);
  } else if (event.kind == EventKind::re_energised) {
    drop_release(state);
    power_on(state, event, VoidCause::re_energised, PowerState::taken_as_live);
  } else if (event.kind == EventKind::left_alone) {
    lose_sight(state, VoidCause::left_alone, stamp);
  } else if (event.kind == EventKind::taken_over) {
    start_over(state, VoidCause::taken_over, stamp);
  } else if (event.kind == EventKind::resumed) {
    on_resumed(state, event, policy);
  } else if (event.kind == EventKind::clock_doubted) {
    lose_sight(state, VoidCause::clock_doubt, stamp);
  } else if (event.kind == EventKind::reopened) {
    on_reopened(state, event);
  }
}

void on_water_and_rest(State& state, const Event& event) {
  const Stamp stamp = stamp_of(event);
  if (event.kind == EventKind::water_shut) {
    state.water = WaterState::shut;
    state.valve = event.note;
    state.shut = stamp;
    state.relieved = {};
  } else if (event.kind == EventKind::water_relieved) {
    state.water = WaterState::relieved;
    state.relieved = stamp;
  } else if (event.kind == EventKind::charge_gone) {
    state.charge_gone = stamp;
    state.charge_volts = event.volts;
  } else if (event.kind == EventKind::cooled) {
    state.cooled = stamp;
    state.celsius = event.celsius;
  } else if (event.kind == EventKind::secured) {
    state.secured = stamp;
    state.people = std::max(state.people, event.people);
  } else if (event.kind == EventKind::posture_changed) {
    state.posture = event.note;
    state.secured = {};
  } else if (event.kind == EventKind::helpers_here) {
    state.people = event.people;
  } else if (event.kind == EventKind::tag_hung) {
    state.tag = event.tag;
    state.tagged = stamp;
  } else if (event.kind == EventKind::ended) {
    state.ending = event.ending;
    state.ended = stamp;
  }
}

void on_release(State& state, const Event& event) {
  const Stamp stamp = stamp_of(event);
  if (event.kind == EventKind::inspected) {
    state.inspected = stamp;
  } else if (event.kind == EventKind::panels_set) {
    state.panels_set = stamp;
  } else if (event.kind == EventKind::people_clear) {
    state.people_clear = stamp;
  } else if (event.kind == EventKind::lock_removed) {
    on_lock_removed(state, event);
  } else if (event.kind == EventKind::power_restored) {
    power_on(state, event, VoidCause::power_back, PowerState::live_for_test);
  } else if (event.kind == EventKind::water_restored) {
    water_on(state, event, VoidCause::water_back, WaterState::on_for_test);
  }
}

void on_power(State& state, const Event& event, const Policy& policy) {
  if (event.kind == EventKind::prepared) {
    on_prepared(state, event);
  } else if (event.kind == EventKind::stopped) {
    state.stopped = stamp_of(event);
  } else if (event.kind == EventKind::isolated) {
    on_isolated(state, event);
  } else if (event.kind == EventKind::controls_tried) {
    on_controls(state, event);
  } else if (event.kind == EventKind::reading) {
    on_reading(state, event, policy);
  } else if (event.kind == EventKind::prove_restarted) {
    drop_sequence(state);
    state.power = PowerState::isolated;
  } else if (event.kind == EventKind::step_done) {
    on_step(state, event, policy);
  }
}

}  // namespace

State apply(const State& state, const Event& event, const Policy& shop) {
  if (!refusals(state, event, shop).empty()) {
    return state;
  }
  const Policy policy = bounded(shop);
  State next = state;
  if (is_fact(event.kind)) {
    on_fact(next, event, policy);
  } else {
    on_power(next, event, policy);
    on_water_and_rest(next, event);
    on_release(next, event);
  }
  next.newest = event.at;
  next.newest_event = std::max(next.newest_event, event.id);
  return next;
}

}  // namespace kp::safety
