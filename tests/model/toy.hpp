#pragma once
// A small machine with its supply: two groups of conductors, one wet joint, one fixing, a door, two
// covers on the way to the proof, one in front of the groups. And all that can be said or done to it.

#include <optional>
#include <string>
#include <vector>

#include "safety/gate.hpp"

namespace kp::model {

enum class Site { cord, fixed, split };
inline constexpr const char* kSites[] = {"cord", "fixed", "split"};

/// One thing at a time is loose behind the panel.
enum class Loose { none, joint, lead, earth, supply };

struct Toy {
  Site site = Site::fixed;
  bool boxed = true;                   ///< the point of proof is behind covers
  bool way_on = true, box_on = true;   ///< toe panel, and the lid of the junction box behind it
  bool panel_on = true;                ///< in front of both groups, the joint and the leads
  Loose loose = Loose::none;
  bool tests_due = false;
  bool door_open = false, fixing_fast = true, out = false, laid = false;

  [[nodiscard]] bool tips() const { return !fixing_fast && door_open; }
  [[nodiscard]] bool box_open() const { return !boxed || !box_on; }
  [[nodiscard]] bool nothing_open() const {
    return way_on && box_on && panel_on && loose == Loose::none && fixing_fast;
  }
  [[nodiscard]] bool live_covers_on() const { return box_on && panel_on; }
};

enum class Deed {
  none, way_off, box_off, box_fit, way_fit, panel_off, panel_fit, joint_off, joint_fit, lead_off,
  lead_fit, earth_off, earth_fit, supply_off, supply_fit, door, fixing_off, fixing_fit, pull_out,
  lay, test, dry
};

inline bool set(bool& what, bool from) {
  const bool can = what == from;
  what = !from;
  return can;
}
inline bool part(Toy& toy, Loose what) {
  const bool can = !toy.panel_on && toy.loose == Loose::none;
  toy.loose = what;
  return can;
}
inline bool join(Toy& toy, Loose what, bool owes_tests) {
  const bool can = !toy.panel_on && toy.loose == what;
  toy.loose = Loose::none;
  toy.tests_due = toy.tests_due || owes_tests;
  return can;
}

/// Does it to the machine; false where nothing is there to be done.
inline bool does(Deed deed, Toy& toy) {
  switch (deed) {
    case Deed::none:
    case Deed::dry: return true;
    case Deed::way_off: return toy.boxed && set(toy.way_on, true);
    case Deed::box_off: return toy.boxed && !toy.way_on && set(toy.box_on, true);
    case Deed::box_fit: return toy.boxed && set(toy.box_on, false);
    case Deed::way_fit: return toy.boxed && toy.box_on && set(toy.way_on, false);
    case Deed::panel_off: return set(toy.panel_on, true);
    case Deed::panel_fit: return set(toy.panel_on, false);
    case Deed::joint_off: return part(toy, Loose::joint);
    case Deed::joint_fit: return join(toy, Loose::joint, false);
    case Deed::lead_off: return part(toy, Loose::lead);
    case Deed::lead_fit: return join(toy, Loose::lead, true);
    case Deed::earth_off: return part(toy, Loose::earth);
    case Deed::earth_fit: return join(toy, Loose::earth, true);
    case Deed::supply_off: return toy.box_open() && part(toy, Loose::supply);
    case Deed::supply_fit: return toy.box_open() && join(toy, Loose::supply, true);
    case Deed::door: toy.door_open = !toy.door_open; return !toy.laid;
    case Deed::fixing_off: return set(toy.fixing_fast, true);
    case Deed::fixing_fit: return !toy.out && !toy.laid && set(toy.fixing_fast, false);
    case Deed::pull_out: toy.out = !toy.out; return !toy.fixing_fast && !toy.laid;
    case Deed::lay: toy.laid = !toy.laid; return !toy.fixing_fast;
    case Deed::test: return set(toy.tests_due, true);
  }
  return false;
}

inline safety::Place supply_of(Site site) {
  safety::Place place;
  place.id = safety::kSupply;
  place.pairs = safety::supply_pairs(site == Site::split ? safety::System::split
                                                         : safety::System::single);
  place.joined_to_house = site != Site::cord;
  return place;
}
/// g1 can hold charge, g2 cannot.
inline safety::Place group_of(const std::string& id) {
  safety::Place place;
  place.id = id;
  place.pairs = {{"a", ""}};
  place.dc = id == "g1";
  return place;
}

/// Which walks through the states a move takes part in. Each walk is whole in itself; together they
/// put every question.
inline constexpr unsigned kProof = 1, kBack = 2, kWater = 4, kStand = 8, kLoad = 16, kLocks = 32,
                          kAway = 64, kFrame = 128, kEvery = 255;
inline constexpr const char* kWalks[] = {"proof", "giving back", "water", "standing",
                                         "loads", "locks", "absence", "frame"};

/// One thing said or done. Exactly one of fact, happens, passes_ms, or work by `demand`.
struct Move {
  std::string name;
  unsigned walks = kEvery;
  safety::Demand demand;
  std::optional<safety::Fact> fact;
  safety::Place place;                      ///< of a reading
  std::string by;                           ///< empty: the worker
  Deed deed = Deed::none;
  std::optional<safety::Change> happens;    ///< never refused
  int passes_ms = 0;
  bool leads_on = true;                     ///< false: it leaves what another move leaves too
  char hangs = 0;                           ///< only where this lock hangs
  safety::Ending ends = safety::Ending::none;
};

inline constexpr int kElevenMinutes = 660'000;
inline constexpr int kFiveHours = 18'000'000;
inline constexpr std::int64_t kNow = 1'000'000'000'000;

/// The machine as the gate is told: as it stands and as it will stand after the deed, the worse.
inline safety::Machine machine_of(const Toy& before, const Toy& after, const safety::State& state) {
  safety::Machine out;
  const bool plug_out = state.isolated.holds() && state.means == safety::Means::plug_out;
  out.stable = !before.tips() && !after.tips();
  out.upright = !before.laid;
  out.door_open = before.door_open;
  out.live_covers_on = before.live_covers_on();
  out.leads_joined = before.loose != Loose::lead && before.loose != Loose::supply;
  out.wet_joined = before.loose != Loose::joint;
  out.supply_parted = before.loose == Loose::supply || plug_out;
  out.earths_fast = before.loose != Loose::earth;
  out.tests_done = !before.tests_due;
  out.supply_open = before.box_open();
  out.nothing_open = before.nothing_open();
  return out;
}

}  // namespace kp::model
