#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "pack/load.hpp"
#include "pack/model.hpp"

namespace kp::job {

/// A tag that follows from the pack and need not be authored. `why` is short and for lists:
/// "node l-heat", "capacitor", "spring door-spring-hooks", "52.6 kg".
struct Derived {
  pack::Contact tag = pack::Contact::live;
  std::string why;
  /// Not the thing itself: what it is joined to, or what stands beside it at the same place. An
  /// author need not write it, so the checker does not miss it.
  bool near = false;
};

/// Conductors that hands can meet at one place: live test points and connections with the same
/// covers in front (the alternatives and their parts in any order).
struct Group {
  std::string id;              ///< "behind:access-panel": the first way's covers; "open": none
  pack::Access behind;         ///< sorted: ways that need no position first
  std::vector<int> positions;  ///< where some of it can be met, ascending; empty: in every one
  std::vector<int> points, joints, parts;  ///< what is live there itself, ascending
  std::vector<int> covers;                 ///< parts of all ways, ascending: their removal bares it
  int with = -1;              ///< it comes away inside this cover and lies on a bench then; -1: it stays
  bool hot = false;           ///< a heater, or its terminals, are met behind the same covers
  bool can_hold_charge = false;
  double charge_volts = 0;    ///< the most that a capacitor can keep there, volts DC; 0: none
  std::string name_of_cover;  ///< "Access panel": the first way's, for people; empty: open
};

/// What can hurt in a machine, derived from its circuit, kinds, masses and covers. Authored tags
/// add to it and never take away. Sharp and fragile cannot be derived.
///
/// live           every node that a supply conductor other than earth reaches through anything,
///                with every contact closed: so it covers each state of the contacts, the supply
///                conductors in any order and any one of them missing. Not: the protective earth,
///                which is what wires and connectors join to it. And plugs that no circuit has.
/// stored-charge  the nodes of a capacitor above 0.1 µF, and those that contacts in some state join
///                to it without joining them to neutral or earth, or to its other side, as well: of
///                any two nodes with volts between them one is tagged. A resistance from plate to
///                plate empties it where five time constants are less than the first cover takes;
///                it may be open, so the capacitor's own nodes stay tagged. A good machine: what an
///                open winding would leave charged is not counted.
/// hot            the part of a heater, its joints, and what stands behind the same covers.
/// sprung         a spring, what it holds, and what fastens that.
/// heavy          a part over 16 kg; what is fastened against a spring, as it carries what the
///                spring balances; changes of position of a unit that is not fixed, and what keeps
///                it from moving.
/// wet            hose clamps and what water runs through: parts joined to them, nuts at those.
struct Hazards {
  using Tags = std::vector<Derived>;
  std::vector<Tags> joints, parts, points, changes;  ///< by index, one of a tag; derived ones only
  std::vector<int> change_people;  ///< by index: the fewest persons by mass, beside the authored
  std::vector<bool> live_nodes, charged_nodes;  ///< of the circuit, empty: it has none
  int bleed_seconds = 0;   ///< before the first cover: until what bleeds off by itself has done so
  double unit_kg = 0;                           ///< whole machine, all parts in

  std::vector<Group> groups;
  /// The group that hands meet when they work at this thing, live itself or not: the conductors
  /// behind the same covers. A part without conductors at its own place belongs to the first group
  /// with terminals of it, or of what it carries. -1: none.
  std::vector<int> group_of_joint, group_of_part, group_of_point;

  /// Authored and derived tags, each once, in the order of pack::Contact.
  [[nodiscard]] std::vector<pack::Contact> joint(const pack::Pack& pack, int index) const;
  [[nodiscard]] std::vector<pack::Contact> part(const pack::Pack& pack, int index) const;
  [[nodiscard]] std::vector<pack::Contact> point(const pack::Pack& pack, int index) const;
  [[nodiscard]] std::vector<pack::Contact> change(const pack::Pack& pack, int index) const;
  /// Index of the group of that id, or -1.
  [[nodiscard]] int group(std::string_view group_id) const;
  /// The groups that hands meet behind these covers, with the unit in one of these positions: whichever
  /// way was opened, a way to them was opened with it. None where nothing is in front.
  [[nodiscard]] std::vector<int> groups_open_at(const pack::Access& behind,
                                                const std::vector<int>& positions) const;
  /// Water runs through the joint itself.
  [[nodiscard]] bool is_wet(const pack::Pack& pack, int index) const;
  /// A lead that hangs by a wet joint when it is off: both are met behind the same covers.
  [[nodiscard]] bool hangs_by_water(const pack::Pack& pack, int index) const;
};

/// Derives all of it. The pack must have no fault that pack::check reports.
[[nodiscard]] Hazards hazards_of(const pack::Pack& pack);

/// What an author left out: a tag that follows for a joint, part or change itself and is not
/// written (`tag-left-out`, a note: it counts all the same), live conductors that no cover is in front
/// of (`conductor-open`, a warning), and conductors that no test point shows, so that they can never be
/// proved dead (`conductor-unproved`, a fault).
[[nodiscard]] Findings check_hazards(const pack::Pack& pack, const pack::Places& places = {});

}  // namespace kp::job
