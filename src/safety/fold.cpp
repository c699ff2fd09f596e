// The fold of the facts: total, without judgement.
#include <algorithm>

#include "safety/fold.hpp"

namespace kp::safety {

namespace {

class Fold {
 public:
  Fold(State& state, const Stamp& stamp) : s_(&state), stamp_(&stamp) {}

  void operator()(const Prepared& fact) const {
    const bool differs = s_->prepared.holds() && (s_->connection != fact.connection ||
                                                  s_->system != fact.system);
    if (differs && s_->power != Power::live) {
      lose(Loss::unit_differs);
      drop_release();
    }
    s_->prepared = *stamp_;
    s_->connection = fact.connection;
    s_->system = fact.system;
    s_->volts = fact.volts;
    s_->built_in = fact.built_in;
    s_->frame_first = fact.frame_first;
    s_->energies = fact.energies;
    s_->worker = stamp_->person;
  }
  void operator()(const Stopped& fact) const {
    s_->stopped = *stamp_;
    s_->ran = fact.ran;
    s_->power = s_->power == Power::on ? Power::live : s_->power;
  }
  void operator()(const FrameRead& fact) const {
    s_->frame_nil = fact.found == Found::nil ? *stamp_ : Stamp{};
    s_->frame_live = fact.found != Found::nil;
    if (fact.found == Found::live) miss("frame-live");
  }
  void operator()(const Isolated& fact) const {
    forget_power();
    drop_release();
    s_->power = Power::isolated;
    s_->means = fact.means;
    s_->isolated = *stamp_;
  }
  /// A lock on what is held already takes nothing away from what was proved.
  void operator()(const HeldFast& fact) const {
    if (s_->power != Power::supply_dead) {
      s_->power = Power::held;
    }
    s_->control = fact.control;
    s_->held = *stamp_;
    s_->lock = fact.lock;
    if (!fact.lock.empty()) {
      put_lock(*s_, *stamp_, fact.lock, stamp_->person, false);
    }
    if (!fact.tag.empty()) {
      s_->tag = fact.tag;
      s_->tagged = *stamp_;
    }
  }
  void operator()(const WaterShut& fact) const {
    s_->water = Water::shut;
    s_->valve = fact.valve;
    s_->shut = *stamp_;
    s_->relieved = {};
    s_->holding = {};
  }
  void operator()(const ControlsTried& fact) const {
    switch (fact.answer) {
      case Answer::nothing:
      case Answer::tells_nothing:
        s_->tried = fact.answer == Answer::nothing ? Tried::still : Tried::tells_nothing;
        s_->tried_at = *stamp_;
        s_->walk_ms = age_ms(s_->held, {stamp_->at.utc_ms, stamp_->mono_ms});
        return;
      case Answer::answered:
        miss("controls-answered");
        lose(Loss::controls_answered);
        drop_release();
        return;
    }
  }
  void operator()(const ReadingTaken& fact) const {
    if (fact.role == Role::known_before) {
      s_->series = {fact.place, {}};
      if (fact.place == kSupply && s_->power == Power::supply_dead) {
        s_->power = Power::held;
        s_->supply_dead = {};
        forget_places(*s_);
      }
    }
    s_->series.readings.push_back(Reading{fact.role, {fact.a, fact.b}, fact.shown, fact.function,
                                          fact.tester, fact.found, stamp_->at, stamp_->mono_ms,
                                          stamp_->event});
    if (fact.found == Found::live) {
      return found_live("live-on-isolated");
    }
    if (fact.found == Found::source_out && fact.role == Role::known_after) {
      miss("tester-failed");
      note_loss(Loss::series_failed);
    }
    if (fact.proves && fact.place == kSupply) {
      s_->power = Power::supply_dead;
      s_->supply_dead = *stamp_;
      s_->device_opened = false;
      s_->exposed = false;
    } else if (fact.proves) {
      group_in(*s_, fact.place).dead = *stamp_;
    }
  }
  void operator()(const SeriesRestarted&) const { s_->series = {}; }
  void operator()(const Discharged& fact) const {
    GroupProof& one = group_in(*s_, fact.place);
    one.discharged = *stamp_;
    one.dc_volts = fact.dc_volts;
  }
  void operator()(const NeutralRead& fact) const {
    if (!fact.quiet) return found_live("neutral-carries");
    s_->neutral_quiet = *stamp_;
  }
  void operator()(const Relieved&) const {
    s_->barred = {};   // it opens a joint, or a hand went in
    forget_relief();
    s_->water = Water::relieved;
    s_->relieved = *stamp_;
  }
  void operator()(const Watched& fact) const {
    if (fact.dry) {
      s_->water = Water::holding;
      s_->holding = *stamp_;
      return;
    }
    note_loss(Loss::seeps);
    forget_water();
  }
  void operator()(const Cooled& fact) const {
    s_->cooled = *stamp_;
    s_->celsius = fact.celsius;
    if (std::find(s_->cooled_places.begin(), s_->cooled_places.end(), fact.place) ==
        s_->cooled_places.end()) {
      s_->cooled_places.push_back(fact.place);
    }
  }
  void operator()(const Secured& fact) const {
    s_->secured = *stamp_;
    s_->secured_position = fact.position;
  }
  void operator()(const Propped& fact) const {
    s_->propped = *stamp_;
    name_helper(*s_, fact.helper);
  }
  void operator()(const HelperHere& fact) const {
    s_->people = fact.people;
    name_helper(*s_, fact.name);
  }
  void operator()(const Inspected&) const { s_->inspected = *stamp_; }
  void operator()(const Warned&) const { s_->warned = *stamp_; }
  void operator()(const LockOff& fact) const {
    const bool held_on = stays_held(*s_, fact.lock);
    drop_lock(*s_, fact.lock);
    if (held_on) {
      return;
    }
    // From the first lock off everything counts as live again.
    if (s_->power != Power::live) {
      lose(Loss::lock_off);
    }
    s_->locks_off = *stamp_;
  }
  void operator()(const LookedClear&) const { s_->looked = *stamp_; }
  void operator()(const PowerOn&) const {
    lose(Loss::power_back);
    s_->frame_nil = {};          // what was mended may have joined it to the line
    s_->warned = {};             // once: the next time people are warned and looked for again
    s_->locks_off = {};
    s_->looked = {};
    s_->power = Power::on;
    s_->power_back = *stamp_;
  }
  void operator()(const WaterOn& fact) const {
    note_loss(Loss::water_back);
    forget_water();
    s_->cooled = {};
    s_->cooled_places.clear();
    s_->water = fact.still ? Water::static_on : Water::run;
    s_->water_back = *stamp_;
  }
  void operator()(const TagHung& fact) const {
    s_->tag = fact.tag;
    s_->tagged = *stamp_;
  }
  void operator()(const OpeningsBarred&) const { s_->barred = *stamp_; }
  /// The new lock hangs before the old one goes: the isolation and the shut valve are kept, nothing
  /// else is, also not for somebody who comes back.
  void operator()(const HandedOn& fact) const {
    const bool kept = !fact.lock.empty() && (s_->power == Power::held ||
                                             s_->power == Power::supply_dead);
    const Stamp isolated = s_->isolated;
    const Means means = s_->means;
    lose(Loss::handed_over);
    drop_release();
    s_->worker = fact.person;
    if (!fact.lock.empty()) {
      put_lock(*s_, *stamp_, fact.lock, fact.person, false);
    }
    if (kept) {
      s_->power = Power::held;
      s_->means = means;
      s_->isolated = isolated;
      s_->control = Control::locked;
      s_->lock = fact.lock;
      s_->held = *stamp_;
      s_->held.person = fact.person;
      forget_relief();
    } else {
      forget_water();
    }
  }
  void operator()(const Doubted& fact) const { doubt(fact.what); }
  void operator()(const ForeignLock& fact) const {
    put_lock(*s_, *stamp_, fact.lock, fact.owner, true);
  }
  void operator()(const GapAnswered& fact) const {
    s_->gap_open = false;
    s_->gap_ms = 0;
    switch (fact.stayed) {
      case Stayed::here:
        return;
      case Stayed::left_locked:
        return was_left(Loss::gap);
      case Stayed::unknown:
        return lose_all(Loss::gap);
    }
  }

  void operator()(const Fact& fact) const { std::visit(*this, fact); }
  void operator()(const Worked& worked) const {
    if (hands_in(worked.act)) {
      s_->last_hands_in = *stamp_;
      s_->barred = {};
      drop_release();
    }
    s_->tight = worked.dry && s_->water == Water::static_on ? *stamp_ : s_->tight;
    s_->people = 1;
    s_->propped = {};
    if (worked.turned && worked.position != s_->secured_position) {
      s_->secured = {};
      s_->secured_position.clear();
    }
  }
  void operator()(const Away& away) const {
    if (away.asks) {
      s_->gap_open = true;
      s_->gap_ms = away.ms;
      s_->gap_at = *stamp_;
    }
  }
  void operator()(const VisitEnded& end) const {
    s_->ending = end.ending;
    s_->ended = *stamp_;
  }
  void operator()(const VisitReopened&) const {
    lose_all(Loss::new_visit);
    s_->prepared = {};
    s_->frame_nil = {};
    s_->barred = {};   // whether the caps are still on is to be seen
    s_->energies = 0;
    s_->worker = stamp_->person;
    s_->ending = Ending::none;
    s_->ended = {};
    s_->gap_open = false;
  }

  void lose_all(Loss loss) const {
    lose(loss);
    forget_water();
    drop_release();
    s_->secured = {};
    s_->secured_position.clear();
    s_->people = 1;
    s_->propped = {};
  }

 private:
  void miss(const char* code) const { s_->near_misses.push_back({code, *stamp_}); }
  void note_loss(Loss loss) const {
    if (s_->isolated.holds() || s_->shut.holds()) {
      s_->lost = loss;
      s_->lost_at = *stamp_;
    }
  }
  /// Nothing is known of the power any more. Locks that hang, hang on.
  void forget_power() const {
    s_->power = Power::live;
    s_->series = {};   // what was read before counts for nothing after
    s_->tried = Tried::no;
    s_->tried_at = {};
    s_->supply_dead = {};
    forget_places(*s_);
    s_->isolated = {};
    s_->held = {};
    s_->means = Means::word_of_another;
    s_->lock.clear();
    s_->cooled = {};
    s_->cooled_places.clear();
    s_->tagged = {};
    s_->tag.clear();
  }
  void lose(Loss loss) const {
    note_loss(loss);
    forget_power();
    s_->stopped = {};
  }
  void forget_relief() const {
    if (s_->water == Water::relieved || s_->water == Water::holding) {
      s_->water = Water::shut;
    }
    s_->relieved = {};
    s_->holding = {};
    s_->tight = {};
  }
  void forget_water() const {
    forget_relief();
    s_->water = Water::open;
    s_->valve.clear();
    s_->shut = {};
  }
  void drop_release() const {
    s_->inspected = {};
    s_->warned = {};
    s_->locks_off = {};
    s_->looked = {};
  }
  /// One's own lock keeps the isolation; who may have been at the terminals is not known.
  void was_left(Loss loss) const {
    if (!own_lock_holds(*s_)) {
      return lose_all(loss);
    }
    note_loss(loss);
    s_->series = {};   // a series that was whole would leave nothing to read
    forget_places(*s_);
    drop_release();
  }
  void found_live(const char* code) const {
    miss(code);
    const Series evidence = s_->series;
    lose(Loss::meter_says_live);
    drop_release();
    s_->series = evidence;
    s_->exposed = true;
  }
  void doubt(Doubt what) const {
    switch (what) {
      case Doubt::power_found_on:
        miss("power-found-on");
        drop_release();
        return lose(Loss::found_live);
      case Doubt::water_found_on:
        miss("water-found-on");
        drop_release();
        note_loss(Loss::found_wet);
        return forget_water();
      case Doubt::lock_found_off:
        miss("lock-found-off");
        drop_lock(*s_, s_->lock);
        return lose_all(Loss::lock_found_off);
      case Doubt::sight_lost:
      case Doubt::left:
        return was_left(Loss::left);
      case Doubt::clock_doubted:
        return lose_all(Loss::clock_doubt);
      case Doubt::device_opened:
        lose(Loss::device_opened);
        drop_release();
        s_->device_opened = true;
        return;
    }
  }

  State* s_;
  const Stamp* stamp_;
};

}  // namespace

void apply(State& state, const Change& change, const Stamp& stamp) {
  const Fold fold(state, stamp);
  if (stamp.at.utc_ms < state.newest.utc_ms) {
    fold.lose_all(Loss::clock_doubt);
  }
  std::visit(fold, change);
  state.newest = stamp.at;
  state.newest_event = std::max(state.newest_event, stamp.event);
}

}  // namespace kp::safety
