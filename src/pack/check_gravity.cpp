// The pull on an open door and on what lies loose in the unit.
#include <algorithm>

#include "pack/report.hpp"

namespace kp::pack {
namespace {

bool can_tip(const Position& position) { return position.door_open && !position.propped; }

/// With the door shut it stands elsewhere than where it was found: then its fixings were undone.
bool is_moved(const Pack& pack) {
  return std::any_of(pack.positions.begin() + 1, pack.positions.end(),
                     [](const Position& position) { return !position.door_open; });
}

bool reached_safely(const Pack& pack, const Joint& joint) {
  if (joint.positions.empty()) {
    return std::any_of(pack.positions.begin(), pack.positions.end(),
                       [](const Position& position) { return !can_tip(position); });
  }
  return std::any_of(joint.positions.begin(), joint.positions.end(), [&pack](int at) {
    return !can_tip(pack.positions[to_size(at)]);
  });
}

void check_fixings(const Pack& pack, Report& report) {
  const auto open = std::find_if(pack.positions.begin(), pack.positions.end(), can_tip);
  if (open == pack.positions.end() || !is_moved(pack)) {
    return;
  }
  const auto first = std::find_if(pack.joints.begin(), pack.joints.end(),
                                  [](const Joint& joint) { return joint.against_tipping; });
  if (first == pack.joints.end()) {
    report.add("door-tips", at("positions", static_cast<int>(open - pack.positions.begin())),
               cat("nothing keeps the unit from tipping over its open door in ", quoted(open->id)),
               "Set \"against_tipping\" at the joints that fix the unit, or prop the door.");
    return;
  }
  const bool safe = std::any_of(first, pack.joints.end(), [&pack](const Joint& joint) {
    return joint.against_tipping && reached_safely(pack, joint);
  });
  if (!safe) {
    const int index = static_cast<int>(first - pack.joints.begin());
    report.add("last-fixing", at("joints", index, "positions"),
               cat("the joint ", quoted(first->id),
                   ", like each against tipping, is reached with the door open only"),
               "Let one of them be reached with the door shut or propped.");
  }
}

/// Held by no joint and covered by nothing: it falls or rolls as it likes.
bool is_loose(const Pack& pack, int part) {
  const Part& one = pack.parts[to_size(part)];
  return one.removable && one.inside < 0 && one.behind.empty() &&
         holding_joints(pack, part).empty();
}

void check_change(const Pack& pack, int index, Report& report) {
  const PositionChange& change = pack.changes[to_size(index)];
  const Position& from = pack.positions[to_size(change.from)];
  const Position& to = pack.positions[to_size(change.to)];
  const bool lies = from.upright && !to.upright;
  const bool props = !from.propped && to.propped;
  if (!lies && !props) {
    return;
  }
  for (int part = 0; part < to_int(pack.parts.size()); ++part) {
    const std::vector<int>& away = change.needs_removed;
    if (is_loose(pack, part) && std::find(away.begin(), away.end(), part) == away.end()) {
      report.add("loose-part", at("changes", index),
                 cat("nothing holds the part ", quoted(pack.parts[to_size(part)].id),
                     lies ? " when the unit is laid down" : " when the door of a loose unit opens"),
                 "Name it in \"needs_removed\".");
    }
  }
}

}  // namespace

void check_gravity(const Pack& pack, Report& report) {
  check_fixings(pack, report);
  for (int i = 0; i < to_int(pack.positions.size()); ++i) {
    const Position& position = pack.positions[to_size(i)];
    if (position.propped && !position.door_open) {
      report.add("propped-shut", at("positions", i, "propped"),
                 cat("the door is shut in ", quoted(position.id), ", so nothing props it"),
                 "Set \"door_open\" to true, or remove \"propped\".");
    }
  }
  for (int i = 0; i < to_int(pack.changes.size()); ++i) {
    check_change(pack, i, report);
  }
}

}  // namespace kp::pack
