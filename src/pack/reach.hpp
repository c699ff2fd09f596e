#pragma once

#include <vector>

#include "pack/model.hpp"

namespace kp::pack {

/// The joints that must be released before a part comes away, ascending: those that tie it, or a
/// part inside it, to something that is not inside it, and those that name this part alone (they
/// fasten it to the body of the machine). What holds an assembly together stays. (A motor in a
/// pump module comes away with the module: its plug to the harness holds the module, its screws
/// to the sump do not.)
[[nodiscard]] std::vector<int> holding_joints(const Pack& pack, int part);

/// True when the part is the assembly itself or anywhere inside it.
[[nodiscard]] bool is_within(const Pack& pack, int part, int assembly);

/// The part and the assemblies that carry it, nearest first.
[[nodiscard]] std::vector<int> carriers(const Pack& pack, int part);
/// What carries all parts of a joint; of a joint with one part, what carries this part.
[[nodiscard]] std::vector<int> joint_carriers(const Pack& pack, const Joint& joint);

/// True when nothing stands in front, or every part of one alternative is away. `shared` is what
/// carries the thing behind (carriers, joint_carriers): an assembly in it covers nothing by going.
/// `places` flags the positions that come into question, none: all of them do; an alternative that
/// is bound to other positions does not count.
[[nodiscard]] bool is_open(const Pack& pack, const Access& behind, const std::vector<int>& shared,
                           const std::vector<bool>& removed,
                           const std::vector<bool>& places = {});

/// What can ever be done to the unit as it is found, all moves allowed in any order.
struct Reach {
  std::vector<bool> positions;  ///< taken at some time
  std::vector<bool> joints;     ///< released at some time
  std::vector<bool> parts;      ///< removed at some time
};

/// The greatest reach from the first position. Exact where each change of position has its way
/// back (pack::check reports the others): what was released and removed never stands in the way.
[[nodiscard]] Reach reach_of(const Pack& pack);

/// True when the list is empty (any position will do) or names a position that was reached.
[[nodiscard]] bool any_reached(const std::vector<int>& positions, const Reach& reach);

/// The positions of the list (all of them, where it is empty) that were reached.
[[nodiscard]] std::vector<bool> places_of(const std::vector<int>& positions, const Reach& reach);

}  // namespace kp::pack
