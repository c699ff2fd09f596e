#include <algorithm>
#include <deque>
#include <set>

#include "pack/report.hpp"

namespace kp::pack {
namespace {

/// What waits and what it waits for, as one graph: parts first, joints after them.
class Waiting {
 public:
  Waiting(const Pack& pack, const Reach& reach) : pack_(&pack), reach_(&reach) {
    const int count = to_int(pack.parts.size() + pack.joints.size());
    edges_.resize(to_size(count));
    for (int node = 0; node < count; ++node) {
      if (is_stuck(node)) {
        collect(node);
      }
    }
  }

  [[nodiscard]] int size() const { return to_int(edges_.size()); }
  [[nodiscard]] bool is_part(int node) const { return node < to_int(pack_->parts.size()); }
  [[nodiscard]] int index(int node) const {
    return is_part(node) ? node : node - to_int(pack_->parts.size());
  }
  [[nodiscard]] bool is_stuck(int node) const {
    const std::size_t i = to_size(index(node));
    return is_part(node) ? pack_->parts[i].removable && !reach_->parts[i] : !reach_->joints[i];
  }
  [[nodiscard]] const std::string& id(int node) const {
    const std::size_t i = to_size(index(node));
    return is_part(node) ? pack_->parts[i].id : pack_->joints[i].id;
  }
  [[nodiscard]] std::string pointer(int node) const {
    return at(is_part(node) ? "parts" : "joints", index(node));
  }
  [[nodiscard]] const Access& behind(int node) const {
    const std::size_t i = to_size(index(node));
    return is_part(node) ? pack_->parts[i].behind : pack_->joints[i].behind;
  }
  [[nodiscard]] const std::vector<int>& positions(int node) const {
    const std::size_t i = to_size(index(node));
    return is_part(node) ? pack_->parts[i].positions : pack_->joints[i].positions;
  }

  /// The shortest way from the node back to itself along what waits, or nothing.
  [[nodiscard]] std::vector<int> cycle(int start) const {
    std::vector<int> before(edges_.size(), -1);
    std::deque<int> open = {start};
    while (!open.empty()) {
      const int node = open.front();
      open.pop_front();
      for (const int next : edges_[to_size(node)]) {
        if (next == start) {
          std::vector<int> way;
          for (int step = node; step != start; step = before[to_size(step)]) {
            way.push_back(step);
          }
          way.push_back(start);
          std::reverse(way.begin(), way.end());
          return way;
        }
        if (before[to_size(next)] < 0) {
          before[to_size(next)] = node;
          open.push_back(next);
        }
      }
    }
    return {};
  }

 private:
  void collect(int node) {
    for (const Way& way : behind(node)) {
      for (const int part : way.parts) {
        wait_for(node, part);
      }
    }
    if (!is_part(node)) {
      for (const int joint : pack_->joints[to_size(index(node))].needs_released) {
        wait_for(node, to_int(pack_->parts.size()) + joint);
      }
    }
    if (is_part(node)) {
      for (const int joint : holding_joints(*pack_, node)) {
        wait_for(node, to_int(pack_->parts.size()) + joint);
      }
    }
  }
  void wait_for(int node, int other) {
    if (is_stuck(other)) {
      edges_[to_size(node)].push_back(other);
    }
  }

  const Pack* pack_;
  const Reach* reach_;
  std::vector<std::vector<int>> edges_;
};

void report_cycle(const Waiting& waiting, const std::vector<int>& cycle, Report& report) {
  std::string what;
  for (std::size_t i = 0; i < cycle.size(); ++i) {
    const int other = cycle[(i + 1) % cycle.size()];
    what += cat(i == 0 ? "" : ", ", quoted(waiting.id(cycle[i])), " waits for ",
                quoted(waiting.id(other)));
  }
  report.add("cover-cycle", waiting.pointer(cycle[0]), std::move(what),
             "Open one of these covers in another way.");
}

void check_cycles(const Waiting& waiting, Report& report) {
  std::set<int> told;
  for (int node = 0; node < waiting.size(); ++node) {
    const std::vector<int> cycle = waiting.cycle(node);
    const bool known = std::any_of(cycle.begin(), cycle.end(),
                                   [&told](int other) { return told.count(other) > 0; });
    if (!cycle.empty() && !known) {
      told.insert(cycle.begin(), cycle.end());
      report_cycle(waiting, cycle, report);
    }
  }
}

/// The part that never comes away in each alternative; empty where one alternative has none.
std::vector<std::string> fixed_covers(const Pack& pack, const Access& behind) {
  std::vector<std::string> out;
  const auto stays = [&pack](int cover) {
    const std::vector<int> all = carriers(pack, cover);
    return std::none_of(all.begin(), all.end(),
                        [&pack](int part) { return pack.parts[to_size(part)].removable; });
  };
  for (const Way& way : behind) {
    const auto fixed = std::find_if(way.parts.begin(), way.parts.end(), stays);
    if (fixed == way.parts.end()) {
      return {};
    }
    out.push_back(pack.parts[to_size(*fixed)].id);
  }
  return out;
}

void check_node(const Pack& pack, const Reach& reach, const Waiting& waiting, int node,
                Report& report) {
  const char* kind = waiting.is_part(node) ? "part" : "joint";
  if (!any_reached(waiting.positions(node), reach)) {
    report.add(waiting.is_part(node) ? "part-out-of-reach" : "joint-out-of-reach",
               waiting.pointer(node) + "/positions",
               cat("the ", kind, " ", quoted(waiting.id(node)),
                   " is reached only in positions that are never taken"),
               "Name a position that can be taken.");
  }
  const std::vector<std::string> fixed = fixed_covers(pack, waiting.behind(node));
  if (!fixed.empty()) {
    report.add("cover-fixed", waiting.pointer(node) + "/behind",
               cat("the ", kind, " ", quoted(waiting.id(node)), " is behind ", quoted(fixed[0]),
                   ", which never comes away"),
               "Name covers that can be removed.");
  }
}

/// A way that is bound to positions in which its thing is never at hand leads nowhere.
void check_ways(const Pack& pack, const Reach& reach, const Waiting& waiting, int node,
                Report& report) {
  const std::vector<int>& own = waiting.positions(node);
  const std::vector<bool> places = places_of(own, reach);
  if (!any_reached(own, reach)) {
    return;
  }
  const Access& behind = waiting.behind(node);
  for (int k = 0; k < to_int(behind.size()); ++k) {
    const Way way{std::vector<int>{}, behind[to_size(k)].positions};
    if (!is_open(pack, {way}, {}, std::vector<bool>(pack.parts.size()), places)) {
      report.add("way-out-of-reach", cat(waiting.pointer(node), "/behind/", k, "/positions"),
                 cat("the ", waiting.is_part(node) ? "part " : "joint ", quoted(waiting.id(node)),
                     " is never at hand in the positions of this way"),
                 "Name positions in which both can be, or remove the way.");
    }
  }
}

void check_inside(const Pack& pack, Report& report) {
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    const int outer = pack.parts[i].inside;
    if (outer >= 0 && is_within(pack, outer, to_int(i))) {
      report.add("inside-cycle", at("parts", to_int(i), "inside"),
                 cat("the part ", quoted(pack.parts[i].id), " is inside itself by way of ",
                     quoted(pack.parts[to_size(outer)].id)),
                 "Name the assembly that it comes away with, or remove \"inside\".");
    }
  }
}

}  // namespace

void check_freedom(const Pack& pack, const Reach& reach, Report& report) {
  check_inside(pack, report);
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    const Part& part = pack.parts[i];
    if (part.removable && part.behind.empty() && part.why.empty() &&
        holding_joints(pack, to_int(i)).empty()) {
      report.add("part-not-freed", at("parts", to_int(i)),
                 cat("nothing holds the part ", quoted(part.id), " and nothing says why"),
                 "Add its joint, say in \"why\" how it sits, or set \"removable\" to false.");
    }
  }
  const Waiting waiting(pack, reach);
  for (int node = 0; node < waiting.size(); ++node) {
    check_ways(pack, reach, waiting, node, report);
    if (waiting.is_stuck(node)) {
      check_node(pack, reach, waiting, node, report);
    }
  }
  check_cycles(waiting, report);
}

}  // namespace kp::pack
