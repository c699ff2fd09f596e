#pragma once
// The least that the trade asks before an act, worked out from the pack as it is written: its kinds,
// its circuit, its covers, its masses. Nothing of job/hazards or of the gate's rows is asked, so the
// two can be held against each other. Class by class after 29 CFR 1910.147(d), (e), (f) and
// 1910.333(a), (b); what has no public source is said beside it.

#include <algorithm>
#include <string>
#include <vector>

#include "job/acts_table.hpp"

namespace kp::test::trade {

enum class Power { any, held, dead, on };
enum class Water { any, shut, off, watched, still };

/// What must be shown at least. More is never wrong here.
struct Least {
  Power power = Power::any;
  Water water = Water::any;
  bool neutral = false;            ///< no current in the house's neutral, which other lines may share
  bool parted = false;             ///< line and neutral off the supply: the tester is a source itself
  bool upright = false, fixed = false, door_shut = false;
  bool leads_joined = false, wet_joined = false, covers_on = false, reason = false;
  bool cool = false, secure = false;
  int people = 1;
  /// Groups of bare terminals that a hand can meet there, by what is in front of them.
  std::vector<pack::Access> bare;
  std::vector<pack::Contact> cautions;   ///< the author's own
};

inline bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}
inline bool tagged(const std::vector<pack::Contact>& tags, pack::Contact tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

class Pack {
 public:
  explicit Pack(const pack::Pack& pack) : pack_(pack), earth_(pack.circuit.nodes.size()) {
    // Earth is what wires and connectors join to the protective conductor; all else is a supply
    // conductor, neutral too: "treated as live" (HSE GS38; common practice).
    if (pack.circuit.mains.earth >= 0) {
      earth_[to_size(pack.circuit.mains.earth)] = true;
    }
    for (bool grown = true; grown;) {
      grown = false;
      for (const pack::Element& one : pack.circuit.elements) {
        const bool joins = one.kind == pack::ElementKind::wire || one.kind == pack::ElementKind::connector;
        const bool a = earth_[to_size(one.a)];
        const bool b = earth_[to_size(one.b)];
        if (joins && a != b) {
          earth_[to_size(one.a)] = earth_[to_size(one.b)] = true;
          grown = true;
        }
      }
    }
  }

  [[nodiscard]] bool live(int node) const { return !earth_[to_size(node)]; }

  /// Bare terminals that stand open once this is open: whichever way was gone, theirs is gone too.
  /// Only those with a cover of their own, and still in the machine.
  [[nodiscard]] std::vector<pack::Access> bare_at(const pack::Access& open, const std::vector<int>& positions) const {
    std::vector<pack::Access> out;
    for (const pack::Access& there : places()) {
      const bool met = !open.empty() && std::all_of(open.begin(), open.end(), [&](const pack::Way& way) {
        return std::any_of(there.begin(), there.end(), [&](const pack::Way& other) {
          const std::vector<int>& where = way.positions.empty() ? positions : way.positions;
          return within(other.parts, way.parts) &&
                 (other.positions.empty() || (!where.empty() && within(where, other.positions)));
        });
      });
      if (met && std::find(out.begin(), out.end(), there) == out.end()) {
        out.push_back(there);
      }
    }
    return out;
  }

  [[nodiscard]] bool electrical(const pack::Joint& joint) const {
    const int index = to_int(static_cast<std::size_t>(&joint - pack_.joints.data()));
    const bool wired = std::any_of(
        pack_.circuit.elements.begin(), pack_.circuit.elements.end(),
        [&](const pack::Element& one) { return one.joint == index && (live(one.a) || live(one.b)); });
    return wired || joint.kind == pack::JointKind::plug || joint.kind == pack::JointKind::spade;
  }
  [[nodiscard]] bool supply(const pack::Joint& joint) const {
    const int index = to_int(static_cast<std::size_t>(&joint - pack_.joints.data()));
    const pack::Mains& mains = pack_.circuit.mains;
    return std::any_of(pack_.circuit.elements.begin(), pack_.circuit.elements.end(), [&](const pack::Element& one) {
      return one.joint == index && (one.a == mains.line || one.b == mains.line || one.a == mains.neutral || one.b == mains.neutral);
    });
  }
  /// On a cord the plug parts the neutral, and no other line shares it.
  [[nodiscard]] bool parts_neutral(const pack::Joint& joint) const {
    const int index = to_int(static_cast<std::size_t>(&joint - pack_.joints.data()));
    const int neutral = pack_.circuit.mains.neutral;
    return pack_.supply.connection == pack::Connection::fixed &&
           std::any_of(pack_.circuit.elements.begin(), pack_.circuit.elements.end(), [&](const pack::Element& one) {
             return one.joint == index && (one.a == neutral || one.b == neutral);
           });
  }
  [[nodiscard]] bool heats(int part) const {
    return std::any_of(pack_.circuit.elements.begin(), pack_.circuit.elements.end(), [&](const pack::Element& one) {
      return one.part == part && one.kind == pack::ElementKind::heater;
    });
  }
  [[nodiscard]] bool wired(int part) const {
    return std::any_of(pack_.circuit.elements.begin(), pack_.circuit.elements.end(), [&](const pack::Element& one) {
      return one.part == part && (live(one.a) || live(one.b));
    });
  }
  /// A capacitor's own terminals are met there.
  [[nodiscard]] bool charged(const pack::Access& place) const {
    return std::any_of(pack_.circuit.points.begin(), pack_.circuit.points.end(), [&](const pack::TestPoint& point) {
      return point.behind == place &&
             std::any_of(pack_.circuit.elements.begin(), pack_.circuit.elements.end(), [&](const pack::Element& one) {
               return one.kind == pack::ElementKind::capacitor && (one.a == point.node || one.b == point.node);
             });
    });
  }

  [[nodiscard]] Least of(const ActRow& row) const {
    if (row.joint != nullptr) return of_joint(*row.joint, row.act.rfind("release", 0) == 0);
    if (row.part != nullptr) return of_part(*row.part);
    if (row.change != nullptr) return of_change(*row.change);
    if (row.test != nullptr) return of_test(*row.test);
    if (row.prove != nullptr) return of_prove(*row.prove);
    return of_safe(row);
  }

 private:
  [[nodiscard]] static bool within(const std::vector<int>& some, const std::vector<int>& all) {
    return std::all_of(some.begin(), some.end(), [&](int one) { return holds(all, one); });
  }
  /// What is in front of bare live terminals, each once.
  [[nodiscard]] std::vector<pack::Access> places() const {
    std::vector<pack::Access> out;
    const auto add = [&](const pack::Access& behind) {
      if (!behind.empty() && std::find(out.begin(), out.end(), behind) == out.end()) out.push_back(behind);
    };
    for (const pack::TestPoint& point : pack_.circuit.points) {
      if (live(point.node)) add(point.behind);
    }
    for (const pack::Joint& joint : pack_.joints) {
      if (electrical(joint)) add(joint.behind);
    }
    return out;
  }

  /// Hands in: everything off, and cool and held where it is hot or heavy.
  [[nodiscard]] Least hands(const pack::Access& behind, const std::vector<pack::Contact>& tags,
                            const std::vector<int>& positions = {}) const {
    Least least;
    least.power = Power::dead;
    least.water = Water::off;
    least.fixed = true;
    least.bare = bare_at(behind, positions);
    least.cool = tagged(tags, pack::Contact::hot);
    least.secure = tagged(tags, pack::Contact::heavy);
    least.cautions = tags;
    return least;
  }
  [[nodiscard]] Least of_joint(const pack::Joint& joint, bool release) const {
    Least least = hands(joint.behind, joint.contacts, joint.positions);
    const bool pipe = joint.kind == pack::JointKind::hose_clamp || tagged(joint.contacts, pack::Contact::wet);
    least.water = release && pipe ? Water::watched : Water::off;
    least.neutral = parts_neutral(joint);
    for (const int part : joint.parts) {
      least.cool = least.cool || heats(part);
    }
    return least;
  }
  [[nodiscard]] Least of_part(const pack::Part& part) const {
    Least least = hands(part.behind, part.contacts, part.positions);
    const int index = to_int(static_cast<std::size_t>(&part - pack_.parts.data()));
    least.cool = least.cool || heats(index);
    least.secure = least.secure || part.mass_kg > 16;   // HSE, single lift, close: [2nd]
    return least;
  }
  [[nodiscard]] Least of_change(const pack::PositionChange& change) const {
    const pack::Position& from = pack_.positions[to_size(change.from)];
    const pack::Position& to = pack_.positions[to_size(change.to)];
    Least least;
    least.people = change.people;
    least.cautions = change.contacts;
    if (!from.upright || !to.upright) {
      least.power = from.upright ? Power::dead : Power::held;   // stood up again, it may be found so
      least.water = from.upright ? Water::off : Water::any;
      least.door_shut = true;
      double kg = 0;
      for (const pack::Part& part : pack_.parts) kg += part.mass_kg;
      least.people = kg > 25 ? std::max(2, least.people) : least.people;   // HSE L23 para 120
    } else if (from.door_open == to.door_open) {
      least.power = Power::held;
      least.water = Water::shut;
      least.upright = true;
    }
    return least;
  }
  [[nodiscard]] Least of_test(const pack::Test& test) const {
    Least least;
    const pack::Part& part = pack_.parts[to_size(test.part)];
    if (test.live()) {
      least.power = Power::on;
      least.covers_on = least.leads_joined = least.wet_joined = least.upright = true;
      least.reason = test.on_circuit();
      return least;
    }
    if (test.static_water) return still(test.behind, test.positions);
    const bool covered = !test.behind.empty() || !test.needs_released.empty();
    if (covered || test.on_circuit()) {
      least = hands(test.behind, part.contacts, test.positions);
      for (const int point : {test.point_a, test.point_b}) {
        if (point < 0) continue;
        for (const pack::Access& place : bare_at(pack_.circuit.points[to_size(point)].behind, {})) {
          if (std::find(least.bare.begin(), least.bare.end(), place) == least.bare.end()) least.bare.push_back(place);
        }
      }
      // Hot on purpose: the heat is in the water, which stays where it is.
      least.cool = least.cool && !test.hot_at.has_value();
      least.water = test.hot_at.has_value() ? Water::shut : Water::off;
      least.upright = test.hot_at.has_value();
      return least;
    }
    if (test.eyes) {
      least.fixed = true;
      return least;
    }
    const bool tub = !test.positions.empty() && std::all_of(test.positions.begin(), test.positions.end(), [&](int at) {
      return pack_.positions[to_size(at)].door_open;
    });
    least.fixed = true;
    least.cautions = part.contacts;
    if (wired(test.part)) least = hands(test.behind, part.contacts, test.positions);
    else if (tub) {
      least.power = Power::held;
      least.water = Water::shut;
    }
    return least;
  }
  [[nodiscard]] Least still(const pack::Access& behind, const std::vector<int>& positions) const {
    Least least;
    least.power = Power::dead;
    least.water = Water::still;
    least.bare = bare_at(behind, positions);
    least.leads_joined = least.wet_joined = least.fixed = true;
    return least;
  }
  [[nodiscard]] Least of_prove(const pack::ProveTest& test) const {
    Least least;
    if (test.when == pack::ProveWhen::running) {
      least.power = Power::on;
      least.covers_on = least.leads_joined = least.wet_joined = least.upright = true;
      return least;
    }
    if (test.when == pack::ProveWhen::after) {
      least.fixed = true;
      return least;
    }
    std::vector<pack::Contact> tags;
    if (test.part >= 0) tags = pack_.parts[to_size(test.part)].contacts;
    if (test.static_water) {
      least = still(test.behind, test.positions);
    } else {
      least = hands(test.behind, tags, test.positions);
      least.cool = false;   // what is read there may be warm; no part is held
      least.parted = test.item == pack::ProveItem::b3;
      least.water = least.parted ? Water::shut : Water::off;
    }
    least.secure = false;
    least.cautions = tags;
    return least;
  }
  [[nodiscard]] Least of_safe(const ActRow& row) const {
    using safety::Act;
    Least least;
    switch (row.after.act) {
      case Act::try_controls:
      case Act::restart_series:
      case Act::watch:
        least.power = row.after.act == Act::try_controls ? Power::held : Power::any;
        break;
      case Act::reading:
        least.power = Power::held;
        least.water = Water::shut;
        least.upright = true;
        break;
      case Act::discharge:
        least.power = Power::dead;
        break;
      case Act::relieve:
        least.power = Power::dead;
        least.water = Water::shut;
        for (const int joint : pack_.water.relieve_joints) {
          const auto more = bare_at(pack_.joints[to_size(joint)].behind, pack_.joints[to_size(joint)].positions);
          least.bare.insert(least.bare.end(), more.begin(), more.end());
        }
        break;
      case Act::relieve_outside:
        least.water = Water::shut;
        break;
      case Act::power_on:
        least.covers_on = least.leads_joined = least.wet_joined = least.upright = true;
        break;
      case Act::water_on:
        least.wet_joined = true;
        break;
      case Act::water_static:
        least.power = Power::dead;
        least.wet_joined = least.leads_joined = true;
        break;
      case Act::leave:
        least.power = Power::held;
        least.water = Water::shut;
        least.upright = true;
        break;
      default:
        break;
    }
    return least;
  }

  const pack::Pack& pack_;
  std::vector<bool> earth_;
};

}  // namespace kp::test::trade
