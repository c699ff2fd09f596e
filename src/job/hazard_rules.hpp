#pragma once

#include <string>
#include <utility>
#include <vector>

#include "job/hazards.hpp"

namespace kp::job {

// The rules behind hazards_of(), one file a subject. Each adds to the hazards what it derives.

/// Where hands are when they work at something: what is in front of it, sorted so that the order
/// of an author does not count. `with`: it comes away inside this cover and lies on a bench then,
/// -1: it stays in the machine.
struct Spot {
  pack::Access behind;
  int with = -1;
  friend bool operator==(const Spot&, const Spot&) = default;
};
struct Spots {
  std::vector<Spot> joints, parts, points;
};
[[nodiscard]] Spots spots_of(const pack::Pack& pack);

/// Parts of the pack's circuit that can stand above 50 V to earth, by node; see Hazards.
[[nodiscard]] std::vector<bool> live_nodes_of(const pack::Circuit& circuit);

/// The most volts DC that a capacitor can leave at a node once the supply is parted; 0: none.
[[nodiscard]] std::vector<double> charge_volts_of(const pack::Pack& pack);

/// Seconds until every capacitor that a resistance empties is empty: five time constants, rounded
/// up. One that takes over ten minutes is discharged with the tool and not waited for; 0: none.
[[nodiscard]] int bleed_seconds_of(const pack::Pack& pack);

/// Adds the tag, unless it is there; what holds for the thing itself comes before what is near.
void add_tag(Hazards::Tags& tags, pack::Contact tag, std::string why, bool near = false);
/// True when the tag is there for the thing itself.
[[nodiscard]] bool is_tagged(const Hazards::Tags& tags, pack::Contact tag);

/// `live` from hazards.live_nodes and plugs, `stored_charge` from hazards.charged_nodes.
void tag_conductors(const pack::Pack& pack, const Spots& spots, Hazards& hazards);
void tag_heat(const pack::Pack& pack, const Spots& spots, Hazards& hazards);
void tag_springs(const pack::Pack& pack, Hazards& hazards);
void tag_mass(const pack::Pack& pack, Hazards& hazards);
/// After tag_conductors and before tag_mass: wires carry no water.
void tag_water(const pack::Pack& pack, Hazards& hazards);

/// The groups, from the tags for the things themselves.
void group_conductors(const pack::Pack& pack, const Spots& spots,
                      const std::vector<double>& charge_volts, Hazards& hazards);

/// Persons for a lift close to the body at knuckle height: 25 kg one, 2/3 of the sum two, half of
/// it three (HSE L23 para 120); 4: more than a lift bears, use a trolley or slide it.
[[nodiscard]] int people_to_lift(double kilograms);

}  // namespace kp::job
