// Where hands are: covers in front as a key, and the conductors that can be met there.
#include <algorithm>
#include <tuple>

#include "base/text.hpp"
#include "job/hazard_rules.hpp"
#include "pack/reach.hpp"

namespace kp::job {
namespace {

bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

void add_index(std::vector<int>& sorted, int one) {
  const auto at = std::lower_bound(sorted.begin(), sorted.end(), one);
  if (at == sorted.end() || *at != one) {
    sorted.insert(at, one);
  }
}

pack::Access sorted_access(pack::Access access) {
  for (pack::Way& way : access) {
    std::sort(way.parts.begin(), way.parts.end());
    std::sort(way.positions.begin(), way.positions.end());
  }
  std::sort(access.begin(), access.end(), [](const pack::Way& a, const pack::Way& b) {
    const bool any_a = a.positions.empty();
    const bool any_b = b.positions.empty();
    return any_a != any_b ? any_a : std::tie(a.parts, a.positions) < std::tie(b.parts, b.positions);
  });
  access.erase(std::unique(access.begin(), access.end()), access.end());
  return access;
}

/// `shared`: what carries the thing. A cover among it takes the thing along.
Spot spot_of(const pack::Access& behind, const std::vector<int>& shared) {
  Spot spot{sorted_access(behind), -1};
  for (const int carrier : shared) {
    for (const pack::Way& way : behind) {
      spot.with = holds(way.parts, carrier) ? carrier : spot.with;
    }
  }
  return spot;
}

std::string way_words(const pack::Pack& pack, const pack::Way& way) {
  std::string out;
  for (const int part : way.parts) {
    out += cat(out.empty() ? "" : "+", pack.parts[to_size(part)].id);
  }
  return out;
}

std::string way_names(const pack::Pack& pack, const pack::Way& way) {
  std::string out;
  for (const int part : way.parts) {
    const std::string& name = pack.parts[to_size(part)].name;
    out += out.empty() ? name : cat(" and ", lower(name));
  }
  return out;
}

/// Collects the conductors by their spot.
class Grouping {
 public:
  Grouping(const pack::Pack& pack, const Spots& spots, Hazards& hazards)
      : pack_(pack), spots_(spots), out_(hazards) {}

  void run(const std::vector<double>& volts) {
    gather(volts);
    name();
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      out_.group_of_joint[i] = find(spots_.joints[i]);
    }
    for (std::size_t i = 0; i < pack_.circuit.points.size(); ++i) {
      out_.group_of_point[i] = find(spots_.points[i]);
    }
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      const int here = find(spots_.parts[i]);
      out_.group_of_part[i] = here >= 0 ? here : terminals_of(to_int(i));
    }
  }

 private:
  [[nodiscard]] int find(const Spot& spot) const {
    const auto at = std::find(keys_.begin(), keys_.end(), spot);
    return at == keys_.end() ? -1 : to_int(static_cast<std::size_t>(at - keys_.begin()));
  }

  Group& take(const Spot& spot, const std::vector<int>& positions) {
    int index = find(spot);
    if (index < 0) {
      index = to_int(keys_.size());
      keys_.push_back(spot);
      Group group;
      group.behind = spot.behind;
      group.with = spot.with;
      group.positions = positions;
      std::sort(group.positions.begin(), group.positions.end());
      out_.groups.push_back(std::move(group));
    }
    Group& group = out_.groups[to_size(index)];
    if (group.positions.empty() || positions.empty()) {
      group.positions.clear();
    } else {
      for (const int position : positions) {
        add_index(group.positions, position);
      }
    }
    return group;
  }

  /// Hot itself, or beside a heater at the same place.
  static bool is_hot(const Hazards::Tags& tags) {
    return std::any_of(tags.begin(), tags.end(),
                       [](const Derived& one) { return one.tag == pack::Contact::hot; });
  }
  static void charge(Group& group, double volts) {
    group.can_hold_charge = group.can_hold_charge || volts > 0;
    group.charge_volts = std::max(group.charge_volts, volts);
  }

  void gather(const std::vector<double>& volts) {
    const pack::Circuit& circuit = pack_.circuit;
    std::vector<bool> shown(pack_.parts.size());
    for (std::size_t i = 0; i < circuit.points.size(); ++i) {
      const pack::TestPoint& point = circuit.points[i];
      if (is_tagged(out_.points[i], pack::Contact::live)) {
        Group& group = take(spots_.points[i], point.positions);
        add_index(group.points, to_int(i));
        add_index(group.parts, point.part);
        charge(group, volts[to_size(point.node)]);
        group.hot = group.hot || is_hot(out_.points[i]);
        shown[to_size(point.part)] = true;
      }
    }
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      const pack::Joint& joint = pack_.joints[i];
      if (is_tagged(out_.joints[i], pack::Contact::live)) {
        Group& group = take(spots_.joints[i], joint.positions);
        add_index(group.joints, to_int(i));
        for (const int part : joint.parts) {
          add_index(group.parts, part);
          shown[to_size(part)] = true;
        }
        charge(group, joint_volts(to_int(i), volts));
        group.hot = group.hot || is_hot(out_.joints[i]);
      }
    }
    // A wired part of which nothing says where its terminals are: they are where it is.
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      if (!shown[i] && is_tagged(out_.parts[i], pack::Contact::live)) {
        Group& group = take(spots_.parts[i], pack_.parts[i].positions);
        add_index(group.parts, to_int(i));
        charge(group, part_volts(to_int(i), volts));
        group.hot = group.hot || is_hot(out_.parts[i]);
      }
    }
  }

  [[nodiscard]] double joint_volts(int joint, const std::vector<double>& volts) const {
    double most = 0;
    for (const pack::Element& element : pack_.circuit.elements) {
      if (element.joint == joint) {
        most = std::max({most, volts[to_size(element.a)], volts[to_size(element.b)]});
      }
    }
    return most;
  }

  [[nodiscard]] double part_volts(int part, const std::vector<double>& volts) const {
    double most = 0;
    for (const pack::Element& element : pack_.circuit.elements) {
      if (element.part == part) {
        most = std::max({most, volts[to_size(element.a)], volts[to_size(element.b)]});
      }
    }
    return most;
  }

  void name() {
    for (std::size_t i = 0; i < out_.groups.size(); ++i) {
      Group& group = out_.groups[i];
      for (const pack::Way& way : group.behind) {
        for (const int part : way.parts) {
          add_index(group.covers, part);
        }
      }
      if (!group.behind.empty()) {
        group.name_of_cover = way_names(pack_, group.behind.front());
      }
      std::string id = group.behind.empty() ? "open" : "behind:";
      for (std::size_t way = 0; way < group.behind.size(); ++way) {
        id += cat(way == 0 ? "" : "/", way_words(pack_, group.behind[way]));
        if (out_.group(id) < 0) {
          break;
        }
      }
      // Only their positions tell them apart, or what they lie in on the bench.
      std::string unique = id;
      for (int n = 2; out_.group(unique) >= 0; ++n) {
        unique = cat(id, "/", n);
      }
      group.id = std::move(unique);
    }
  }

  /// The first group with terminals of the part, or of what it carries.
  [[nodiscard]] int terminals_of(int part) const {
    for (std::size_t i = 0; i < out_.groups.size(); ++i) {
      const std::vector<int>& parts = out_.groups[i].parts;
      if (std::any_of(parts.begin(), parts.end(),
                      [this, part](int one) { return pack::is_within(pack_, one, part); })) {
        return to_int(i);
      }
    }
    return -1;
  }

  const pack::Pack& pack_;
  const Spots& spots_;
  Hazards& out_;
  std::vector<Spot> keys_;
};

}  // namespace

Spots spots_of(const pack::Pack& pack) {
  Spots out;
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    // An assembly is no cover of itself.
    std::vector<int> shared = pack::carriers(pack, to_int(i));
    shared.erase(shared.begin());
    out.parts.push_back(spot_of(pack.parts[i].behind, shared));
  }
  for (const pack::Joint& joint : pack.joints) {
    out.joints.push_back(spot_of(joint.behind, pack::joint_carriers(pack, joint)));
  }
  for (const pack::TestPoint& point : pack.circuit.points) {
    out.points.push_back(spot_of(point.behind, pack::carriers(pack, point.part)));
  }
  return out;
}

void group_conductors(const pack::Pack& pack, const Spots& spots,
                      const std::vector<double>& charge_volts, Hazards& hazards) {
  Grouping(pack, spots, hazards).run(charge_volts);
}

}  // namespace kp::job
