// Tags from springs, mass and water: what pulls, falls and runs out.
#include <algorithm>

#include "base/text.hpp"
#include "job/hazard_rules.hpp"
#include "pack/reach.hpp"

namespace kp::job {
namespace {

/// A lift by anybody, close to the body at knuckle height; 25 kg is the filter for a strong person
/// (HSE manual handling, by a second account).
constexpr double kHeavyKilograms = 16;
constexpr double kOnePerson = 25;

bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

bool is_electrical(pack::JointKind kind) {
  return kind == pack::JointKind::plug || kind == pack::JointKind::spade;
}

/// The way back of a change, or -1.
int way_back(const pack::Pack& pack, const pack::PositionChange& change) {
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    if (pack.changes[i].from == change.to && pack.changes[i].to == change.from) {
      return to_int(i);
    }
  }
  return -1;
}

/// The joints that are loose during a change: those that it needs, or that its way back needed.
std::vector<int> loose_during(const pack::Pack& pack, const pack::PositionChange& change) {
  std::vector<int> out = change.needs_released;
  const int back = way_back(pack, change);
  if (back >= 0) {
    const std::vector<int>& needed = pack.changes[to_size(back)].needs_released;
    out.insert(out.end(), needed.begin(), needed.end());
  }
  return out;
}

/// Positions that are taken with nothing undone: the unit stands fixed as it was found. Of a unit
/// that nothing holds only the first one is.
std::vector<bool> fixed_positions(const pack::Pack& pack) {
  std::vector<bool> fixed(pack.positions.size());
  if (fixed.empty()) {
    return fixed;
  }
  fixed[0] = true;
  const bool held = std::any_of(
      pack.changes.begin(), pack.changes.end(),
      [](const pack::PositionChange& change) { return !change.needs_released.empty(); });
  bool grew = held;
  while (grew) {
    grew = false;
    for (const pack::PositionChange& change : pack.changes) {
      if (fixed[to_size(change.from)] && !fixed[to_size(change.to)] &&
          loose_during(pack, change).empty()) {
        fixed[to_size(change.to)] = true;
        grew = true;
      }
    }
  }
  return fixed;
}

/// An assembly weighs what is written, or what is inside, whichever is more.
double kilograms_of(const pack::Pack& pack, int part) {
  double inside = 0;
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    if (pack.parts[i].inside == part) {
      inside += kilograms_of(pack, to_int(i));
    }
  }
  return std::max(inside, pack.parts[to_size(part)].mass_kg);
}

}  // namespace

int people_to_lift(double kilograms) {
  if (kilograms <= kOnePerson) {
    return 1;
  }
  if (kilograms <= 2 * kOnePerson * 2 / 3) {
    return 2;
  }
  return kilograms <= 3 * kOnePerson / 2 ? 3 : 4;
}

void tag_springs(const pack::Pack& pack, Hazards& hazards) {
  using pack::Contact;
  const auto is_spring = [&pack](int joint) {
    return pack.joints[to_size(joint)].kind == pack::JointKind::spring;
  };
  // What is fastened against a spring carries what the spring balances: a hinge has the door.
  const auto fastened = [&](int spring, int part) {
    for (int i = 0; i < to_int(pack.joints.size()); ++i) {
      const pack::Joint& joint = pack.joints[to_size(i)];
      if (i != spring && !is_spring(i) && holds(joint.parts, part)) {
        const std::string why = cat("against spring ", pack.joints[to_size(spring)].id);
        add_tag(hazards.parts[to_size(part)], Contact::heavy, why, true);
        add_tag(hazards.joints[to_size(i)], Contact::heavy, why, true);
        // Not where the spring must be off before.
        if (!holds(joint.needs_released, spring)) {
          add_tag(hazards.joints[to_size(i)], Contact::sprung, why, true);
        }
      }
    }
  };
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    if (!is_spring(to_int(i))) {
      continue;
    }
    const pack::Joint& spring = pack.joints[i];
    add_tag(hazards.joints[i], Contact::sprung, "spring");
    for (const int part : spring.parts) {
      if (!pack.parts[to_size(part)].removable) {
        continue;
      }
      const std::vector<int> holding = pack::holding_joints(pack, part);
      // What nothing else holds is the spring itself.
      const bool itself = std::all_of(holding.begin(), holding.end(), is_spring);
      add_tag(hazards.parts[to_size(part)], Contact::sprung, cat("spring ", spring.id), !itself);
      fastened(to_int(i), part);
    }
  }
}

void tag_mass(const pack::Pack& pack, Hazards& hazards) {
  using pack::Contact;
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    const double kilograms = kilograms_of(pack, to_int(i));
    if (pack.parts[i].removable && kilograms > kHeavyKilograms) {
      add_tag(hazards.parts[i], Contact::heavy, cat(number_text(kilograms), " kg"));
    }
    hazards.unit_kg += pack.parts[i].inside < 0 ? kilograms : 0;
  }
  if (!(hazards.unit_kg > kHeavyKilograms)) {
    return;
  }
  const std::string unit = cat("unit of ", fixed_text(hazards.unit_kg, 1), " kg, not fixed");
  const std::vector<bool> fixed = fixed_positions(pack);
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    const pack::PositionChange& change = pack.changes[i];
    if (fixed[to_size(change.from)] && fixed[to_size(change.to)]) {
      continue;
    }
    add_tag(hazards.changes[i], Contact::heavy, unit);
    if (!loose_during(pack, change).empty()) {
      // Tipping about an edge takes half of the weight, sliding less (a body on a plane).
      hazards.change_people[i] = people_to_lift(hazards.unit_kg / 2);
    }
    for (const int joint : change.needs_released) {
      const bool line = is_tagged(hazards.joints[to_size(joint)], Contact::wet) ||
                        is_electrical(pack.joints[to_size(joint)].kind);
      const std::vector<int>& held = pack.joints[to_size(joint)].parts;
      const bool of_wiring = std::any_of(held.begin(), held.end(), [&hazards](int part) {
        return is_tagged(hazards.parts[to_size(part)], Contact::live);
      });
      if (!line && !of_wiring) {
        add_tag(hazards.joints[to_size(joint)], Contact::heavy, "keeps the unit from moving", true);
      }
    }
  }
}

namespace {

/// The water path: from hose clamps through all that is fastened to it and comes away.
class Water {
 public:
  Water(const pack::Pack& pack, Hazards& hazards)
      : pack_(pack), out_(hazards), wet_(pack.parts.size()), vessel_(pack.parts.size()) {}

  void run() {
    clamps();
    heaters();
    bool grew = true;
    while (grew) {
      grew = spread_joints();
      grew = spread_assemblies() || grew;
      grew = spread_loose() || grew;
    }
    vessels();
    joints();
    changes();
  }

 private:
  [[nodiscard]] bool removable(int part) const { return pack_.parts[to_size(part)].removable; }

  bool wet(int part, const std::string& why, bool near = true) {
    add_tag(out_.parts[to_size(part)], pack::Contact::wet, why, near);
    const bool first = !wet_[to_size(part)];
    wet_[to_size(part)] = true;
    return first;
  }

  void clamps() {
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      const pack::Joint& joint = pack_.joints[i];
      if (joint.kind != pack::JointKind::hose_clamp) {
        continue;
      }
      add_tag(out_.joints[i], pack::Contact::wet, "hose clamp");
      for (const int part : joint.parts) {
        if (removable(part)) {
          wet(part, cat("hose clamp ", joint.id), false);
        }
      }
    }
  }

  /// A heater stands in the wash water, where the machine holds any.
  void heaters() {
    for (const pack::Element& element : pack_.circuit.elements) {
      if (element.kind == pack::ElementKind::heater && element.part >= 0 &&
          removable(element.part) && pack_.water.fill_litres > 0) {
        wet(element.part, cat("heater ", element.id));
      }
    }
  }

  bool spread_joints() {
    bool grew = false;
    for (const pack::Joint& joint : pack_.joints) {
      if (is_electrical(joint.kind) || joint.parts.size() != 2) {
        continue;
      }
      for (int side = 0; side < 2; ++side) {
        const int from = joint.parts[to_size(side)];
        const int to = joint.parts[to_size(1 - side)];
        if (wet_[to_size(from)] && !wet_[to_size(to)] && removable(to)) {
          grew = wet(to, cat("joined to ", pack_.parts[to_size(from)].id)) || grew;
        }
      }
    }
    return grew;
  }

  bool spread_assemblies() {
    bool grew = false;
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      const int carrier = pack_.parts[i].inside;
      if (wet_[i] && carrier >= 0 && !wet_[to_size(carrier)]) {
        grew = wet(carrier, cat("carries ", pack_.parts[i].id)) || grew;
      }
    }
    return grew;
  }

  /// What no joint holds and lies behind a wet part alone seals it.
  bool spread_loose() {
    bool grew = false;
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      const pack::Part& part = pack_.parts[i];
      const bool held =
          std::any_of(pack_.joints.begin(), pack_.joints.end(),
                      [i](const pack::Joint& joint) { return holds(joint.parts, to_int(i)); });
      if (held || !part.removable || wet_[i] || part.behind.size() != 1) {
        continue;
      }
      for (const int cover : part.behind.front().parts) {
        if (wet_[to_size(cover)]) {
          grew = wet(to_int(i), cat("lies in ", pack_.parts[to_size(cover)].id)) || grew;
        }
      }
    }
    return grew;
  }

  /// A body that stays and to which a wet part is sealed by a nut holds water too.
  void vessels() {
    for (const pack::Joint& joint : pack_.joints) {
      const bool sealed = joint.kind == pack::JointKind::nut &&
                          std::any_of(joint.parts.begin(), joint.parts.end(),
                                      [this](int part) { return wet_[to_size(part)]; });
      for (const int part : joint.parts) {
        if (sealed && !removable(part)) {
          vessel_[to_size(part)] = true;
        }
      }
    }
  }

  void joints() {
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      const pack::Joint& joint = pack_.joints[i];
      const auto filled = [this](int part) {
        return wet_[to_size(part)] || vessel_[to_size(part)];
      };
      const bool all = std::all_of(joint.parts.begin(), joint.parts.end(), filled);
      const bool any = std::any_of(joint.parts.begin(), joint.parts.end(),
                                   [this](int part) { return wet_[to_size(part)]; });
      if (is_electrical(joint.kind) || !any) {
        continue;
      }
      if (joint.kind == pack::JointKind::nut) {
        add_tag(out_.joints[i], pack::Contact::wet, "nut of the water path");
      } else if (all && joint.parts.size() == 2) {
        add_tag(out_.joints[i], pack::Contact::wet, "between parts of the water path", true);
      }
    }
  }

  /// Water stands in what is open when the unit is moved.
  void changes() {
    for (std::size_t i = 0; i < pack_.changes.size(); ++i) {
      for (const int joint : loose_during(pack_, pack_.changes[i])) {
        if (is_tagged(out_.joints[to_size(joint)], pack::Contact::wet)) {
          add_tag(out_.changes[i], pack::Contact::wet,
                  cat("open at ", pack_.joints[to_size(joint)].id), true);
        }
      }
    }
  }

  const pack::Pack& pack_;
  Hazards& out_;
  std::vector<bool> wet_, vessel_;
};

}  // namespace

void tag_water(const pack::Pack& pack, Hazards& hazards) { Water(pack, hazards).run(); }

}  // namespace kp::job
