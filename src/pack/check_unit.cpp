#include <algorithm>

#include "pack/report.hpp"

namespace kp::pack {
namespace {

void check_drawing(const std::string& id, const std::vector<std::string>& known,
                   std::string pointer, Report& report) {
  if (id.empty() || std::find(known.begin(), known.end(), id) != known.end()) {
    return;
  }
  const auto hint = nearest(id, known);
  report.add("unknown-drawing", std::move(pointer), cat("there is no drawing ", quoted(id)),
             hint ? cat("Did you mean ", quoted(*hint), "?")
                  : "Name a drawing of the parts folder, or draw it.");
}

/// Why the position was never taken, as far as one change can say it.
std::string reason_unreached(const Pack& pack, const Reach& reach, int position) {
  for (const PositionChange& change : pack.changes) {
    if (change.to != position || !reach.positions[to_size(change.from)]) {
      continue;
    }
    for (const int joint : change.needs_released) {
      if (!reach.joints[to_size(joint)]) {
        return cat("the change from ", quoted(pack.positions[to_size(change.from)].id),
                   " needs the joint ", quoted(pack.joints[to_size(joint)].id),
                   ", which cannot be released before");
      }
    }
    for (const int part : change.needs_removed) {
      if (!is_open(pack, {Way{part}}, {}, reach.parts)) {
        return cat("the change from ", quoted(pack.positions[to_size(change.from)].id),
                   " needs the part ", quoted(pack.parts[to_size(part)].id),
                   " away, which cannot be removed before");
      }
    }
  }
  return "no change leads to it";
}

}  // namespace

void check_drawings(const Pack& pack, const std::vector<std::string>& drawing_ids,
                    Report& report) {
  check_drawing(pack.about.thumbnail, drawing_ids, "/about/thumbnail", report);
  for (std::size_t i = 0; i < pack.positions.size(); ++i) {
    check_drawing(pack.positions[i].drawing, drawing_ids, at("positions", to_int(i), "drawing"),
                  report);
  }
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    check_drawing(pack.parts[i].drawing, drawing_ids, at("parts", to_int(i), "drawing"), report);
  }
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    check_drawing(pack.joints[i].drawing, drawing_ids, at("joints", to_int(i), "drawing"), report);
  }
}

void check_positions(const Pack& pack, const Reach& reach, Report& report) {
  if (pack.tools[0].id != "hand" || pack.tools[0].change_seconds != 0) {
    report.add("first-tool", "/tools/0",
               cat("the first tool is ", quoted(pack.tools[0].id), " and its change takes ",
                   pack.tools[0].change_seconds, " s"),
               "Put the tool \"hand\" first, with 0 seconds of change.");
  }
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    const PositionChange& change = pack.changes[i];
    const bool back = std::any_of(
        pack.changes.begin(), pack.changes.end(), [&change](const PositionChange& other) {
          return other.from == change.to && other.to == change.from;
        });
    if (!back) {
      report.add("change-one-way", at("changes", to_int(i)),
                 cat("nothing leads back from ", quoted(pack.positions[to_size(change.to)].id),
                     " to ", quoted(pack.positions[to_size(change.from)].id)),
                 "Add the change back.");
    }
  }
  for (std::size_t i = 0; i < pack.positions.size(); ++i) {
    if (!reach.positions[i]) {
      report.add("position-unreachable", at("positions", to_int(i)),
                 cat("the position ", quoted(pack.positions[i].id), " is never taken: ",
                     reason_unreached(pack, reach, to_int(i))),
                 "Add a change that leads to it, or free what holds it back.");
    }
  }
}

}  // namespace kp::pack
