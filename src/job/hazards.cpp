#include "job/hazards.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/hazard_rules.hpp"

namespace kp::job {
namespace {

/// Both lists, each tag once, in the order of the enumeration.
std::vector<pack::Contact> united(const std::vector<pack::Contact>& authored,
                                  const Hazards::Tags& derived) {
  std::vector<bool> set(to_size(pack::kContacts));
  for (const pack::Contact tag : authored) {
    set[to_size(static_cast<int>(tag))] = true;
  }
  for (const Derived& one : derived) {
    set[to_size(static_cast<int>(one.tag))] = true;
  }
  std::vector<pack::Contact> out;
  for (int tag = 0; tag < pack::kContacts; ++tag) {
    if (set[to_size(tag)]) {
      out.push_back(static_cast<pack::Contact>(tag));
    }
  }
  return out;
}

bool holds_all(const std::vector<int>& all, const std::vector<int>& some) {
  return std::all_of(some.begin(), some.end(), [&all](int one) {
    return std::find(all.begin(), all.end(), one) != all.end();
  });
}

}  // namespace

std::vector<pack::Contact> Hazards::joint(const pack::Pack& pack, int index) const {
  return united(pack.joints[to_size(index)].contacts, joints[to_size(index)]);
}

std::vector<pack::Contact> Hazards::part(const pack::Pack& pack, int index) const {
  return united(pack.parts[to_size(index)].contacts, parts[to_size(index)]);
}

std::vector<pack::Contact> Hazards::point(const pack::Pack& pack, int index) const {
  return united(pack.circuit.points[to_size(index)].contacts, points[to_size(index)]);
}

std::vector<pack::Contact> Hazards::change(const pack::Pack& pack, int index) const {
  return united(pack.changes[to_size(index)].contacts, changes[to_size(index)]);
}

int Hazards::group(std::string_view group_id) const {
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (groups[i].id == group_id) {
      return to_int(i);
    }
  }
  return -1;
}

std::vector<int> Hazards::groups_open_at(const pack::Access& behind,
                                         const std::vector<int>& positions) const {
  const auto opens = [&positions](const pack::Way& way, const pack::Way& other) {
    const std::vector<int>& where = way.positions.empty() ? positions : way.positions;
    return holds_all(way.parts, other.parts) &&
           (other.positions.empty() || (!where.empty() && holds_all(other.positions, where)));
  };
  std::vector<int> out;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    const pack::Access& there = groups[i].behind;
    const bool met = groups[i].with < 0 && !there.empty() &&
                     std::all_of(behind.begin(), behind.end(), [&](const pack::Way& way) {
                       return std::any_of(there.begin(), there.end(), [&](const pack::Way& other) {
                         return opens(way, other);
                       });
                     });
    if (met && !behind.empty()) {
      out.push_back(to_int(i));
    }
  }
  return out;
}

bool Hazards::is_wet(const pack::Pack& pack, int index) const {
  const auto& authored = pack.joints[to_size(index)].contacts;
  return std::find(authored.begin(), authored.end(), pack::Contact::wet) != authored.end() ||
         is_tagged(joints[to_size(index)], pack::Contact::wet);
}

bool Hazards::hangs_by_water(const pack::Pack& pack, int index) const {
  const int here = group_of_joint[to_size(index)];
  for (int joint = 0; here >= 0 && joint < to_int(pack.joints.size()); ++joint) {
    if (group_of_joint[to_size(joint)] == here && is_wet(pack, joint)) {
      return is_tagged(joints[to_size(index)], pack::Contact::live);
    }
  }
  return false;
}

Hazards hazards_of(const pack::Pack& pack) {
  Hazards out;
  out.joints.resize(pack.joints.size());
  out.parts.resize(pack.parts.size());
  out.points.resize(pack.circuit.points.size());
  out.changes.resize(pack.changes.size());
  out.change_people.assign(pack.changes.size(), 1);
  out.group_of_joint.assign(pack.joints.size(), -1);
  out.group_of_part.assign(pack.parts.size(), -1);
  out.group_of_point.assign(pack.circuit.points.size(), -1);

  const Spots spots = spots_of(pack);
  const std::vector<double> volts = charge_volts_of(pack);
  out.live_nodes = live_nodes_of(pack.circuit);
  out.charged_nodes.resize(volts.size());
  std::transform(volts.begin(), volts.end(), out.charged_nodes.begin(),
                 [](double most) { return most > 0; });
  out.bleed_seconds = bleed_seconds_of(pack);
  tag_conductors(pack, spots, out);
  tag_heat(pack, spots, out);
  tag_springs(pack, out);
  tag_water(pack, out);
  tag_mass(pack, out);
  group_conductors(pack, spots, volts, out);
  return out;
}

}  // namespace kp::job
