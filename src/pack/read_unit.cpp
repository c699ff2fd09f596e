#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr int kDay = 86400;

Position read_position(data::Reader& from) {
  Position position;
  position.id = id_text(from, "id");
  position.title = words(from, "title");
  position.drawing = id_text(from, "drawing");
  position.instruction = words(from, "instruction");
  position.door_open = from.flag_or("door_open", false);
  position.propped = from.flag_or("propped", false);
  position.upright = from.flag_or("upright", true);
  from.done();
  return position;
}

PositionChange read_change(data::Reader& from, const Names& names) {
  PositionChange change;
  change.from = reference(from, "from", names.positions, "position");
  change.to = reference(from, "to", names.positions, "position");
  change.seconds = whole(from, "seconds", 0, kDay);
  change.people = whole_or(from, "people", 1, 1, 6);
  change.instruction = words(from, "instruction");
  change.caution = words_or_none(from, "caution");
  change.contacts = contacts(from, "contacts");
  change.needs_released = references(from, "needs_released", names.joints, "joint");
  change.needs_removed = references(from, "needs_removed", names.parts, "part");
  from.done();
  return change;
}

Tool read_tool(data::Reader& from) {
  Tool tool;
  tool.id = id_text(from, "id");
  tool.title = words(from, "title");
  tool.change_seconds = whole(from, "change_seconds", 0, 600);
  from.done();
  return tool;
}

}  // namespace

void read_unit(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& position : items(root, "positions", 1)) {
    pack.positions.push_back(read_position(position));
  }
  for (data::Reader& change : items(root, "changes", 0)) {
    pack.changes.push_back(read_change(change, names));
  }
  for (data::Reader& tool : items(root, "tools", 1)) {
    pack.tools.push_back(read_tool(tool));
  }
}

}  // namespace kp::pack
