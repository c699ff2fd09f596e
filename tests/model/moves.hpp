#pragma once
// Everything that can be said, done or happen at the small machine, well and badly.

#include <limits>
#include <utility>

#include "base/text.hpp"
#include "model/toy.hpp"

namespace kp::model {

class Moves {
 public:
  explicit Moves(Site site) : site_(site), supply_(supply_of(site)) {
    say();
    say_badly();
    read();
    read_badly();
    give_back();
    covers();
    parts();
    look_and_touch();
    work();
    happen();
  }
  [[nodiscard]] std::vector<Move> take() { return std::move(all_); }

 private:
  using Act = safety::Act;
  using Contact = safety::Contact;

  Move& add(std::string name, unsigned walks) {
    all_.emplace_back();
    all_.back().name = std::move(name);
    all_.back().walks = walks;
    return all_.back();
  }
  Move& fact(std::string name, unsigned walks, safety::Fact what, std::string by = {}) {
    Move& move = add(std::move(name), walks);
    move.fact = std::move(what);
    move.by = std::move(by);
    (void)safety::act_of(*move.fact, move.demand.act);
    return move;
  }
  Move& act(std::string name, unsigned walks, Act act, Deed deed = Deed::none,
            const char* group = "") {
    Move& move = add(std::move(name), walks);
    move.demand.act = act;
    move.deed = deed;
    if (*group != '\0') {
      move.demand.groups = {{group_of(group), std::string(group) == "g1"}};
    }
    return move;
  }

  [[nodiscard]] safety::Prepared prepared() const {
    safety::Prepared out;
    out.connection = site_ == Site::cord ? safety::Connection::cord : safety::Connection::fixed;
    out.system = site_ == Site::split ? safety::System::split : safety::System::single;
    out.built_in = site_ != Site::cord;
    out.energies = ((1U << safety::kEnergies) - 1) & ~safety::bit(safety::Energy::springs);
    return out;
  }

  void say() {
    using namespace safety;
    const Means means = site_ == Site::cord ? Means::plug_out : Means::breaker_off;
    fact("prepare", kEvery & ~kFrame, prepared());
    Prepared asked = prepared();
    asked.frame_first = true;
    fact("prepare, frame first", kFrame, asked);
    fact("stop", kEvery, Stopped{});
    fact("frame nil", kFrame, FrameRead{{true, 0}, MeterFunction::two_pole_detector, "T1"});
    fact("frame live", kFrame, FrameRead{{false, 118}, MeterFunction::two_pole_detector, "T1"});
    fact("isolate", kEvery, Isolated{means});
    if (site_ == Site::cord) {
      fact("isolate at the board", kFrame, Isolated{Means::breaker_off});
      fact("hold in hand", kLoad | kLocks | kFrame, HeldFast{Control::in_hand, {}, {}, {}});
    }
    fact("hold, lock of Ana", kEvery, HeldFast{Control::locked, "7", "card", {}}, "Ana");
    fact("hold, lock of Ben", kLocks, HeldFast{Control::locked, "8", "card", {}}, "Ben");
    fact("shut", kEvery, WaterShut{"valve"});
    fact("try", kEvery, ControlsTried{});
    fact("try answers", kProof, ControlsTried{Answer::answered});
    fact("discharge", kProof, Discharged{"g1", 20000, 10, 1, "T1"});
    fact("neutral", kBack, NeutralRead{0, MeterFunction::amperes, "C1", false});
    fact("neutral at g2", kProof, NeutralRead{0, MeterFunction::amperes, "C1", false}).demand.groups =
        {{group_of("g2"), false}};
    fact("relieve behind a cover", kProof, Relieved{}).demand.groups = {{group_of("g2"), false}};
    fact("relieve outside", kEvery & ~(kLocks | kAway | kFrame), Relieved{}).demand.act = Act::relieve_outside;
    fact("watch, dry", kBack | kWater, Watched{true});
    fact("watch, seeps", kWater, Watched{false});
    fact("cool", kLoad, Cooled{"g2", 30});
    fact("secure", kLoad, Secured{"up", Support::block});
    fact("prop", kStand, Propped{Support::block, {}});
    fact("helper", kLoad, HelperHere{2, "Ida"});
    fact("tag", kAway, TagHung{"card"});
    fact("hand over to Ben", kLocks, HandedOn{"Ben", "8"}, "Ana");
    fact("hand over to Ana", kLocks, HandedOn{"Ana", "7"}, "Ben");
    fact("hand over without a lock", kLocks, HandedOn{"Ben", ""}, "Ana");
  }

  void say_badly() {
    using namespace safety;
    Prepared dry = prepared();
    dry.energies = bit(Energy::mains);
    fact("prepare without water", kProof, dry);
    Prepared weak = prepared();
    weak.volts = 0;
    fact("prepare at 0 V", kProof, weak);
    fact("frame by no tester", kFrame, FrameRead{{true, 0}, MeterFunction::volts_ac, ""});
    fact("frame in ohms", kFrame, FrameRead{{false, 0}, MeterFunction::ohms, "T1"});
    fact("frame, no number", kFrame, FrameRead{{false, nan()}, MeterFunction::volts_ac, "T1"});
    fact("isolate by one pole", kProof | kBack, Isolated{Means::one_pole_of_two});
    fact("isolate by the door", kProof, Isolated{Means::door_switch});
    fact("hold by sight", kProof, HeldFast{Control::sight_only, {}, {}, {}});
    fact("hold, lock without number", kProof, HeldFast{Control::locked, "", "card", {}});
    fact("hold, no tag", kProof, HeldFast{Control::locked, "7", "", {}}, "Ana");
    fact("hold, lock of another", kLocks, HeldFast{Control::locked, "9", "card", {}}).hangs = '9';
    fact("hold, tag without measure", kProof, HeldFast{Control::tag_and_measure, {}, "card", {}});
    fact("shut no valve", kProof, WaterShut{""});
    fact("neutral carries current", kBack, NeutralRead{0.3, MeterFunction::amperes, "C1", false});
    fact("neutral in volts", kBack, NeutralRead{0, MeterFunction::volts_ac, "C1", false});
    fact("neutral, no tester", kBack, NeutralRead{0, MeterFunction::amperes, "", false});
    fact("neutral, no number", kBack, NeutralRead{nan(), MeterFunction::amperes, "C1", false});
    fact("discharge to 30 V", kProof, Discharged{"g1", 20000, 10, 30, "T1"});
    fact("discharge to no number", kProof, Discharged{"g1", 20000, 10, nan(), "T1"});
    fact("discharge, no tester", kProof, Discharged{"g1", 20000, 10, 1, ""});
    fact("cool at 60", kLoad, Cooled{"g2", 60});
    fact("cool at -300", kLoad, Cooled{"g2", -300});
    fact("helper, nine people", kLoad, HelperHere{9, "Ida"});
    fact("helper, no name", kLoad, HelperHere{2, ""});
    fact("prop by nobody", kStand, Propped{Support::person, ""});
    fact("tag without words", kAway, TagHung{""});
    fact("hand over to nobody", kLocks, HandedOn{"", "8"}, "Ana");
    fact("hand over, lock of another", kLocks, HandedOn{"Ben", "9"}, "Ana").hangs = '9';
    fact("hand over, lock of the old", kLocks, HandedOn{"Ben", "7"}, "Ana").hangs = '7';
  }

  static double nan() { return std::numeric_limits<double>::quiet_NaN(); }

  safety::ReadingTaken taken(const safety::Place& place, safety::Role role, safety::Pair pair) {
    using namespace safety;
    ReadingTaken out;
    out.place = place.id;
    out.role = role;
    out.a = pair.a;
    out.b = pair.b;
    out.tester = "T1";
    out.shown = {true, 0};
    const Range band = outlet_band(120);
    if (role == Role::known_before || role == Role::known_after) {
      out.shown = {false, 120};
      out.band_low = band.low;
      out.band_high = band.high;
    } else if (role == Role::earth_shown) {
      out.function = MeterFunction::ohms;
      out.shown = {false, 0.3};
    }
    return out;
  }
  Move& reading(std::string name, unsigned walks, const safety::Place& place,
                safety::ReadingTaken what) {
    Move& move = fact(cat(place.id, " ", name), walks, std::move(what));
    move.place = place;
    return move;
  }
  void read_at(const safety::Place& place, unsigned walks) {
    using safety::Role;
    reading("known before", walks, place, taken(place, Role::known_before, {}));
    if (place.joined_to_house) {
      reading("earth", walks, place, taken(place, Role::earth_shown, {}));
    }
    for (const Role role : {Role::pair, Role::pair_dc}) {
      for (const safety::Pair& pair : place.pairs) {
        if (role == Role::pair || place.dc) {
          reading(cat(safety::words(role), " ", pair.a, pair.b), walks, place,
                  taken(place, role, pair));
        }
      }
    }
    reading("known after", walks, place, taken(place, Role::known_after, {}));
  }
  void read() {
    read_at(supply_, kEvery & ~(kFrame | kLocks));
    read_at(group_of("g1"), kProof);
    read_at(group_of("g2"), kProof);
    fact("restart", kProof, safety::SeriesRestarted{});
  }
  void read_badly() {
    using namespace safety;
    const ReadingTaken known = taken(supply_, Role::known_before, {});
    const ReadingTaken pair = taken(supply_, Role::pair, supply_.pairs.front());
    const ReadingTaken after = taken(supply_, Role::known_after, {});
    const auto bad = [&](const char* name, ReadingTaken what) {
      reading(name, kProof, supply_, std::move(what));
    };
    ReadingTaken one = known;
    one.tester = "";
    bad("known before, no tester", one);
    one = known;
    one.function = MeterFunction::non_contact;
    bad("known before by proximity", one);
    one = known;
    one.band_low = 0;
    one.shown = {true, 0};
    bad("known before, band from nothing", one);
    one = known;
    one.shown = {false, 20};
    bad("known before, too low", one);
    one = after;
    one.shown = {false, 0};
    bad("known after, dead tester", one);
    one = after;
    one.tester = "T2";
    bad("known after, other tester", one);
    one = pair;
    one.function = MeterFunction::ohms;
    bad("pair in ohms", one);
    one = pair;
    one.shown = {false, 118};
    bad("pair live", one);
    one = pair;
    one.shown = {false, 20};
    bad("pair ghost", one);
    one = pair;
    one.shown = {false, nan()};
    bad("pair, no number", one);
    one = pair;
    one.place = "elsewhere";
    bad("pair of another place", one);
  }

  void give_back() {
    using namespace safety;
    fact("inspect", kEvery & ~(kProof | kLoad | kFrame), Inspected{});
    fact("warn", kEvery & ~(kProof | kLoad | kFrame), Warned{{"Ida"}});
    fact("lock of Ana off", kEvery & ~(kProof | kLoad | kFrame | kWater), LockOff{"7"}, "Ana");
    fact("lock of Ben off", kLocks, LockOff{"8"}, "Ben");
    fact("lock of Ida off", kLocks, LockOff{"9"}, "Ida");
    fact("lock of Ida off by the worker", kLocks, LockOff{"9"});
    fact("lock of Ana off by Ben", kLocks, LockOff{"7"}, "Ben");
    fact("no such lock off", kLocks, LockOff{"5"});
    fact("plug to its outlet", kBack | kLocks, LockOff{""});
    fact("plug to its outlet by another", kLocks, LockOff{""}, "Ida");
    fact("look", kEvery & ~(kProof | kLoad | kFrame | kWater), LookedClear{});
    fact("power on", kEvery & ~(kProof | kLoad | kFrame | kWater), PowerOn{});
    fact("water on", kBack | kWater, WaterOn{false});
    fact("water on, static", kWater, WaterOn{true});
    fact("bar openings", kStand | kLoad | kLocks | kAway, OpeningsBarred{});
    act("leave", kStand | kLoad | kLocks | kAway, Act::leave).ends = Ending::waiting_for_parts;
    act("end in service", kEvery & ~(kProof | kFrame), Act::end_in_service).ends = Ending::repaired;
  }

  void covers() {
    const unsigned covered = kProof | kBack | kFrame;
    act("way off", covered | kLoad, Act::cover, Deed::way_off).demand.on_way = true;
    act("box off, no charge", kBack, Act::cover, Deed::box_off).demand.on_way = true;
    Move& box = act("box off", covered & ~kBack, Act::cover, Deed::box_off);
    box.demand.on_way = true;
    box.demand.bleed_seconds = 60;
    act("panel off as cover", kProof, Act::cover, Deed::panel_off);
    Move& lead = act("lead off as cover", kProof, Act::cover, Deed::lead_off);
    lead.demand.on_way = lead.demand.live_way = true;
    Move& two = act("cover for two", kLoad, Act::cover, Deed::way_off);
    two.demand.on_way = true;
    two.demand.people = 2;
    act("box fit", kBack, Act::hands_in, Deed::box_fit);
    act("way fit", kBack, Act::hands_in, Deed::way_fit);
    act("panel off", kEvery & ~(kStand | kLoad | kLocks | kFrame), Act::hands_in, Deed::panel_off);
    act("panel fit", kBack | kWater, Act::hands_in, Deed::panel_fit);
  }
  void parts() {
    act("joint off at g2", kProof, Act::hands_in, Deed::joint_off, "g2").demand.opens_wet = true;
    act("joint off", kBack | kWater, Act::hands_in, Deed::joint_off).demand.opens_wet = true;
    act("joint fit", kBack | kWater, Act::hands_in, Deed::joint_fit);
    act("lead off at g1", kProof, Act::hands_in, Deed::none, "g1");
    act("lead off", kBack, Act::hands_in, Deed::lead_off);
    act("lead fit", kBack, Act::hands_in, Deed::lead_fit);
    act("static test, dry", kWater, Act::static_test, Deed::dry);
    act("earth off", kBack, Act::hands_in, Deed::earth_off);
    act("earth fit", kBack, Act::hands_in, Deed::earth_fit);
    // On a cord nothing shares the neutral.
    const bool shared = site_ != Site::cord;
    act("supply off", kBack, Act::part_supply, Deed::supply_off).demand.parts_neutral = shared;
    act("supply fit", kBack, Act::part_supply, Deed::supply_fit).demand.parts_neutral = shared;
    act("fixing off", kStand | kLoad, Act::hands_in, Deed::fixing_off);
    act("fixing fit", kStand | kLoad, Act::hands_in, Deed::fixing_fit);
    act("pull out", kStand, Act::move_out, Deed::pull_out);
    act("lay", kLoad, Act::lay_down, Deed::lay).demand.people = 2;
  }

  void look_and_touch() {
    const std::size_t first = all_.size();
    act("look outside", kEvery, Act::look_outside);
    act("look inside", kEvery, Act::look_inside);
    act("door", kStand, Act::touch_outside, Deed::door);
    act("touch outside", kEvery, Act::touch_outside);
    act("reach into the tub", kEvery, Act::reach_tub);
    act("reach into the tub, terminal near", kProof, Act::reach_tub, Deed::none, "g2");
    act("reach for a pipe in the tub", kProof, Act::reach_tub).demand.live_way = true;
    act("reach for what is hot in the tub", kLoad, Act::reach_tub).demand.contacts = {Contact::hot};
    act("reach for two", kLoad, Act::reach_tub).demand.people = 2;
    act("run", kEvery, Act::run);
    act("run for two", kStand, Act::run).demand.people = 2;
    act("live reading", kEvery, Act::live_reading).demand.live_reason = true;
    act("live reading, no reason", kBack, Act::live_reading);
    for (std::size_t i = first; i < all_.size(); ++i) {
      all_[i].leads_on = all_[i].deed != Deed::none || all_[i].name == "reach into the tub";
    }
  }

  /// Each kind of work with what it can ask, changing nothing.
  void work() {
    for (const Act one : {Act::hands_in, Act::part_supply, Act::measure_dead, Act::insulation_test,
                          Act::place_probes, Act::prove_dead_test, Act::hot_reading,
                          Act::static_test, Act::relieve, Act::relieve_outside, Act::move_out,
                          Act::lay_down}) {
      const std::string name = safety::words(one);
      const bool test = one == Act::prove_dead_test;
      const std::size_t first = all_.size();
      act(name, kEvery, one, test ? Deed::test : Deed::none);
      act(name + " at g1", kProof, one, Deed::none, "g1");
      act(name + " at a wet joint", kWater, one).demand.opens_wet = true;
      Move& hot = act(name + " at the heater", kLoad, one);
      hot.demand.contacts = {Contact::hot};
      hot.demand.place = "g2";
      Move& heavy = act(name + ", heavy", kLoad, one);
      heavy.demand.contacts = {Contact::heavy};
      heavy.demand.position = "up";
      act(name + ", two people", kLoad, one).demand.people = 2;
      for (std::size_t i = first; i < all_.size(); ++i) {
        all_[i].leads_on = i == first && (test || one == Act::hands_in);
      }
    }
  }

  void happen() {
    using namespace safety;
    const auto on = [this](std::string name, unsigned walks, Change change) {
      add(std::move(name), walks).happens = std::move(change);
    };
    for (int i = 0; i < kDoubts; ++i) {
      const Doubt what = static_cast<Doubt>(i);
      const unsigned walks = what == Doubt::power_found_on  ? kProof | kBack | kAway
                             : what == Doubt::left          ? kProof | kLocks | kAway
                             : what == Doubt::device_opened ? kBack | kAway
                             : what == Doubt::water_found_on ? kWater | kAway
                             : what == Doubt::lock_found_off ? kLocks | kAway
                                                             : kAway;
      on(safety::words(what), walks, Fact{Doubted{what}});
    }
    on("a lock of Ida", kLocks, Fact{ForeignLock{"9", "Ida"}});
    on("away", kAway, Away{kFiveHours, true});
    on("stayed", kAway, Fact{GapAnswered{Stayed::here}});
    on("left, locked", kAway, Fact{GapAnswered{Stayed::left_locked}});
    on("nobody knows", kAway, Fact{GapAnswered{Stayed::unknown}});
    on("reopened", kAway, VisitReopened{});
    add("eleven minutes", kProof | kWater | kLocks).passes_ms = kElevenMinutes;
    add("five hours", kProof | kWater).passes_ms = kFiveHours;
  }

  Site site_;
  safety::Place supply_;
  std::vector<Move> all_;
};

}  // namespace kp::model
