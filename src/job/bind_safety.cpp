#include "job/bind_safety.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "pack/reach.hpp"

namespace kp::job {

namespace {

using pack::Contact;
using safety::Act;

bool has(const std::vector<Contact>& tags, Contact tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

/// A tag of the thing itself, authored or derived: not of what stands beside it.
bool is_itself(const std::vector<Contact>& authored, const Hazards::Tags& derived, Contact tag) {
  return has(authored, tag) || std::any_of(derived.begin(), derived.end(), [tag](const Derived& one) {
           return one.tag == tag && !one.near;
         });
}

bool joins_node(const pack::Pack& pack, int joint, int node) {
  return pack.circuit.there() &&
         std::any_of(pack.circuit.elements.begin(), pack.circuit.elements.end(),
                     [&](const pack::Element& element) {
                       return element.joint == joint && (element.a == node || element.b == node);
                     });
}

/// In the order of the tags, each once.
void add_contact(safety::Demand& demand, safety::Contact contact) {
  auto& all = demand.contacts;
  const auto at = std::lower_bound(all.begin(), all.end(), contact);
  if (at == all.end() || *at != contact) {
    all.insert(at, contact);
  }
}

void add_contacts(safety::Demand& demand, const std::vector<Contact>& tags) {
  for (const safety::Contact contact : contacts_of(tags)) {
    add_contact(demand, contact);
  }
}

/// Each once. Where something is hot, that is the place that must cool.
void add_group(const Model& model, safety::Demand& demand, int group) {
  if (group < 0) {
    return;
  }
  const Group& one = model.hazards.groups[to_size(group)];
  if (std::any_of(demand.groups.begin(), demand.groups.end(),
                  [&one](const safety::GroupAsked& other) { return other.place.id == one.id; })) {
    return;
  }
  safety::GroupAsked asked;
  asked.place = group_place(model, group);
  asked.charge = one.can_hold_charge;
  if (demand.groups.empty() || one.hot) {
    demand.place = one.id;
  }
  if (one.hot) {
    add_contact(demand, safety::Contact::hot);
  }
  demand.groups.push_back(std::move(asked));
}

/// Whatever hands meet behind these covers.
void add_groups_at(const Model& model, safety::Demand& demand, const pack::Access& behind,
                   const std::vector<int>& positions) {
  for (const int group : model.hazards.groups_open_at(behind, positions)) {
    add_group(model, demand, group);
  }
}

std::string position_id(const Model& model, int position) {
  const auto& positions = model.pack.positions;
  return position >= 0 && position < to_int(positions.size()) ? positions[to_size(position)].id
                                                              : std::string();
}

void fill_thing(const Model& model, const State& state, Deed deed, int index,
                safety::Demand& demand) {
  const pack::Pack& pack = model.pack;
  const Hazards& hazards = model.hazards;
  const std::size_t at = to_size(index);
  const bool joint = deed == Deed::release || deed == Deed::fasten;
  const std::vector<Contact>& authored = joint ? pack.joints[at].contacts : pack.parts[at].contacts;
  const Hazards::Tags& derived = joint ? hazards.joints[at] : hazards.parts[at];
  demand.contacts =
      contacts_of(joint ? hazards.joint(pack, index) : hazards.part(pack, index));
  demand.opens_wet = deed == Deed::release && is_itself(authored, derived, Contact::wet);
  // A lead, a pipe, an electrical element: what is live, charged or wet itself. An authored tag may
  // stand on a cover for what is behind it.
  demand.live_way = is_itself({}, derived, Contact::live) ||
                    is_itself({}, derived, Contact::stored_charge) ||
                    is_itself({}, derived, Contact::wet);
  if (demand.place.empty()) {
    demand.place = joint ? pack.joints[at].id : pack.parts[at].id;
  }
  // What lies on the bench meets no conductors of the machine.
  if (deed != Deed::swap || !state.unit.removed.test(index)) {
    add_group(model, demand, joint ? hazards.group_of_joint[at] : hazards.group_of_part[at]);
    add_groups_at(model, demand, joint ? pack.joints[at].behind : pack.parts[at].behind,
                  joint ? pack.joints[at].positions : pack.parts[at].positions);
  }
}

/// In front of the proof only the next things of a way to it are touched; after the proof of the
/// supply, also those of the way to where the water is relieved.
bool on_way(const Model& model, const State& state, Deed deed, int index) {
  if (deed != Deed::release && deed != Deed::remove && deed != Deed::turn) {
    return false;
  }
  const auto leads_there = [&](const plan::Targets& targets) {
    const plan::Plan way = plan::reach(model.rules, state.unit, targets);
    return std::any_of(way.steps.begin(), way.steps.end(), [&](const plan::Step& step) {
      const bool same = (deed == Deed::release && step.kind == plan::Kind::release) ||
                        (deed == Deed::remove && step.kind == plan::Kind::remove) ||
                        (deed == Deed::turn && step.kind == plan::Kind::turn);
      return same && step.subject == index;
    });
  };
  if (state.safety.power != safety::Power::supply_dead) {
    return leads_there(proof_targets(model));
  }
  return state.safety.water == safety::Water::shut && leads_there(relieve_targets(model));
}

/// The leads of the house end in this part.
bool holds_supply(const pack::Pack& pack, int part) {
  for (int joint = 0; joint < to_int(pack.joints.size()); ++joint) {
    const std::vector<int>& held = pack.joints[to_size(joint)].parts;
    if (is_supply_joint(pack, joint) && !held.empty() && held.front() == part) {
      return true;
    }
  }
  return false;
}

/// The step parts or joins the house's neutral, or mends what holds it.
bool holds_neutral(const pack::Pack& pack, Deed deed, int index) {
  const std::vector<int> neutral = neutral_joints(pack);
  return std::any_of(neutral.begin(), neutral.end(), [&](int joint) {
    const bool on_joint = deed == Deed::release || deed == Deed::fasten;
    const std::vector<int>& held = pack.joints[to_size(joint)].parts;
    return on_joint ? joint == index : !held.empty() && held.front() == index;
  });
}

/// A cover in approach, or work behind it.
Act act_of_step(const Model& model, const State& state, Deed deed, int index,
                const safety::Demand& demand) {
  const bool on_joint = deed == Deed::release || deed == Deed::fasten;
  const bool mended = deed == Deed::swap && !state.unit.removed.test(index);
  if ((on_joint && is_supply_joint(model.pack, index)) ||
      (mended && holds_supply(model.pack, index))) {
    return Act::part_supply;
  }
  // Bare conductors may be near: they are treated as live, gloved, and nothing of them is touched.
  const bool loosens = deed == Deed::release || deed == Deed::remove;
  return demand.on_way && !demand.live_way && loosens ? Act::cover : Act::hands_in;
}

Act act_of_turn(const Model& model, const pack::PositionChange& change) {
  const pack::Position& from = model.pack.positions[to_size(change.from)];
  const pack::Position& to = model.pack.positions[to_size(change.to)];
  if (!from.upright || !to.upright) {
    return Act::lay_down;
  }
  const bool door_only = from.door_open != to.door_open && change.contacts.empty();
  return door_only ? Act::touch_outside : Act::move_out;
}

/// A look or a touch where nothing is in front of it.
Act act_of_look(const Model& model, const pack::Test& test) {
  const pack::Pack& pack = model.pack;
  const bool covered = !test.behind.empty() || !test.needs_released.empty();
  if (covered) {
    return Act::hands_in;
  }
  const bool inside = !test.positions.empty() &&
                      std::all_of(test.positions.begin(), test.positions.end(), [&](int at) {
                        return pack.positions[to_size(at)].door_open;
                      });
  if (test.eyes) {
    return inside ? Act::look_inside : Act::look_outside;
  }
  const std::size_t part = to_size(test.part);
  const auto& authored = pack.parts[part].contacts;
  const auto& derived = model.hazards.parts[part];
  const bool itself = is_itself(authored, derived, Contact::live) ||
                      is_itself(authored, derived, Contact::stored_charge) ||
                      (!inside && is_itself(authored, derived, Contact::wet));
  if (itself || model.hazards.group_of_part[part] >= 0) {
    return Act::hands_in;
  }
  return inside ? Act::reach_tub : Act::touch_outside;
}

Act act_of_test(const Model& model, const pack::Test& test) {
  if (test.live()) {
    return test.on_circuit() ? Act::live_reading : Act::run;
  }
  if (test.static_water) {
    return Act::static_test;
  }
  if (test.hot_at.has_value()) {
    return Act::hot_reading;
  }
  if (test.probe == pack::Probe::look) {
    return act_of_look(model, test);
  }
  return test.on_circuit() ? Act::measure_dead : Act::hands_in;
}

}  // namespace

bool is_supply_joint(const pack::Pack& pack, int joint) {
  const pack::Mains& mains = pack.circuit.mains;
  return joins_node(pack, joint, mains.line) || joins_node(pack, joint, mains.neutral);
}

std::vector<safety::Contact> contacts_of(const std::vector<pack::Contact>& tags) {
  static_assert(pack::kContacts == safety::kContacts);
  std::vector<safety::Contact> out;
  out.reserve(tags.size());
  for (const pack::Contact tag : tags) {
    out.push_back(static_cast<safety::Contact>(static_cast<int>(tag)));
  }
  return out;
}

safety::Demand demand_of(const Model& model, const State& state, Deed deed, int index) {
  const pack::Pack& pack = model.pack;
  safety::Demand demand;
  demand.position = position_id(model, state.unit.position);
  if (deed == Deed::turn) {
    const pack::PositionChange& change = pack.changes[to_size(index)];
    demand.contacts = contacts_of(model.hazards.change(pack, index));
    demand.people = std::max(change.people, model.hazards.change_people[to_size(index)]);
    demand.position = position_id(model, change.to);
    demand.on_way = on_way(model, state, deed, index);
    demand.act = act_of_turn(model, change);
    return demand;
  }
  fill_thing(model, state, deed, index, demand);
  demand.bleed_seconds = model.hazards.bleed_seconds;
  demand.on_way = on_way(model, state, deed, index);
  demand.act = act_of_step(model, state, deed, index, demand);
  demand.parts_neutral = demand.act == Act::part_supply &&
                         state.safety.connection == safety::Connection::fixed &&
                         holds_neutral(pack, deed, index);
  return demand;
}

safety::Demand demand_of(const Model& model, const State& state, const pack::Test& test) {
  const Hazards& hazards = model.hazards;
  safety::Demand demand;
  demand.position = position_id(model, state.unit.position);
  demand.act = act_of_test(model, test);
  demand.live_reason = test.needs_live != pack::NeedsLive::none;
  // Where nothing is touched nothing hurts the hands.
  if (demand.act == Act::run || demand.act == Act::look_outside || demand.act == Act::look_inside) {
    return demand;
  }
  const std::vector<int> points = {test.point_a, test.point_b};
  add_contacts(demand, hazards.part(model.pack, test.part));
  for (const int point : points) {
    if (point >= 0) {
      add_contacts(demand, hazards.point(model.pack, point));
    }
  }
  if (!safety::hands_in(demand.act) || demand.act == Act::reach_tub) {
    return demand;
  }
  for (const int point : points) {
    add_group(model, demand, point < 0 ? -1 : hazards.group_of_point[to_size(point)]);
  }
  if (demand.groups.empty()) {
    add_group(model, demand, hazards.group_of_part[to_size(test.part)]);
  }
  add_groups_at(model, demand, test.behind, test.positions);
  return demand;
}

safety::Demand demand_of(const Model& model, const State& state, const pack::ProveTest& test) {
  const Hazards& hazards = model.hazards;
  safety::Demand demand;
  demand.position = position_id(model, state.unit.position);
  switch (test.when) {
    case pack::ProveWhen::running:
      demand.act = Act::run;
      return demand;
    case pack::ProveWhen::after:
      demand.act = Act::touch_outside;
      return demand;
    case pack::ProveWhen::before_power:
      demand.act = test.static_water                     ? Act::static_test
                   : test.item == pack::ProveItem::b3 ? Act::insulation_test
                                                         : Act::prove_dead_test;
      break;
  }
  if (test.part >= 0) {
    add_contacts(demand, hazards.part(model.pack, test.part));
  }
  for (const int point : test.points) {
    add_contacts(demand, hazards.point(model.pack, point));
    add_group(model, demand, hazards.group_of_point[to_size(point)]);
  }
  if (demand.groups.empty() && test.part >= 0 && !test.behind.empty()) {
    add_group(model, demand, hazards.group_of_part[to_size(test.part)]);
  }
  add_groups_at(model, demand, test.behind, test.positions);
  return demand;
}

safety::Demand hands_demand() { return {}; }

safety::Demand relieve_demand(const Model& model, const State& state) {
  safety::Demand demand;
  demand.act = Act::relieve_outside;
  demand.position = position_id(model, state.unit.position);
  const pack::Water& water = model.pack.water;
  bool covered = !water.relieve_behind.empty();
  for (const int joint : water.relieve_joints) {
    const pack::Joint& one = model.pack.joints[to_size(joint)];
    covered = covered || !one.behind.empty();
    add_contacts(demand, model.hazards.joint(model.pack, joint));
    add_group(model, demand, model.hazards.group_of_joint[to_size(joint)]);
    add_groups_at(model, demand, one.behind, one.positions);
  }
  add_groups_at(model, demand, water.relieve_behind, water.relieve_positions);
  if (covered || !demand.groups.empty()) {
    demand.act = Act::relieve;
  }
  return demand;
}

std::vector<int> neutral_joints(const pack::Pack& pack) {
  std::vector<int> out;
  for (int joint = 0; joint < to_int(pack.joints.size()); ++joint) {
    if (joins_node(pack, joint, pack.circuit.mains.neutral)) {
      out.push_back(joint);
    }
  }
  return out;
}

safety::Demand neutral_demand(const Model& model, const State& state) {
  safety::Demand demand;
  demand.act = Act::read_neutral;
  demand.position = position_id(model, state.unit.position);
  for (const int joint : neutral_joints(model.pack)) {
    add_contacts(demand, model.hazards.joint(model.pack, joint));
    add_group(model, demand, model.hazards.group_of_joint[to_size(joint)]);
  }
  return demand;
}

}  // namespace kp::job
