#include "safety/guide.hpp"

#include <algorithm>

#include "safety/guide_words.hpp"

namespace kp::safety {

namespace {

bool refused_for(const Verdict& verdict, const char* code) {
  return std::any_of(verdict.reasons.begin(), verdict.reasons.end(),
                     [code](const Reason& reason) { return reason.code == code; });
}

bool is_off(const State& state) { return is_held(state) || state.power == Power::isolated; }

class Guide {
 public:
  Guide(const State& state, const Ask& ask, Now now, const Law& law)
      : s_(&state), ask_(&ask), now_(now), law_(&law), policy_(bounded(law.policy)) {}

  [[nodiscard]] std::vector<Todo> take() { return std::move(out_); }
  void add(TodoKind kind) { out_.push_back(todo_of(kind, *s_)); }

  /// What must be said before anything else. False: nothing after it can be known yet.
  bool settle() {
    if (s_->ending != Ending::none) {
      add(TodoKind::reopen);
      return false;
    }
    if (now_.utc_ms < s_->newest.utc_ms) {
      add(TodoKind::doubt_clock);
      return false;
    }
    if (s_->gap_open) {
      add(TodoKind::answer_gap);
      return false;
    }
    return true;
  }

  /// The frame is read before the first touch; one that was found live, when it is off the supply.
  [[nodiscard]] bool frame_owed() const {
    return (s_->frame_first || s_->frame_live) && !s_->frame_nil.holds() &&
           !supply_dead(*s_, now_, policy_);
  }

  /// Isolated, held, water shut, tried.
  void hold_all() {
    if (!is_held(*s_)) {
      if (s_->power != Power::isolated) {
        if (!s_->stopped.holds()) {
          add(s_->power == Power::on ? TodoKind::put_away : TodoKind::stop);
        }
        add(TodoKind::isolate);
      }
      if (!is_shut(*s_)) {
        add(TodoKind::shut_water);
      }
      add(TodoKind::hold);
    } else if (!is_shut(*s_)) {
      add(TodoKind::shut_water);
    }
    if (s_->frame_live && frame_owed()) {
      add(TodoKind::read_frame);
    }
    if (s_->tried == Tried::no) {
      add(TodoKind::try_controls);
    }
  }

  /// The readings that are still owed at a place.
  void read(const Place& place) {
    Series series = s_->series;
    if (late(series, place)) {
      out_.push_back(todo_of(TodoKind::restart_series, *s_));
      series = {};
    }
    Wanted wanted;
    // A series has at most: before, earth, pairs in both kinds, after.
    for (std::size_t i = 0; i < 2 * place.pairs.size() + 3 && next_of(series, place, wanted); ++i) {
      out_.push_back(reading_of(place, wanted, *s_));
      if (wanted.role == Role::known_before) {
        series = {place.id, {}};
      }
      Reading good;
      good.role = wanted.role;
      good.pair = wanted.pair;
      good.found = wanted.role == Role::known_before || wanted.role == Role::known_after
                       ? Found::source_good
                   : wanted.role == Role::earth_shown ? Found::earth_good
                                                      : Found::nil;
      series.readings.push_back(good);
    }
  }

  void prove_supply(const Place& supply) {
    if (supply_dead(*s_, now_, policy_)) {
      return;
    }
    if (!ask_->machine.supply_open) {
      add(TodoKind::open_way);
    }
    if (s_->power == Power::supply_dead) {
      // The proof is too old: the whole series again.
      State again = *s_;
      again.series = {};
      Guide fresh(again, *ask_, now_, *law_);
      fresh.read(supply);
      for (Todo& todo : fresh.out_) {
        out_.push_back(std::move(todo));
      }
      return;
    }
    read(supply);
  }

  void prove_groups() {
    for (const GroupAsked& asked : ask_->demand.groups) {
      const GroupProof* group = s_->group(asked.place.id);
      const bool discharged = group != nullptr && group->discharged.holds();
      if (asked.charge && !discharged) {
        out_.push_back(todo_of(TodoKind::discharge, *s_));
        out_.back().place = asked.place;
      }
      if (!group_dead(*s_, asked.place.id, now_, policy_)) {
        read(asked.place);
      }
    }
  }

  /// Locks off by their owners, the last look, the power.
  void unlock() {
    for (const Lock& lock : s_->locks) {
      add(TodoKind::lock_off);
      out_.back().lock = lock.id;
      out_.back().owner = lock.owner;
      if (lock.owner != s_->worker) {
        out_.back().sentence = "Let its owner take this lock off.";
      }
    }
    if (s_->locks.empty() && is_off(*s_)) {
      add(TodoKind::lock_off);
      out_.back().sentence = s_->means == Means::plug_out ? "Take the plug to its outlet."
                                                          : "Go to the isolating means.";
    }
    std::vector<std::int64_t> stands_on;
    const bool off = s_->locks.empty() && s_->power == Power::live;
    if (!off || !s_->looked.holds() ||
        !holds(Guard::look_in_time, *s_, *ask_, now_, policy_, stands_on)) {
      add(TodoKind::look_clear);
    }
    add(TodoKind::power_on);
  }

  void rest(const Verdict& verdict) {
    if (refused_for(verdict, "neutral-not-read")) {
      add(TodoKind::read_neutral);
    }
    if (refused_for(verdict, "water-not-relieved")) {
      add(TodoKind::relieve);
    }
    if (refused_for(verdict, "water-not-watched")) {
      add(TodoKind::watch);
    }
    if (refused_for(verdict, "water-off")) {
      add(TodoKind::water_static);
    }
    if (refused_for(verdict, "not-cooled")) {
      add(TodoKind::cool);
      out_.back().place.id = ask_->demand.place;
    }
    if (refused_for(verdict, "not-secured")) {
      add(TodoKind::secure);
      out_.back().place.id = ask_->demand.position;
    }
    if (refused_for(verdict, "helper-missing")) {
      add(TodoKind::helper);
    }
    steady(verdict);
  }

  /// The open door of a loose machine, for one step: the last thing before the act.
  void steady(const Verdict& verdict) {
    if (refused_for(verdict, "would-tip")) {
      add(TodoKind::prop);
    }
  }

 private:
  /// More time has passed since the tester was tried than one series may take.
  [[nodiscard]] bool late(const Series& series, const Place& place) const {
    if (series.place != place.id || series.readings.empty()) {
      return false;
    }
    Wanted wanted;
    const Reading& first = series.readings.front();
    const std::int64_t age = std::max(now_.utc_ms - first.at.utc_ms, now_.mono_ms - first.mono_ms);
    return next_of(series, place, wanted) && wanted.role != Role::known_before &&
           age > std::int64_t{policy_.prove_seconds} * 1000;
  }

  const State* s_;
  const Ask* ask_;
  Now now_;
  const Law* law_;
  Policy policy_;
  std::vector<Todo> out_;
};

bool wants_hands(Act act) { return hands_in(act) || act == Act::reading; }

/// Acts that stay in front of the proof. A hand goes into the tub of a machine that tingled, tripped
/// or leaked only behind it.
bool before_proof(const State& state, Act act) {
  if (act == Act::reach_tub && (state.frame_first || state.frame_live)) {
    return false;
  }
  return act == Act::reach_tub || act == Act::cover || act == Act::move_out ||
         act == Act::relieve_outside || act == Act::reading;
}

}  // namespace

std::vector<Todo> make_safe(const State& state, const Ask& ask, Now now, const Law& law,
                            const Place& supply) {
  const Verdict verdict = permit(state, ask, now, law);
  if (verdict.allowed) {
    return {};
  }
  Guide guide(state, ask, now, law);
  if (!guide.settle()) {
    return guide.take();
  }
  if (refused_for(verdict, "not-prepared") || refused_for(verdict, "energy-not-listed")) {
    guide.add(TodoKind::prepare);
  }
  const bool touches = refused_for(verdict, "frame-not-read");
  if (touches || (wants_hands(ask.demand.act) && guide.frame_owed() && !state.frame_live)) {
    guide.add(TodoKind::read_frame);
  }
  if (!wants_hands(ask.demand.act)) {
    guide.steady(verdict);
    return guide.take();
  }
  if (refused_for(verdict, "control-lost")) {
    guide.add(TodoKind::hold);
  }
  guide.hold_all();
  // What lies cannot be read: it is stood up first, held.
  const bool stands_up = ask.demand.act == Act::lay_down && !ask.machine.upright;
  if (!before_proof(state, ask.demand.act) && !stands_up) {
    guide.prove_supply(supply);
    guide.prove_groups();
  }
  guide.rest(verdict);
  return guide.take();
}

std::vector<Todo> put_back(const State& state, bool power, bool water, const Ask& ask, Now now,
                           const Law& law, const Place& supply) {
  const bool power_due = power && state.power != Power::on;
  const bool water_due = water && state.water != Water::run;
  Guide guide(state, ask, now, law);
  if ((!power_due && !water_due) || !guide.settle()) {
    return guide.take();
  }
  if (!state.prepared.holds()) {
    guide.add(TodoKind::prepare);
  }
  if (power_due && state.device_opened) {
    guide.hold_all();
    guide.prove_supply(supply);
  }
  if (!state.inspected.holds()) {
    guide.add(TodoKind::inspect);
  }
  if (!state.warned.holds()) {
    guide.add(TodoKind::warn);
  }
  if (water_due) {
    guide.add(TodoKind::water_on);
  }
  if (power_due) {
    guide.unlock();
  }
  return guide.take();
}

std::vector<Todo> wind_up(const State& state, Ending ending, const Ask& ask, Now now,
                          const Law& law, const Place& supply) {
  Guide guide(state, ask, now, law);
  if (state.ending != Ending::none || ending == Ending::none || !guide.settle()) {
    return guide.take();
  }
  if (!state.prepared.holds()) {
    guide.add(TodoKind::prepare);
  }
  const bool serve = ending == Ending::repaired || ending == Ending::no_fault;
  if (serve) {
    std::vector<Todo> out = guide.take();
    const bool shut = state.water != Water::run && state.water != Water::open;
    if (is_off(state) || shut || !state.locks.empty() || state.device_opened) {
      for (Todo& todo : put_back(state, true, true, ask, now, law, supply)) {
        out.push_back(std::move(todo));
      }
    } else if (state.last_hands_in.holds() && !state.inspected.holds()) {
      out.push_back(todo_of(TodoKind::inspect, state));
    }
    out.push_back(todo_of(TodoKind::end, state));
    return out;
  }
  const bool locked = is_held(state) && needs_tag(state.control);
  if (!locked && state.power != Power::isolated) {
    if (!state.stopped.holds()) {
      guide.add(TodoKind::stop);
    }
    guide.add(TodoKind::isolate);
  }
  if (!is_shut(state)) {
    guide.add(TodoKind::shut_water);
  }
  if (!locked) {
    guide.add(TodoKind::hold);
  } else if (!state.tagged.holds()) {
    guide.add(TodoKind::tag);
  }
  if (!ask.machine.nothing_open && !state.barred.holds()) {
    guide.add(TodoKind::bar_openings);
  }
  guide.add(TodoKind::end);
  return guide.take();
}

}  // namespace kp::safety
