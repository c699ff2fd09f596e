#include "pack/reach.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::pack {
namespace {

bool contains(const std::vector<int>& list, int value) {
  return std::find(list.begin(), list.end(), value) != list.end();
}

bool all_set(const std::vector<int>& indices, const std::vector<bool>& set) {
  return std::all_of(indices.begin(), indices.end(),
                     [&set](int index) { return set[to_size(index)]; });
}

bool spread_positions(const Pack& pack, Reach& reach) {
  bool grew = false;
  for (const PositionChange& change : pack.changes) {
    const std::size_t to = to_size(change.to);
    if (reach.positions[to_size(change.from)] && !reach.positions[to] &&
        all_set(change.needs_released, reach.joints) &&
        is_open(pack, {Way(change.needs_removed)}, {}, reach.parts)) {
      reach.positions[to] = true;
      grew = true;
    }
  }
  return grew;
}

bool spread_joints(const Pack& pack, Reach& reach) {
  bool grew = false;
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    const Joint& joint = pack.joints[i];
    if (!reach.joints[i] && any_reached(joint.positions, reach) &&
        all_set(joint.needs_released, reach.joints) &&
        is_open(pack, joint.behind, joint_carriers(pack, joint), reach.parts,
                places_of(joint.positions, reach))) {
      reach.joints[i] = true;
      grew = true;
    }
  }
  return grew;
}

bool spread_parts(const Pack& pack, const std::vector<std::vector<int>>& holding, Reach& reach) {
  bool grew = false;
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    const Part& part = pack.parts[i];
    if (!reach.parts[i] && part.removable && any_reached(part.positions, reach) &&
        is_open(pack, part.behind, carriers(pack, to_int(i)), reach.parts,
                places_of(part.positions, reach)) &&
        all_set(holding[i], reach.joints)) {
      reach.parts[i] = true;
      grew = true;
    }
  }
  return grew;
}

}  // namespace

bool is_within(const Pack& pack, int part, int assembly) {
  return contains(carriers(pack, part), assembly);
}

std::vector<int> holding_joints(const Pack& pack, int part) {
  std::vector<int> out;
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    const std::vector<int>& held = pack.joints[i].parts;
    const auto within = [&pack, part](int other) { return is_within(pack, other, part); };
    const bool alone = held.size() == 1 && held[0] == part;
    const bool crosses = std::any_of(held.begin(), held.end(), within) &&
                         !std::all_of(held.begin(), held.end(), within);
    if (alone || crosses) {
      out.push_back(to_int(i));
    }
  }
  return out;
}

std::vector<int> carriers(const Pack& pack, int part) {
  std::vector<int> out;
  while (part >= 0 && !contains(out, part)) {
    out.push_back(part);
    part = pack.parts[to_size(part)].inside;
  }
  return out;
}

std::vector<int> joint_carriers(const Pack& pack, const Joint& joint) {
  std::vector<int> out = carriers(pack, joint.parts[0]);
  if (joint.parts.size() == 1) {
    out.erase(out.begin());
    return out;
  }
  const std::vector<int> other = carriers(pack, joint.parts[1]);
  out.erase(std::remove_if(out.begin(), out.end(),
                           [&other](int part) { return !contains(other, part); }),
            out.end());
  return out;
}

bool is_open(const Pack& pack, const Access& behind, const std::vector<int>& shared,
             const std::vector<bool>& removed, const std::vector<bool>& places) {
  const auto away = [&](int cover) {
    const std::vector<int> all = carriers(pack, cover);
    return std::any_of(all.begin(), all.end(), [&](int part) {
      return removed[to_size(part)] && (part == cover || !contains(shared, part));
    });
  };
  const auto served = [&places](const Way& way) {
    return way.positions.empty() || places.empty() ||
           std::any_of(way.positions.begin(), way.positions.end(),
                       [&places](int at) { return places[to_size(at)]; });
  };
  return behind.empty() || std::any_of(behind.begin(), behind.end(), [&](const Way& way) {
           return served(way) && std::all_of(way.parts.begin(), way.parts.end(), away);
         });
}

bool any_reached(const std::vector<int>& positions, const Reach& reach) {
  return positions.empty() || std::any_of(positions.begin(), positions.end(), [&reach](int at) {
           return reach.positions[to_size(at)];
         });
}

std::vector<bool> places_of(const std::vector<int>& positions, const Reach& reach) {
  std::vector<bool> out = reach.positions;
  for (std::size_t at = 0; at < out.size(); ++at) {
    out[at] = out[at] && (positions.empty() || contains(positions, to_int(at)));
  }
  return out;
}

Reach reach_of(const Pack& pack) {
  Reach reach;
  reach.positions.resize(pack.positions.size());
  reach.joints.resize(pack.joints.size());
  reach.parts.resize(pack.parts.size());
  if (!reach.positions.empty()) {
    reach.positions[0] = true;
  }
  std::vector<std::vector<int>> holding;
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    holding.push_back(holding_joints(pack, to_int(i)));
  }
  bool grew = true;
  while (grew) {
    grew = spread_positions(pack, reach);
    grew = spread_joints(pack, reach) || grew;
    grew = spread_parts(pack, holding, reach) || grew;
  }
  return reach;
}

}  // namespace kp::pack
