#pragma once
// What must never be accepted at a small machine: the invariants of the order of safety, 1.7, and what
// its sections 1 and 2 ask of an act. Each looks at what the eye knows before and after the record.

#include <array>
#include <cstdint>
#include <utility>

#include "decide/eye.hpp"

namespace kp::test {

inline constexpr int kInvariants = 11;

/// Looks at one accepted intent; counts how often each invariant had something to say.
class Breach {
 public:
  using Counts = std::array<std::int64_t, kInvariants + 1>;
  Breach(const Eye& before, const Eye& after, const std::string& by, Counts& counts)
      : b_(before), a_(after), by_(by), counts_(counts) {}

  /// Empty where nothing is wrong.
  [[nodiscard]] std::string of(const job::Body& intent) {
    std::visit([this](const auto& one) { (*this)(one); }, intent);
    // I6 is about states: nobody brings it there. A prop holds for the step that it was set for.
    const bool propped = b_.propped || a_.propped;
    // How it was found is no act of anybody's.
    const bool found = std::holds_alternative<job::UnitAsFound>(intent);
    if (!found && !b_.tips() && a_.loose.count("fixing") > 0) {
      say(6, a_.tips() && !propped, "loose, door open, no prop");
    }
    return what_;
  }

  void operator()(const job::StepDone& step) {
    const bool door = step.deed == job::Deed::turn && b_.upright() && step.what != "on-back";
    if (door) return touch();
    ground();
    if (b_.on) say(8, true, "hands in while power is on");
    if (step.deed == job::Deed::turn) return lay(step.what);
    using job::Deed;
    const bool opens = step.deed == Deed::release || step.deed == Deed::remove;
    static const std::set<std::string> covers = {"toe-screws", "toe", "lid-screws", "lid"};
    if (opens && covers.count(step.what) > 0 && !b_.supply()) return approach(step.what);
    // A cover to where the water is relieved, after the proof: it is treated as one in approach.
    const bool to_relieve = opens && b_.water == 1 && step.what.rfind("toe", 0) == 0;
    if (!to_relieve) hands(place_of_hands(step.what));
    law(!b_.no_pressure() && !to_relieve, "W: hands in with pressure in the hose");
    if (step.deed == Deed::release && step.what == "band") {
      law(b_.water != 3 || !b_.fresh(b_.watched), "W: a wet joint opened, valve not watched");
    }
    hot(step.what);
    if (step.what == "leads") nine();
    stable();
  }
  void operator()(const job::PartSwapped& swap) {
    ground();
    if (b_.on) say(8, true, "hands in while power is on");
    const bool out = b_.away.count(swap.part) > 0;
    law(!out && swap.mended.empty(), "swapped while it is in");
    law(!out && b_.away.count("toe") == 0, "mended behind a cover");
    hands(out ? "" : kLoadPlace);
    if (!out) hot(swap.part);
    law(!b_.no_pressure(), "W: hands in with pressure in the hose");
  }
  void operator()(const job::TestRecorded& test) {
    const std::string& id = test.test;
    if (id == "look-out") return law(b_.ended, "after the end");
    if (id == "look-in") return stable();
    ground();
    if (id == "reach") return reach();
    if (id == "ohm" || id == "hot" || id == "drip") {
      if (b_.on) say(8, true, "hands in while power is on");
      law(b_.away.count("toe") == 0, "measured behind a cover");
      hands(id == "drip" ? "" : kLoadPlace);
      if (id == "drip") say(5, b_.water != 4 || joint_open(), "a static test with an open joint");
      if (id == "hot") law(!b_.shut() || !b_.upright(), "hot reading with the valve open");
      if (id == "ohm") {
        law(!b_.no_pressure(), "W: hands in with pressure in the hose");
        hot("load");
      }
      return stable();
    }
    running(id != "runs");
    law(id == "unreasoned", "live work without a reason");
  }
  void operator()(const job::ProveRecorded& test) {
    if (!test.left_out.empty()) return;
    if (test.test == "feel") return touch();
    ground();
    if (test.test == "run") {
      running(false);
      return law(b_.water != 5 || !b_.on, "run with something off");
    }
    if (b_.on) say(8, true, "hands in while power is on");
    hands(kLoadPlace);
    if (test.test == "static") say(5, b_.water != 4 || joint_open(), "a static test, open joint");
    if (test.test == "insulation") {
      const bool plug = b_.parted && b_.means == safety::Means::plug_out;
      say(10, b_.loose.count("leads") == 0 && !plug, "insulation while joined to the supply");
      law(!b_.shut(), "W: valve open");
    }
    if (test.test == "earth-path") {
      law(!b_.no_pressure(), "W: hands in with pressure in the hose");
    }
  }
  void operator()(const safety::Prepared&) {
    end_and_gap();
    law(b_.listed && by_ != b_.worker, "147(f)(4): another person");
  }
  void operator()(const safety::Stopped&) { end_and_gap(); }
  void operator()(const safety::FrameRead& fact) {
    ground();
    law(fact.tester.empty() || fact.function == safety::MeterFunction::ohms, "frame not read");
  }
  void operator()(const safety::Isolated& fact) {
    ground();
    law(!b_.stopped, "147(d)(2): isolated while it runs");
    law(b_.on, "isolated while power is on");
    law(!parts_all(b_.site, fact.means), "333(b)(2)(ii)(B): no isolating means");
    law(b_.frame_bad && fact.means == safety::Means::plug_out, "past a live frame to the plug");
  }
  void operator()(const safety::HeldFast& fact) {
    using safety::Control;
    ground();
    law(!b_.parted, "held before it was parted");
    const bool hand = fact.control == Control::in_hand || fact.control == Control::reach_and_sight;
    const bool half = fact.control == Control::sight_only || fact.control == Control::reach_only;
    say(7, half || (hand && (b_.means != safety::Means::plug_out || b_.site != Site::cord ||
                             b_.helped || b_.people > 1)),
        "control by sight");
    const bool tag_alone = fact.control == Control::tag_and_measure;
    law(tag_alone && (fact.measure.empty() || b_.means == safety::Means::plug_out), "a tag alone");
    law(fact.control == Control::locked && fact.lock.empty(), "147(d)(4): no lock");
    law(!hand && fact.tag.empty(), "333(b)(2)(iii): no tag");
    law(b_.locks.count(fact.lock) > 0 && b_.owner(fact.lock) != by_, "the lock of another");
  }
  void operator()(const safety::WaterShut&) { ground(); }
  void operator()(const safety::ControlsTried& fact) {
    ground();
    law(!b_.held, "tried before it was held");
    // With the door open nothing happens on a live machine either: that it tells nothing may be said.
    law(b_.door_open() && fact.answer == safety::Answer::nothing, "tried with the door open");
    by_hand_alone();
  }
  void operator()(const safety::ReadingTaken& fact) {
    ground();
    law(!b_.held || !b_.tried || !b_.shut(), "read before hold, try and shut valve");
    law(!b_.upright(), "read while it lies");
    const bool box = fact.place == kBoxPlace || (fact.place == safety::kSupply && b_.site != Site::cord);
    law(box && b_.away.count("lid") == 0, "read behind a cover");
    law(fact.place == kLoadPlace && b_.away.count("toe") == 0, "read behind a cover");
    law(fact.place != safety::kSupply && !b_.supply(), "a place read before the supply");
    law(fact.tester.empty(), "no tester");
    by_hand_alone();
    reading(fact);
  }
  void operator()(const safety::Discharged& fact) {
    ground();
    law(!b_.supply(), "discharged before the proof");
    law(fact.place == kLoadPlace && b_.away.count("toe") == 0, "discharged behind a cover");
    law(fact.place == kBoxPlace && b_.away.count("lid") == 0, "discharged behind a cover");
    law(fact.tester.empty() || !(std::fabs(fact.dc_volts) < 5), "charge is left");
  }
  void operator()(const safety::NeutralRead& fact) {
    ground();
    law(!b_.supply() || !b_.place(kBoxPlace), "clamped in front of the proof");
    law(b_.away.count("lid") == 0, "clamped behind a cover");
    law(!b_.upright(), "clamped while it lies");
    law(fact.tester.empty() || fact.function != safety::MeterFunction::amperes ||
            !std::isfinite(fact.amperes),
        "no clamp");
    by_hand_alone();
  }
  void operator()(const safety::Relieved&) {
    ground();
    hands(kLoadPlace);
    law(b_.away.count("toe") == 0, "relieved behind a cover");
    law(!b_.shut(), "W: relieved with the valve open");
    hot("load");
    stable();
  }
  void operator()(const safety::Watched&) {
    ground();
    law(b_.water != 2 || b_.now - b_.relieved < 120'000, "watched too short");
  }
  void operator()(const safety::Cooled& fact) {
    ground();
    law(!(fact.celsius < 43 && fact.celsius > -40), "hot");
  }
  void operator()(const safety::Propped& fact) {
    ground();
    law(fact.how == safety::Support::person && fact.helper.empty(), "nobody props");
  }
  void operator()(const safety::HelperHere& fact) {
    ground();
    law(fact.name.empty() || fact.people < 2 || fact.people > 6, "a helper without name");
  }
  void operator()(const safety::Inspected&) {
    ground();
    whole("inspected");
  }
  void operator()(const safety::Warned&) {
    ground();
    law(b_.release < 1, "warned before the look");
  }
  void operator()(const safety::LockOff& fact) {
    end_and_gap();
    law(!fact.lock.empty() && b_.locks.count(fact.lock) == 0, "no such lock");
    law(fact.lock.empty() && !b_.locks.empty(), "a plug, though locks hang");
    law(by_ != (fact.lock.empty() ? b_.worker : b_.owner(fact.lock)), "147(e)(3): not its owner");
    const bool anothers = b_.held && b_.own_lock() && fact.lock != b_.holds && !fact.lock.empty() &&
                          b_.owner(fact.lock) != b_.worker && b_.release == 0;
    law(!anothers && b_.release < 2, "333(b)(2)(v): lock off before the warning");
  }
  void operator()(const safety::LookedClear&) {
    ground();
    law(b_.release < 2 || !b_.locks.empty() || b_.held || b_.parted, "looked before the locks");
  }
  void operator()(const safety::PowerOn&) {
    ground();
    const std::int64_t most = std::clamp<std::int64_t>(b_.walk, 0, 300'000) + 60'000;
    say(3, b_.release != 4 || !b_.locks.empty() || b_.parted || b_.now - b_.looked > most,
        "power out of the order of release");
    say(11, b_.opened, "a second try at an opened device");
    law(b_.on, "power put on twice");
    whole("power");
    stable();
  }
  void operator()(const safety::WaterOn& fact) {
    ground();
    say(5, joint_open(), "water on an open joint");
    law(fact.still ? !b_.supply() : b_.release < 2, "water on too early");
    law(fact.still && b_.loose.count("plug") > 0, "W: a lead off beside a joint under pressure");
  }
  void operator()(const safety::TagHung& fact) {
    ground();
    law(!b_.held || fact.tag.empty(), "a tag on nothing");
  }
  void operator()(const safety::OpeningsBarred&) { ground(), law(!b_.held, "barred, and not held"); }
  void operator()(const safety::HandedOn& fact) {
    end_and_gap();
    law(fact.person.empty(), "147(f)(4): handed to nobody");
    // Where no lock holds it, nothing is handed over: it is live for the new one.
    law(b_.held && !b_.holds.empty() && fact.lock.empty(), "147(f)(4): no new lock");
    law(b_.locks.count(fact.lock) > 0 && b_.owner(fact.lock) != fact.person, "lock of another");
  }
  void operator()(const job::JobEnded& end) {
    ground();
    const bool serves = end.outcome == job::Outcome::repaired ||
                        end.outcome == job::Outcome::no_fault_found;
    law(!b_.upright(), "G: ended lying");
    stable();
    if (!serves) {
      // Where no lock fits, the tag and its measure stay (1.4).
      const bool stays = b_.held && !b_.by_hand && (b_.own_lock() || b_.measured);
      law(!stays || !b_.tagged, "147(d)(4): left without lock, tag");
      law(b_.tips(), "I6: left with the door of a loose machine open");
      law(!(b_.loose.empty() && b_.away.empty()) && !b_.barred, "left open, and nothing in front");
      return law(!b_.shut(), "left with the water on");
    }
    law(!b_.closed(), "handed back open");
    law(b_.locks.size() > 0 || b_.parted, "handed back isolated");
    law(b_.shut() || b_.water == 4, "handed back with the valve shut");
    law(b_.opened, "334(b)(2): handed back with an opened device");
    law(b_.worked && !b_.inspected, "147(e)(1): handed back without a look");
    law(b_.proved.size() < 5, "handed back without its tests");
  }
  template <class Other>
  void operator()(const Other&) {}

 private:
  void say(int invariant, bool broken, const char* what) {
    ++counts_[to_size(invariant)];
    if (broken && what_.empty()) what_ = cat("I", invariant, ": ", what);
  }
  void law(bool broken, const char* what) {
    if (broken && what_.empty()) what_ = what;
  }
  void end_and_gap() {
    law(b_.ended, "after the end");
    law(b_.gap, "in a gap");
  }
  void ground() {
    end_and_gap();
    law(!b_.listed, "147(d)(1): before anything was listed");
    law(by_ != b_.worker, "147(f)(4): another person");
  }
  [[nodiscard]] bool blind() const { return b_.frame_bad || (b_.frame_asked && !b_.frame_nil); }
  [[nodiscard]] bool joint_open() const {
    return b_.loose.count("band") > 0 || b_.away.count("hose") > 0;
  }
  void stable() { law(b_.tips() && !b_.propped, "I6: loose, door open, no prop"); }
  void by_hand_alone() {
    if (!b_.by_hand) return;
    say(7, b_.people > 1 || b_.helped, "a plug in the hand, and two people");
  }
  void hot(const std::string& what) {
    // The heater, its joints and what stands behind the same cover.
    const bool near = b_.site == Site::split && place_of_hands(what) == kLoadPlace;
    law(near && b_.cold.count(kLoadPlace) == 0 && b_.away.count("load") == 0, "T: a hot part");
  }
  void hands(const std::string& place) {
    say(1, !b_.supply(), "hands in without a proof of the supply");
    if (!place.empty()) {
      say(1, !b_.place(place), "hands at a place that was not read");
      say(1, !b_.empty(place), "hands at a charge");
    }
    by_hand_alone();
  }
  void approach(const std::string& what) {
    // The pins of a pulled plug lie open: no cover of that machine leads to its proof.
    say(2, b_.site == Site::cord || b_.away.count(what) > 0, "more than a cover on the way");
    say(2, !b_.held || !b_.tried || !b_.shut(), "approach without hold, try and shut valve");
    say(2, !b_.upright(), "tilted in approach");
    law(b_.site == Site::fixed && b_.now - b_.held_at < 60'000, "Q: the charge did not bleed off");
    say(2, b_.exposed && b_.away.count("lid") > 0, "a cover off a machine found live");
    law(blind(), "E: touched before the frame was read nil");
    by_hand_alone();
    stable();
  }
  /// Door, keys and panel faces: nothing is asked but that the metal is not live.
  void touch() {
    law(b_.ended, "after the end");
    law(blind() && !b_.supply(), "E: touched before the frame was read nil");
  }
  void lay(const std::string& to) {
    hands("");
    law(b_.water < 2 || b_.water > 3, "W: laid down with water in it");
    law(b_.door_open(), "laid down with the door open");
    law(b_.people < 2, "a person is missing");
    law(b_.secured != to, "a load that is not secured");
    if (to == "on-back") say(2, b_.dead == Eye::kNever, "tilted in approach");
  }
  /// On a cord nothing shares the neutral.
  void nine() {
    if (b_.site == Site::cord) return;
    say(9, !b_.held || !parts_all(b_.site, b_.means), "a neutral parted, its line not held");
    say(9, !b_.fresh(b_.neutral) || b_.gap, "a neutral parted that may carry another line's current");
  }
  void reach() {
    law(!b_.held || !b_.tried || !b_.shut(), "a reach without hold, try and shut valve");
    law((b_.frame_asked || b_.frame_bad) && !b_.supply(), "E: a reach where it tingled, not proved");
    law(!b_.door_open(), "reached through a shut door");
    stable();
  }
  /// Power is or comes on: which cover is off, and which lead or joint.
  void whole(const char* when) {
    // The hung reading of these machines wants the toe panel away and no more; it belongs to Find.
    std::set<std::string> loose = b_.loose;
    std::set<std::string> away = b_.away;
    loose.erase("toe-screws");
    away.erase("toe");
    say(8, !away.empty() || loose.count("lid-screws") > 0, when);
    say(5, joint_open(), "power with an open joint");
    law(b_.leads_off() || loose.count("earth") > 0, "333(b)(2)(v)(A): a lead or earth is off");
    law(b_.swapped && b_.proved.size() < 3, "333(b)(2)(v)(A): tests are due");
    law(b_.swapped && b_.away.count("toe") > 0, "I8: power with the panel off, after the work");
    law(!b_.upright() && std::string(when) == "power", "G: power while it lies");
  }
  void running(bool hung) {
    law(!b_.on && (hung || b_.water != 5), "run with nothing on");
    say(8, b_.away.count("lid") > 0 || (!hung && b_.away.count("toe") > 0), "on with a cover off");
    if (b_.water == 5) say(5, joint_open(), "water runs on an open joint");
    law(b_.leads_off(), "I8: a lead off");
    stable();
  }
  void reading(const safety::ReadingTaken& fact) {
    using safety::Role;
    const bool known = fact.role == Role::known_before || fact.role == Role::known_after;
    law(known && fact.band_low < 50, "a known source that may be dead");
    const bool dc = fact.role == Role::pair_dc;
    const bool ohms = fact.function == safety::MeterFunction::ohms;
    law(fact.function == safety::MeterFunction::non_contact, "a tester that proves nothing");
    law(ohms && fact.role != Role::earth_shown, "volts in ohms");
    law(dc && fact.function == safety::MeterFunction::volts_ac, "direct voltage not read");
    if (fact.role == Role::known_before) return;
    law(b_.series != fact.place || b_.good.empty(), "a reading without its known source");
    law(fact.tester != "T1", "another tester");
    law(b_.begun != Eye::kNever && b_.now - b_.begun > 600'000, "too late");
    const std::vector<std::string> owed = owed_at(b_.site, fact.place);
    const std::string key = key_of(fact);
    const auto at = std::find(owed.begin(), owed.end(), key);
    law(at == owed.end(), "no such reading");
    law(!std::all_of(owed.begin(), at,
                     [&](const std::string& one) {
                       return std::find(b_.good.begin(), b_.good.end(), one) != b_.good.end();
                     }),
        "out of order");
  }

  const Eye& b_;
  const Eye& a_;
  const std::string& by_;
  Counts& counts_;
  std::string what_;
};

}  // namespace kp::test
