#pragma once
// One who stands beside the technician at a small machine and sees only what was accepted. It knows
// neither rows nor guards nor what the program derives. By the order of safety, sections 1 and 2.

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "decide/places.hpp"

namespace kp::test {

struct Eye {
  static constexpr std::int64_t kNever = -1;
  static constexpr std::int64_t kFourHours = 4 * 3'600'000;

  Site site = Site::fixed;
  std::int64_t now = 0;
  // The machine.
  std::set<std::string> loose, away;
  std::string position = "in-place";
  std::string secured;
  bool propped = false;
  int people = 1;
  bool helped = false;
  // Electricity.
  std::string worker = "Ana";
  std::string by;                  ///< whose word the record is
  bool listed = false, stopped = false, frame_asked = false, frame_bad = false, frame_nil = false;
  bool on = false, parted = false, held = false, by_hand = false, tagged = false, tried = false;
  bool measured = false;           ///< no lock fits: a tag, and one more measure of equal worth
  safety::Means means = safety::Means::word_of_another;
  std::map<std::string, std::string> locks;   ///< that hang, and whose each is
  std::string holds;               ///< the lock that keeps this isolation
  std::int64_t held_at = kNever, walk = 0, dead = kNever;
  std::int64_t neutral = kNever;   ///< a clamp around the neutral of the house read nothing
  std::map<std::string, std::int64_t> dead_at, empty_at;
  std::string series;
  std::vector<std::string> good;   ///< readings of that series
  std::int64_t begun = kNever;
  bool exposed = false, opened = false;
  // Water: 0 open, 1 shut, 2 relieved, 3 holding, 4 standing, 5 running.
  int water = 0;
  std::int64_t relieved = kNever, watched = kNever;
  std::int64_t tight = kNever;     ///< under pressure, power dead, no joint dripped
  std::set<std::string> cold;
  // Giving back.
  int release = 0;                 ///< how many of inspect, warn, locks, look, in this order
  std::int64_t looked = kNever;
  bool inspected = false, worked = false, swapped = false;
  std::set<std::string> proved;
  bool barred = false;             ///< what is open has something in front
  bool gap = false, ended = false, unseen = false;

  [[nodiscard]] bool fresh(std::int64_t at) const { return at != kNever && now - at <= kFourHours; }
  [[nodiscard]] bool supply() const { return held && fresh(dead) && !gap; }
  [[nodiscard]] bool place(const std::string& id) const {
    const auto at = dead_at.find(id);
    return supply() && at != dead_at.end() && fresh(at->second);
  }
  [[nodiscard]] bool empty(const std::string& id) const {
    const auto at = empty_at.find(id);
    return !holds_charge(site, id) || (at != empty_at.end() && fresh(at->second));
  }
  /// Nothing presses in the hose: let out, or tested under pressure and not opened since.
  [[nodiscard]] bool no_pressure() const {
    const bool joined = loose.count("band") + away.count("hose") == 0;
    return ((water == 2 || water == 3) && fresh(relieved)) || (water == 1 && fresh(tight) && joined);
  }
  [[nodiscard]] bool shut() const { return water >= 1 && water <= 3; }
  [[nodiscard]] bool door_open() const { return position == "door-open"; }
  [[nodiscard]] bool upright() const { return position != "on-back"; }
  [[nodiscard]] bool tips() const { return loose.count("fixing") > 0 && door_open(); }
  [[nodiscard]] bool leads_off() const {
    return loose.count("leads") + loose.count("plug") + away.count("load") > 0;
  }
  [[nodiscard]] bool own_lock() const { return owner(holds) == worker; }
  /// Whose that lock is; nobody's where it does not hang.
  [[nodiscard]] std::string owner(const std::string& lock) const {
    const auto at = locks.find(lock);
    return at == locks.end() ? std::string() : at->second;
  }
  [[nodiscard]] bool closed() const {
    return loose.empty() && away.empty() && position == "in-place";
  }

  void again() {
    release = 0;
    looked = kNever;
    inspected = false;
  }
  void live() {
    on = parted = held = by_hand = measured = tagged = tried = stopped = false;
    means = safety::Means::word_of_another;
    held_at = dead = neutral = kNever;
    dead_at.clear();
    empty_at.clear();
    cold.clear();
    series.clear();
    good.clear();
    holds.clear();
  }
  void wet() {
    water = 0;
    relieved = watched = tight = kNever;
  }
  void all_lost() {
    live();
    wet();
    again();
    secured.clear();
    propped = false;
    people = 1;
  }
  void left() {
    if (!held || by_hand || !own_lock()) return all_lost();
    dead_at.clear();
    empty_at.clear();
    neutral = kNever;
    again();
  }
  void hands() {
    worked = true;
    barred = false;
    again();
    after_work();
  }
  void after_work() {
    people = 1;
    propped = false;
  }

  // Each record as it was accepted.
  void operator()(const safety::Prepared& fact) {
    listed = true;
    worker = by;
    frame_asked = fact.frame_first;
  }
  void operator()(const safety::Stopped&) {
    stopped = true;
    on = false;
  }
  void operator()(const safety::FrameRead& fact) {
    frame_nil = fact.shown.none_lit || std::fabs(fact.shown.volts) <= 3;
    frame_bad = !frame_nil;
  }
  void operator()(const safety::Isolated& fact) {
    const bool was = stopped;
    live();
    again();
    stopped = was;
    parted = true;
    means = fact.means;
  }
  void operator()(const safety::HeldFast& fact) {
    held = true;
    held_at = now;
    by_hand = fact.control == safety::Control::in_hand ||
              fact.control == safety::Control::reach_and_sight;
    measured = fact.control == safety::Control::tag_and_measure;
    holds = fact.lock;
    if (!fact.lock.empty()) locks.emplace(fact.lock, worker);
    tagged = tagged || !fact.tag.empty();
  }
  void operator()(const safety::WaterShut&) {
    const std::int64_t tested = tight;
    wet();
    tight = tested;
    water = 1;
  }
  void operator()(const safety::ControlsTried& fact) {
    tried = fact.answer != safety::Answer::answered;
    walk = now - held_at;
    if (!tried) {
      live();
      again();
    }
  }
  void operator()(const safety::ReadingTaken& fact) {
    using safety::Role;
    const double shown = fact.shown.none_lit ? 0 : std::fabs(fact.shown.volts);
    const bool known = fact.role == Role::known_before || fact.role == Role::known_after;
    if (fact.role == Role::known_before) {
      series = fact.place;
      good.clear();
      begun = now;
      if (fact.place == safety::kSupply) {
        dead = neutral = kNever;
        dead_at.clear();
        empty_at.clear();
      }
    }
    if (!known && fact.function != safety::MeterFunction::ohms && !(shown < 50)) {
      live();
      again();
      exposed = true;
      return;
    }
    const bool is_good = known                                ? shown >= fact.band_low && shown <= fact.band_high
                         : fact.role == Role::earth_shown ? shown < 1
                                                              : shown <= 3;
    const std::string key = key_of(fact);
    good.erase(std::remove(good.begin(), good.end(), key), good.end());
    if (!is_good) return;
    good.push_back(key);
    std::vector<std::string> owed = owed_at(site, fact.place);
    std::vector<std::string> have = good;
    std::sort(owed.begin(), owed.end());
    std::sort(have.begin(), have.end());
    if (key != "after" || owed != have) return;
    if (fact.place == safety::kSupply) {
      dead = now;
      exposed = opened = false;
    } else {
      dead_at[fact.place] = now;
    }
  }
  void operator()(const safety::SeriesRestarted&) {
    series.clear();
    good.clear();
  }
  void operator()(const safety::Discharged& fact) { empty_at[fact.place] = now; }
  /// Current in it is that of another line, which is on.
  void operator()(const safety::NeutralRead& fact) {
    if (std::fabs(fact.amperes) < 0.05) {
      neutral = now;
      return;
    }
    live();
    again();
    exposed = true;
  }
  void operator()(const safety::Relieved&) {
    wet();
    water = 2;
    barred = false;
    relieved = now;
    if (site != Site::cord) loose.insert("band");
  }
  void operator()(const safety::Watched& fact) {
    if (!fact.dry) return wet();
    water = 3;
    watched = now;
  }
  void operator()(const safety::Cooled& fact) { cold.insert(fact.place); }
  void operator()(const safety::Secured& fact) { secured = fact.position; }
  void operator()(const safety::Propped& fact) {
    propped = true;
    helped = helped || !fact.helper.empty();
  }
  void operator()(const safety::HelperHere& fact) {
    people = fact.people;
    helped = true;
  }
  void operator()(const safety::Inspected&) {
    inspected = true;
    release = std::max(release, 1);
  }
  void operator()(const safety::Warned&) { release = release == 1 ? 2 : release; }
  void operator()(const safety::LockOff& fact) {
    const bool goes_on = held && release == 0 && !fact.lock.empty() && own_lock() &&
                         fact.lock != holds && owner(fact.lock) != worker;
    locks.erase(fact.lock);
    if (goes_on) return;
    const bool was = stopped && !parted;
    live();
    stopped = was;
    if (release >= 2 && locks.empty()) release = std::max(release, 3);
  }
  void operator()(const safety::LookedClear&) {
    release = 4;
    looked = now;
  }
  void operator()(const safety::PowerOn&) {
    live();
    frame_nil = false;
    on = true;
  }
  void operator()(const safety::WaterOn& fact) {
    wet();
    cold.clear();
    water = fact.still ? 4 : 5;
  }
  void operator()(const safety::TagHung&) { tagged = true; }
  void operator()(const safety::OpeningsBarred&) { barred = true; }
  void operator()(const safety::HandedOn& fact) {
    const bool kept = held && !fact.lock.empty();
    const safety::Means was = means;
    live();
    again();
    worker = fact.person;
    if (!fact.lock.empty()) locks.emplace(fact.lock, worker);
    if (!kept) return wet();
    held = parted = true;
    held_at = now;
    means = was;
    holds = fact.lock;
    if (shut()) water = 1;
    relieved = watched = tight = kNever;
  }
  void operator()(const safety::ForeignLock& fact) { locks.emplace(fact.lock, fact.owner); }
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
      case Doubt::lock_found_off: locks.erase(holds); return all_lost();
      case Doubt::sight_lost:
      case Doubt::left: return left();
      case Doubt::clock_doubted: return all_lost();
      case Doubt::device_opened: live(); again(); opened = true; return;
    }
  }
  void operator()(const job::StepDone& step) {
    using job::Deed;
    if (step.deed == Deed::turn) {
      const bool door = position != "on-back" && step.what != "on-back";
      if (step.what != secured) secured.clear();
      position = step.what;
      return door ? after_work() : hands();
    }
    if (step.deed == Deed::release) loose.insert(step.what);
    if (step.deed == Deed::fasten) loose.erase(step.what);
    if (step.deed == Deed::remove) away.insert(step.what);
    if (step.deed == Deed::set) away.erase(step.what);
    if (step.deed == Deed::release || step.deed == Deed::remove) proved.clear();
    hands();
  }
  void operator()(const job::PartSwapped&) {
    swapped = true;
    proved.clear();
    hands();
  }
  void operator()(const job::TestRecorded& test) {
    static const std::set<std::string> by_hand_in = {"reach", "ohm", "hot", "drip"};
    if (by_hand_in.count(test.test) > 0) return hands();
    after_work();
  }
  void operator()(const job::ProveRecorded& test) {
    proved.insert(test.test);
    if (test.test == "static" && test.left_out.empty() && test.passed && water == 4) tight = now;
    static const std::set<std::string> dead_tests = {"earth-path", "insulation", "static"};
    if (test.left_out.empty() && dead_tests.count(test.test) > 0) return hands();
    after_work();
  }
  void operator()(const job::Resumed& body) { gap = gap || body.asks; }
  void operator()(const job::JobEnded&) { ended = true; }
  void operator()(const job::VisitBegun&) {
    all_lost();
    listed = ended = gap = frame_nil = barred = false;
    unseen = true;
    proved.clear();
  }
  void operator()(const job::UnitAsFound& body) {
    loose = {body.loose.begin(), body.loose.end()};
    away = {body.away.begin(), body.away.end()};
    position = body.position.empty() ? position : body.position;
    unseen = false;
  }
  template <class Other>
  void operator()(const Other&) {}
};

}  // namespace kp::test
