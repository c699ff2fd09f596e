#pragma once
// What must never be accepted, said of what the onlooker knows and what the machine has open: the
// invariants I1 to I11 of the order of safety, 1.7, and what an accepted word must hold (section 2).

#include <string>

#include "model/onlooker.hpp"

namespace kp::model {

struct Sight {
  const Move& move;
  const Toy& before;
  const Toy& after;
  const Onlooker& seen;
  std::string by;
};

inline bool is_one_of(safety::Act act, std::initializer_list<safety::Act> all) {
  return std::find(all.begin(), all.end(), act) != all.end();
}

/// Work with hands in that may come before the supply's proof: the enumerated exceptions.
inline const char* breach_of_approach(const Sight& s) {
  using enum safety::Act;
  const safety::Demand& asked = s.move.demand;
  const Onlooker& seen = s.seen;
  if (asked.act == relieve_outside) {
    return seen.shut() ? "" : "W: relieved with the valve open";
  }
  if (asked.act == lay_down && s.before.laid) {
    return seen.held ? "" : "I1: stood up while the supply may be on";
  }
  if (!is_one_of(asked.act, {reach_tub, cover, move_out})) {
    return "I1: hands in without a proof of the supply";
  }
  if (!seen.held || !seen.tried || !seen.shut()) {
    return "I2: approach without hold, try and shut valve";
  }
  if (asked.act == cover) {
    const bool way = s.move.deed == Deed::way_off || s.move.deed == Deed::box_off;
    if (!way || asked.live_way) return "I2: more than a cover on the way";
    if (s.before.laid) return "I2: tilted in approach";
    if (seen.exposed && s.before.box_open()) return "I2: a cover off a machine that was found live";
    if (asked.bleed_seconds > 0 && seen.held_for == fresh) return "Q: charge did not bleed off";
  }
  if (asked.act == reach_tub && asked.live_way) return "I2: a live part in the tub";
  if (asked.act == reach_tub && (seen.frame_asked || seen.frame_live)) {
    return "E: in the tub of a machine that tingles, unproved";
  }
  if (asked.act == move_out && s.before.laid) return "G: pulled while it lies";
  return "";
}

inline const char* breach_of_hands(const Sight& s) {
  using enum safety::Act;
  const safety::Demand& asked = s.move.demand;
  const safety::Act act = asked.act;
  const Onlooker& seen = s.seen;
  for (const safety::GroupAsked& group : asked.groups) {
    const bool one = group.place.id == "g1";
    const bool dead = believed(one ? seen.dead1 : seen.dead2) && seen.supply();
    const bool charged = group.charge && !believed(seen.uncharged1);
    if (act != cover && !dead) return "I1: hands at a group that was not read";
    if (act != cover && charged) return "I1: hands at a charge";
  }
  const bool up = act == lay_down && s.before.laid;
  const bool early = up || is_one_of(act, {reach_tub, cover, move_out, relieve_outside});
  if (!seen.supply() || early) {
    const char* what = breach_of_approach(s);
    if (*what != '\0') return what;
  }
  if (asked.parts_neutral && !(believed(seen.neutral) && seen.supply())) {
    return "I9: a neutral parted that may carry another line's current";
  }
  if (early && !up && seen.touches_blind() &&
      !seen.supply()) {
    return "E: touched before the frame was read nil";
  }
  if (seen.held && seen.by_hand && act != relieve_outside &&
      (seen.people > 1 || asked.people > 1)) {
    return "I7: a plug in the hand, and two people";
  }
  const bool relieved = (seen.water == 2 || seen.water == 3) && believed(seen.relieved);
  if (is_one_of(act, {hands_in, part_supply, measure_dead, place_probes, prove_dead_test,
                      lay_down}) && !relieved && !up) {
    // A machine that was tested under pressure and stayed joined has nothing to let out.
    const bool tight = seen.water == 1 && believed(seen.tight) && act != lay_down;
    if (!tight || asked.opens_wet || s.before.loose == Loose::joint) {
      return "W: hands in with pressure in the hose";
    }
  }
  if (asked.opens_wet && is_one_of(act, {hands_in, part_supply, measure_dead, insulation_test,
                                         place_probes, prove_dead_test}) &&
      !(seen.water == 3 && believed(seen.watched))) {
    return "W: a wet joint opened, valve not watched";
  }
  if (is_one_of(act, {relieve, hot_reading, insulation_test}) && !seen.shut()) {
    return "W: valve open";
  }
  if (act == static_test && (seen.water != 4 || s.before.loose == Loose::joint)) {
    return "I5: a static test without water, or with an open joint";
  }
  if (act == static_test && s.before.loose == Loose::lead) return "I8: water by a lead that is off";
  if (act == insulation_test && s.before.loose != Loose::supply && !seen.plug) {
    return "I10: insulation measured while joined to the supply";
  }
  if (act == lay_down && s.before.door_open) return "G: laid down with the door open";
  if (act == hot_reading && s.before.laid) return "G: a hot reading while it lies";
  if ((s.before.tips() || s.after.tips()) && !seen.propped) return "I6: loose, door open, no prop";
  const auto meets = [&](safety::Contact what) {
    return std::find(asked.contacts.begin(), asked.contacts.end(), what) != asked.contacts.end();
  };
  if (meets(safety::Contact::heavy) && !is_one_of(act, {reach_tub, cover}) && !seen.secured) {
    return "G: a load that is not secured";
  }
  const bool cold = seen.cool && asked.place == "g2";
  if (meets(safety::Contact::hot) && !cold &&
      is_one_of(act, {hands_in, part_supply, measure_dead, place_probes, prove_dead_test, relieve,
                      reach_tub})) {
    return "T: a hot part, not measured";
  }
  if (asked.people > seen.people) return "P: a person is missing";
  return "";
}

inline const char* breach_while_on(const Sight& s) {
  using enum safety::Act;
  const Onlooker& seen = s.seen;
  const safety::Demand& asked = s.move.demand;
  if ((s.before.tips() || s.after.tips()) && !seen.propped) return "I6: loose, door open, no prop";
  if (asked.act == touch_outside && !seen.supply() &&
      seen.touches_blind()) {
    return "E: touched before the frame was read nil";
  }
  if (!is_one_of(asked.act, {run, live_reading})) {
    return "";
  }
  if (!seen.on && !(asked.act == run && seen.water == 5)) return "E: run with nothing on";
  if (!s.before.live_covers_on()) return "I8: on with a cover of a live part off";
  if (s.before.loose == Loose::lead || s.before.loose == Loose::supply) return "I8: a lead off";
  if (s.before.loose == Loose::joint) return "I5: run with an open joint";
  if (s.before.laid) return "G: run while it lies";
  if (asked.act == live_reading && !asked.live_reason) return "E: live work without a reason";
  if (asked.people > seen.people) return "P: a person is missing";
  return "";
}

/// An accepted word holds what its kind must have.
class WordBreach {
 public:
  explicit WordBreach(const Sight& sight) : s_(sight), seen_(sight.seen) {}

  const char* operator()(const safety::Prepared& fact) const {
    const bool both = safety::in_set(fact.energies, safety::Energy::mains) &&
                      safety::in_set(fact.energies, safety::Energy::water_pressure);
    if (!both) return "147(d)(1): energies not listed";
    return fact.volts > 0 ? "" : "a house without voltage";
  }
  const char* operator()(const safety::FrameRead& fact) const {
    if (fact.tester.empty()) return "no tester";
    if (fact.function == safety::MeterFunction::ohms) return "frame read in ohms";
    return std::isnan(fact.shown.volts) ? "no number" : "";
  }
  const char* operator()(const safety::Isolated& fact) const {
    using safety::Means;
    const bool plug = fact.means == Means::plug_out && seen_.site == Site::cord;
    if (!plug && fact.means != Means::breaker_off) return "333(b)(2)(ii)(B): no disconnecting means";
    if (plug && seen_.frame_live) return "the plug of a live frame";
    if (seen_.on) return "isolated under load";
    return seen_.stopped ? "" : "147(d)(2): not stopped";
  }
  /// Value 2: possession, or lock and tag.
  const char* operator()(const safety::HeldFast& fact) const {
    using safety::Control;
    if (!seen_.off()) return "held before it was parted";
    if (fact.control == Control::in_hand) {
      return seen_.plug && seen_.site == Site::cord ? "" : "I7: no plug, or a built-in one";
    }
    if (fact.control != Control::locked) return "147(a)(2)(iii)(A): no exclusive control";
    if (fact.lock.empty()) return "147(d)(4): no lock";
    if (fact.tag.empty()) return "333(b)(2)(iii): no tag";
    return fact.lock == own() ? "" : "147(e)(3): the lock of another";
  }
  const char* operator()(const safety::WaterShut& fact) const {
    return fact.valve.empty() ? "147(d)(3): no valve" : "";
  }
  const char* operator()(const safety::ControlsTried&) const {
    if (!seen_.held) return "tried before it was held";
    if (s_.before.door_open) return "tried with the door open tells nothing";
    if (seen_.by_hand && seen_.people > 1) return "I7: a plug in the hand, and two people";
    return frame();
  }
  const char* operator()(const safety::ReadingTaken& fact) const {
    using safety::Role;
    if (!seen_.held || !seen_.tried || !seen_.shut()) return "I2: read before hold, try and valve";
    if (s_.before.laid) return "I2: read while it lies";
    if (!s_.before.box_open()) return "read behind a closed cover";
    if (seen_.by_hand && seen_.people > 1) return "I7: a plug in the hand, and two people";
    if (fact.place != safety::kSupply && !seen_.supply()) return "a group before the supply";
    if (fact.tester.empty() || std::isnan(fact.shown.volts)) return "no tester or no number";
    const bool ohms = fact.function == safety::MeterFunction::ohms;
    if (fact.function == safety::MeterFunction::non_contact || (ohms && fact.role != Role::earth_shown)) {
      return "a function that proves nothing";
    }
    if (fact.role == Role::known_before) {
      return fact.band_low > 50 ? "" : "a known source that may be dead";
    }
    if (!seen_.started || seen_.reading_at != fact.place) return "a reading without its known source";
    if (fact.tester != "T1") return "1.4 row 6: another tester";
    if (seen_.late) return "1.4 row 6: too late";
    const unsigned bit = seen_.bit_of(fact);
    const unsigned order = seen_.owed_at(fact.place) & (bit - 1) & ~2U;
    const bool after = fact.role == Role::known_after;
    const unsigned before = after ? seen_.owed_at(fact.place) & ~2U : order;
    const bool again = (seen_.read & bit) != 0;
    return bit != 0 && !again && (seen_.read & before) == before ? "" : "1.4 row 5: out of order";
  }
  const char* operator()(const safety::Discharged& fact) const {
    if (!seen_.supply()) return "discharged before the proof";
    if (seen_.by_hand && seen_.people > 1) return "I7: a plug in the hand, and two people";
    return !fact.tester.empty() && std::fabs(fact.dc_volts) < 5 ? "" : "charge is left";
  }
  const char* operator()(const safety::NeutralRead& fact) const {
    if (!seen_.supply()) return "clamped before the proof";
    if (seen_.by_hand && seen_.people > 1) return "I7: a plug in the hand, and two people";
    if (s_.before.laid) return "clamped while it lies";
    for (const safety::GroupAsked& group : s_.move.demand.groups) {
      if (!believed(group.place.id == "g1" ? seen_.dead1 : seen_.dead2)) {
        return "I1: clamped at a group that was not read";
      }
    }
    const bool clamp = fact.function == safety::MeterFunction::amperes && !fact.tester.empty();
    return clamp && std::isfinite(fact.amperes) ? "" : "no clamp or no number";
  }
  const char* operator()(const safety::Relieved&) const { return breach_of_hands(s_); }
  const char* operator()(const safety::Watched&) const {
    return seen_.water == 2 && seen_.relieved >= minutes ? "" : "watched too short";
  }
  const char* operator()(const safety::Cooled& fact) const {
    return fact.celsius < 43 && fact.celsius > -273 ? "" : "hot";
  }
  const char* operator()(const safety::Propped& fact) const {
    return fact.how == safety::Support::person && fact.helper.empty() ? "nobody props" : "";
  }
  const char* operator()(const safety::HelperHere& fact) const {
    return !fact.name.empty() && fact.people >= 2 && fact.people <= 6 ? "" : "a helper without name";
  }
  const char* operator()(const safety::Inspected&) const { return whole(); }
  const char* operator()(const safety::Warned&) const {
    return seen_.release >= 1 ? "" : "333(b)(2)(v): warned before the look";
  }
  const char* operator()(const safety::LockOff& fact) const {
    const std::string holds = seen_.holds8 ? "8" : "7";
    const bool hangs = fact.lock == "7" ? seen_.lock7 : fact.lock == "8" ? seen_.lock8
                     : fact.lock == "9" && seen_.lock9;
    if (!fact.lock.empty() && !hangs) return "no such lock";
    if (fact.lock.empty() && seen_.locks()) return "a plug, though locks hang";
    if (s_.by != owner(fact.lock)) return "147(e)(3): not by its owner";
    const bool others = seen_.held && !seen_.by_hand && seen_.own_lock() && fact.lock != holds &&
                        !fact.lock.empty() && seen_.release == 0 && owner(fact.lock) != seen_.worker;
    return others || seen_.release >= 2 ? "" : "333(b)(2)(v): lock off before the warning";
  }
  const char* operator()(const safety::LookedClear&) const {
    const bool ready = seen_.release >= 2 && !seen_.locks() && !seen_.off();
    return ready ? "" : "333(b)(2)(v)(D): looked before the locks";
  }
  const char* operator()(const safety::PowerOn&) const {
    if (seen_.release != 4 || seen_.look_late || seen_.locks() || seen_.off()) {
      return "I3: power out of the order of release";
    }
    if (seen_.opened) return "I11: a second try at an opened device";
    if (seen_.on) return "power put on twice";
    if (s_.before.tips() && !seen_.propped) return "I6: loose, door open, no prop";
    if (s_.before.laid) return "G: power while it lies";
    return whole();
  }
  const char* operator()(const safety::WaterOn& fact) const {
    if (s_.before.loose == Loose::joint) return "I5: water on an open joint";
    if (fact.still) return seen_.supply() ? "" : "a static test on live parts";
    return seen_.release >= 2 ? "" : "water before the warning";
  }
  const char* operator()(const safety::TagHung& fact) const {
    return seen_.held && !fact.tag.empty() ? "" : "a tag on nothing";
  }
  const char* operator()(const safety::HandedOn& fact) const {
    if (fact.person.empty()) return "147(f)(4): handed to nobody";
    if (seen_.held && !seen_.by_hand && fact.lock.empty()) return "147(f)(4): no new lock";
    const bool taken = (fact.lock == "7" && seen_.lock7) || (fact.lock == "8" && seen_.lock8) ||
                       (fact.lock == "9" && seen_.lock9);
    const bool own = owner(fact.lock) == fact.person;
    return taken && !own ? "147(f)(4): the lock of another" : "";
  }
  template <class Other>
  const char* operator()(const Other&) const { return ""; }

 private:
  [[nodiscard]] const char* whole() const {
    if (!s_.before.live_covers_on()) return "I8: a cover of a live part is off";
    if (s_.before.loose == Loose::joint) return "I5: a wet joint is open";
    if (s_.before.loose != Loose::none) return "333(b)(2)(v)(A): a lead or an earth is off";
    return s_.before.tests_due ? "333(b)(2)(v)(A): tests are due" : "";
  }
  [[nodiscard]] const char* frame() const {
    return seen_.touches_blind() && !seen_.supply() ? "E: touched before the frame was read nil" : "";
  }
  [[nodiscard]] std::string own() const { return seen_.worker == "Ana" ? "7" : "8"; }
  [[nodiscard]] std::string owner(const std::string& lock) const {
    return lock.empty() ? seen_.worker : lock == "7" ? "Ana" : lock == "8" ? "Ben" : "Ida";
  }

  const Sight& s_;
  const Onlooker& seen_;
};

inline const char* breach_of_ending(const Sight& s) {
  const Onlooker& seen = s.seen;
  if (s.before.laid) return "G: left or handed back lying";
  if (s.before.tips() && !seen.propped) return "I6: loose, door open, no prop";
  if (s.move.ends == safety::Ending::repaired) {
    if (seen.locks() || seen.off()) return "147(e): handed back isolated";
    if (seen.shut() || seen.water == 4) return "handed back with the valve shut";
    if (seen.opened) return "334(b)(2): handed back with an opened device";
    return seen.worked && !seen.inspected ? "147(e)(1): handed back without a look" : "";
  }
  if (!seen.held || seen.by_hand || !seen.own_lock()) return "147(d)(4): left without a lock";
  if (!seen.tagged) return "147(d)(4): left without a tag";
  if (s.before.tips()) return "I6: left with the open door of a loose machine on a prop";
  if (!s.before.nothing_open() && !seen.barred) return "left open, and nothing in front";
  return seen.shut() ? "" : "left with the water on";
}

/// What must not have been accepted; empty where nothing is wrong.
inline const char* breach(const Sight& s) {
  const Onlooker& seen = s.seen;
  const safety::Act act = s.move.demand.act;
  using enum safety::Act;
  const bool eyes = is_one_of(act, {look_outside, look_inside});
  if (seen.ended) return "accepted after the end";
  if (seen.gap && !eyes && act != touch_outside) return "accepted in a gap";
  if (!seen.listed && !eyes && !is_one_of(act, {touch_outside, prepare, stop, hand_over})) {
    return "147(d)(1): accepted before anything was listed";
  }
  if (s.by != seen.worker && !eyes && !is_one_of(act, {hand_over, lock_off})) {
    return "147(f)(4): accepted from another person";
  }
  if (s.move.fact.has_value()) return std::visit(WordBreach(s), *s.move.fact);
  if (s.move.ends != safety::Ending::none) return breach_of_ending(s);
  if (eyes || is_one_of(act, {touch_outside, run, live_reading})) return breach_while_on(s);
  return breach_of_hands(s);
}

}  // namespace kp::model
