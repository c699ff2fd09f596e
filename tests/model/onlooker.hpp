#pragma once
// One who stands beside the technician and sees only what was accepted and what the small machine
// has open. It knows neither rows nor guards. What it keeps: the history since electricity and water
// were last on, by the order of safety, sections 1 and 2.

#include <algorithm>
#include <cmath>

#include "model/toy.hpp"

namespace kp::model {

/// How old something is that was shown: never shown, now, minutes ago, hours ago.
enum Age : unsigned { never, fresh, minutes, hours };
inline bool believed(Age age) { return age == fresh || age == minutes; }

struct Onlooker {
  Site site = Site::fixed;
  bool listed = false, stopped = false;
  std::string worker = "Ana";
  Age frame = never;
  bool frame_live = false, frame_asked = false;
  // Electricity.
  bool on = false, parted = false, plug = false, held = false, by_hand = false, tagged = false;
  bool lock7 = false, lock8 = false, lock9 = false, holds8 = false;
  bool tried = false;
  Age held_for = never;
  std::string reading_at;
  unsigned read = 0;               ///< which readings of that series were good, one bit each
  bool started = false, late = false;
  Age dead = never;
  Age dead1 = never, dead2 = never, uncharged1 = never;
  Age neutral = never;             ///< a clamp around the neutral of the house read nothing
  bool exposed = false, opened = false;
  // Water: 0 open, 1 shut, 2 relieved, 3 holding, 4 static, 5 running.
  unsigned water = 0;
  Age relieved = never, watched = never, tight = never;
  bool cool = false, secured = false, propped = false;
  int people = 1;
  unsigned release = 0;            ///< how many of inspect, warn, locks, look, in this order
  bool look_late = false;
  bool worked = false, inspected = false;
  bool barred = false;             ///< what is open has something in front
  bool gap = false, ended = false;

  [[nodiscard]] bool hangs(char lock) const {
    return lock == '7' ? lock7 : lock == '9' ? lock9 : true;
  }
  [[nodiscard]] bool locks() const { return lock7 || lock8 || lock9; }
  [[nodiscard]] bool supply() const { return held && believed(dead) && !gap; }
  [[nodiscard]] bool off() const { return parted || held; }
  [[nodiscard]] bool shut() const { return water >= 1 && water <= 3; }
  [[nodiscard]] bool flows() const { return water >= 4; }
  /// The frame was read live, or not at all where the complaint asks for it.
  [[nodiscard]] bool touches_blind() const {
    return frame_live || (frame_asked && frame == never);
  }
  [[nodiscard]] bool own_lock() const { return holds8 ? lock8 : lock7; }

  /// What is not known any more when electricity is live again; locks and covers stay as they are.
  void live() {
    on = parted = plug = held = by_hand = tagged = tried = cool = stopped = false;
    held_for = never;
    dead = dead1 = dead2 = uncharged1 = neutral = never;
  }
  void wet() {
    water = 0;
    relieved = watched = tight = never;
  }
  void again() {
    release = 0;
    look_late = inspected = false;
  }
  void all_lost() {
    live();
    wet();
    again();
    secured = propped = false;
    people = 1;
  }
  void left() {
    if (!(held && own_lock() && !by_hand)) {
      return all_lost();
    }
    dead1 = dead2 = uncharged1 = neutral = never;
    again();
  }
  void grow(int ms) {
    const Age to = ms >= kFiveHours ? hours : minutes;
    for (Age* one : {&held_for, &dead, &dead1, &dead2, &uncharged1, &neutral, &relieved, &watched,
                     &tight}) {
      *one = *one == never ? never : std::max(*one, to);
    }
    late = late || started;
    look_late = look_late || release == 4;
  }

  // Each fact as it was accepted.
  void operator()(const safety::Prepared& fact) {
    listed = true;
    frame_asked = fact.frame_first;
  }
  void operator()(const safety::Stopped&) { stopped = true; on = false; }
  void operator()(const safety::FrameRead& fact) {
    const bool nil = fact.shown.none_lit || std::fabs(fact.shown.volts) <= 3;
    frame = nil ? fresh : never;
    frame_live = !nil;
  }
  void operator()(const safety::Isolated& fact) {
    const bool was_stopped = stopped;
    live();
    again();
    stopped = was_stopped;
    parted = true;
    plug = fact.means == safety::Means::plug_out;
  }
  void operator()(const safety::HeldFast& fact) {
    held = true;
    held_for = fresh;
    by_hand = fact.control == safety::Control::in_hand;
    lock(fact.lock, true);
    holds8 = fact.lock == "8";
    tagged = tagged || !fact.tag.empty();
  }
  void lock(const std::string& id, bool hangs) {
    (id == "7" ? lock7 : id == "8" ? lock8 : lock9) = id.empty() ? lock9 : hangs;
  }
  void operator()(const safety::WaterShut&) {
    const Age tested = tight;
    wet();
    water = 1;
    tight = tested;
  }
  void operator()(const safety::ControlsTried& fact) {
    tried = fact.answer != safety::Answer::answered;
    if (!tried) {
      live();
      again();
    }
  }
  void operator()(const safety::ReadingTaken& fact) {
    using safety::Role;
    const double shown = fact.shown.none_lit ? 0 : std::fabs(fact.shown.volts);
    const bool supply_place = fact.place == safety::kSupply;
    const bool known = fact.role == Role::known_before || fact.role == Role::known_after;
    if (fact.role == Role::known_before) {
      reading_at = fact.place;
      read = 0;
      started = true;
      late = false;
      if (supply_place) {
        dead = dead1 = dead2 = uncharged1 = neutral = never;
      }
    }
    if (!known && !(shown < 50)) {
      live();
      again();
      exposed = true;
      return;
    }
    const bool good = known ? shown >= fact.band_low && shown <= fact.band_high
                      : fact.role == Role::earth_shown ? shown < 1 : shown <= 3;
    const unsigned bit = bit_of(fact);
    read = good ? read | bit : known ? 0 : read & ~bit;
    if (fact.role != Role::known_after || !good || read != owed_at(fact.place)) {
      return;
    }
    if (supply_place) {
      dead = fresh;
      exposed = opened = false;
    } else {
      (fact.place == "g1" ? dead1 : dead2) = fresh;
    }
  }
  [[nodiscard]] safety::Place place_of(const std::string& id) const {
    return id == safety::kSupply ? supply_of(site) : group_of(id);
  }
  [[nodiscard]] unsigned bit_of(const safety::ReadingTaken& fact) const {
    using safety::Role;
    if (fact.role == Role::known_before) return 1;
    if (fact.role == Role::known_after) return 2;
    if (fact.role == Role::earth_shown) return 4;
    unsigned bit = fact.role == Role::pair ? 8 : 1024;
    for (const safety::Pair& pair : place_of(fact.place).pairs) {
      if (pair == safety::Pair{fact.a, fact.b}) return bit;
      bit <<= 1U;
    }
    return 0;
  }
  /// Readings at a place: before, earth where it is the house's, every pair, in direct voltage too
  /// where charge can stand, after. n conductors have n(n-1)/2 pairs (value 1).
  [[nodiscard]] unsigned owed_at(const std::string& place) const {
    if (place == "g1") return 3 + 8 + 1024;
    if (place == "g2") return 3 + 8;
    return 3 + (site == Site::cord ? 0 : 4) + (site == Site::split ? 63U : 7U) * 8;
  }
  void operator()(const safety::SeriesRestarted&) {
    started = late = false;
    read = 0;
    reading_at.clear();
  }
  void operator()(const safety::Discharged&) { uncharged1 = fresh; }
  void operator()(const safety::NeutralRead& fact) {
    if (std::fabs(fact.amperes) < 0.05) {
      neutral = fresh;
      return;
    }
    live();
    again();
    exposed = true;
  }
  void operator()(const safety::Relieved&) {
    wet();
    barred = false;
    water = 2;
    relieved = fresh;
  }
  void operator()(const safety::Watched& fact) {
    if (fact.dry) {
      water = 3;
      watched = fresh;
    } else {
      wet();
    }
  }
  void operator()(const safety::Cooled&) { cool = true; }
  void operator()(const safety::Secured&) { secured = true; }
  void operator()(const safety::Propped&) { propped = true; }
  void operator()(const safety::HelperHere& fact) { people = fact.people; }
  void operator()(const safety::Inspected&) { inspected = true; release = std::max(release, 1U); }
  void operator()(const safety::Warned&) { release = release == 1 ? 2 : release; }
  void operator()(const safety::LockOff& fact) {
    const bool goes_on = held && release == 0 && !fact.lock.empty() && own_lock() &&
                         !by_hand && fact.lock != (holds8 ? "8" : "7");
    lock(fact.lock, false);
    if (goes_on) {
      return;
    }
    const bool was_off = off();
    const bool was_stopped = stopped;
    live();
    stopped = was_stopped && !was_off;
  }
  void operator()(const safety::LookedClear&) {
    release = release >= 2 && !locks() && !off() ? 4 : release;
    look_late = false;
  }
  void operator()(const safety::PowerOn&) {
    live();
    frame = never;
    on = true;
    release = std::min(release, 1U);   // once
  }
  void operator()(const safety::WaterOn& fact) { wet(); cool = false; water = fact.still ? 4 : 5; }
  void operator()(const safety::TagHung&) { tagged = true; }
  void operator()(const safety::OpeningsBarred&) { barred = true; }
  void operator()(const safety::HandedOn& fact) {
    const bool kept = held && !fact.lock.empty();
    const bool was_plug = plug;
    live();
    again();
    worker = fact.person;
    if (!fact.lock.empty()) {
      lock(fact.lock, true);
      holds8 = fact.lock == "8";
    }
    if (!kept) {
      return wet();
    }
    held = parted = true;
    held_for = fresh;
    plug = was_plug;
    water = std::min(water, water >= 4 ? water : 1U);
    relieved = watched = tight = never;
  }
  void operator()(const safety::ForeignLock&) { lock9 = true; }
  void operator()(const safety::GapAnswered& fact) {
    gap = false;
    if (fact.stayed == safety::Stayed::left_locked) left();
    if (fact.stayed == safety::Stayed::unknown) all_lost();
  }
  void operator()(const safety::Doubted& fact) {
    using safety::Doubt;
    switch (fact.what) {
      case Doubt::power_found_on: live(); return again();
      case Doubt::water_found_on: wet(); return again();
      case Doubt::lock_found_off:
        if (!by_hand && held) lock(holds8 ? "8" : "7", false);
        return all_lost();
      case Doubt::sight_lost:
      case Doubt::left: return left();
      case Doubt::clock_doubted: return all_lost();
      case Doubt::device_opened: live(); again(); opened = true; return;
    }
  }
  void operator()(const safety::Fact& fact) { std::visit(*this, fact); }
  void operator()(const safety::Worked& work) {
    if (safety::hands_in(work.act)) {
      worked = true;
      barred = false;
      again();
    }
    tight = work.dry && water == 4 ? fresh : tight;
    people = 1;
    propped = false;
    secured = secured && !work.turned;
  }
  void operator()(const safety::Away& away) { gap = gap || away.asks; }
  void operator()(const safety::VisitEnded&) { ended = true; }
  void operator()(const safety::VisitReopened&) {
    all_lost();
    listed = ended = gap = barred = false;
    frame = never;
  }
};

}  // namespace kp::model
