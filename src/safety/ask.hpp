#pragma once

#include <string>
#include <vector>

#include "safety/fact.hpp"

namespace kp::safety {

/// A group of bare conductors that an act brings hands to.
struct GroupAsked {
  Place place;
  bool charge = false;        ///< a capacitor may have charged it: discharge, then direct voltage
};

/// What an act asks for: derived from where hands go (job/bind_safety.hpp), never authored.
struct Demand {
  Act act = Act::hands_in;
  std::vector<Contact> contacts;
  std::vector<GroupAsked> groups;
  bool opens_wet = false;     ///< a wet joint is opened, or hangs over the hands
  bool on_way = false;        ///< a cover, or its fastener, on a sound way to a point of proof
  bool live_way = false;      ///< a lead, a pipe or an electrical element: never in approach
  int people = 1;
  std::string place;          ///< where something hot is, for its own cooling
  std::string position;       ///< where the unit stands during it, or comes to
  bool parts_neutral = false; ///< of the house: other lines may share it, which a cord rules out
  bool live_reason = false;   ///< a live reading says why dead will not do
  bool behind_cover = false;  ///< relieving needs a hand behind a cover or at a live part
  int bleed_seconds = 0;      ///< charge bleeds off by itself in this time
};

/// What the machine has open, told by whoever knows its parts.
struct Machine {
  bool stable = true;         ///< fixed, propped, or its door shut
  bool upright = true;
  bool door_open = false;
  bool live_covers_on = true; ///< every cover of a live part is on, or as the hung reading needs it
  bool leads_joined = true;   ///< no lead hangs parted that the run would make live
  bool wet_joined = true;     ///< no wet joint is open
  bool supply_parted = false; ///< machine's line and neutral are off the supply
  bool earths_fast = true;
  bool tests_done = true;     ///< what must be measured before power, for what was done
  bool nothing_open = true;   ///< no joint is loose, no part away
  bool supply_open = true;    ///< the point of proof can be reached by the probes now
  int workers = 1;
};

/// A question to the gate. `fact`: what is to be recorded, where its own words count.
struct Ask {
  Demand demand;
  Machine machine;
  const Fact* fact = nullptr;
  Place place;                ///< of a reading: what must be read there
  std::string by;             ///< who does it
};

}  // namespace kp::safety
