#include "job/bind_safety.hpp"

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_test.hpp"
#include "job/owed_tests.hpp"
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

/// Leads of the house: they join the machine to its supply.
bool is_supply_joint(const pack::Pack& pack, int joint) {
  return joins_node(pack, joint, pack.circuit.mains.line) ||
         joins_node(pack, joint, pack.circuit.mains.neutral);
}

/// Behind this way or one that takes the same covers off.
bool is_behind(const pack::Access& behind, const pack::Access& ways) {
  const auto covers = [](const pack::Way& way) { return std::set<int>(way.parts.begin(), way.parts.end()); };
  return std::any_of(ways.begin(), ways.end(), [&](const pack::Way& way) {
    return std::any_of(behind.begin(), behind.end(),
                       [&](const pack::Way& one) { return covers(one) == covers(way); });
  });
}

/// Something of the group is hot, or stands beside what is.
bool is_hot(const Model& model, const Group& group) {
  const auto hot = [](const std::vector<Contact>& tags) { return has(tags, Contact::hot); };
  const Hazards& hazards = model.hazards;
  return std::any_of(group.joints.begin(), group.joints.end(),
                     [&](int joint) { return hot(hazards.joint(model.pack, joint)); }) ||
         std::any_of(group.parts.begin(), group.parts.end(),
                     [&](int part) { return hot(hazards.part(model.pack, part)); });
}

void add_group(const Model& model, safety::Demand& demand, int group) {
  if (group < 0) {
    return;
  }
  const Group& one = model.hazards.groups[to_size(group)];
  demand.place = one.id;
  const bool there = std::any_of(demand.groups.begin(), demand.groups.end(), [&](const auto& asked) {
    return asked.place.id == one.id;
  });
  if (there) {
    return;
  }
  safety::GroupAsked asked;
  asked.place = group_place(model, group);
  asked.charge = one.can_hold_charge;
  if (!asked.place.pairs.empty()) {
    demand.groups.push_back(std::move(asked));
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
  }
}

/// In front of the proof only the next things of a way to it are touched; after the proof of the
/// supply, also those of the way to where the water is relieved.
bool on_way(const Model& model, const State& state, Deed deed, int index) {
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

/// A cover in approach, or work behind it.
Act act_of_step(const Model& model, Deed deed, int index, const safety::Demand& demand) {
  if ((deed == Deed::release || deed == Deed::fasten) && is_supply_joint(model.pack, index)) {
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

}  // namespace

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
  demand.act = act_of_step(model, deed, index, demand);
  const std::vector<int> neutral = neutral_joints(pack);
  demand.parts_neutral = demand.act == Act::part_supply &&
                         state.safety.connection == safety::Connection::fixed &&
                         std::find(neutral.begin(), neutral.end(), index) != neutral.end();
  return demand;
}

safety::Demand demand_of(const Model& model, const State& state, const pack::Test& test) {
  const Hazards& hazards = model.hazards;
  safety::Demand demand;
  demand.position = position_id(model, state.unit.position);
  demand.contacts = contacts_of(hazards.part(model.pack, test.part));
  for (const int point : {test.point_a, test.point_b}) {
    for (const safety::Contact contact :
         point < 0 ? std::vector<safety::Contact>{} : contacts_of(hazards.point(model.pack, point))) {
      if (std::find(demand.contacts.begin(), demand.contacts.end(), contact) ==
          demand.contacts.end()) {
        demand.contacts.push_back(contact);
      }
    }
  }
  if (test.live()) {
    demand.act = test.on_circuit() ? Act::live_reading : Act::run;
    demand.live_reason = test.needs_live != pack::NeedsLive::none;
    return demand;
  }
  if (test.static_water) {
    demand.act = Act::static_test;
  } else if (test.hot_at.has_value()) {
    demand.act = Act::hot_reading;
  } else if (test.probe == pack::Probe::look) {
    demand.act = act_of_look(model, test);
  } else {
    demand.act = test.on_circuit() ? Act::measure_dead : Act::hands_in;
  }
  if (safety::hands_in(demand.act) && demand.act != Act::reach_tub) {
    const int point = test.point_a >= 0 ? test.point_a : test.point_b;
    add_group(model, demand,
              point >= 0 ? hazards.group_of_point[to_size(point)]
                         : hazards.group_of_part[to_size(test.part)]);
  }
  return demand;
}

safety::Demand demand_of(const Model& model, const State& state, const pack::ProveTest& test) {
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
  if (!test.points.empty()) {
    add_group(model, demand, model.hazards.group_of_point[to_size(test.points.front())]);
  } else if (test.part >= 0 && !test.behind.empty()) {
    add_group(model, demand, model.hazards.group_of_part[to_size(test.part)]);
  }
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
    covered = covered || !model.pack.joints[to_size(joint)].behind.empty();
    add_group(model, demand, model.hazards.group_of_joint[to_size(joint)]);
  }
  // Without a joint to undo, the hand that empties the sump meets what is behind the same covers.
  bool hot = false;
  for (int group = 0; group < to_int(model.hazards.groups.size()); ++group) {
    const Group& one = model.hazards.groups[to_size(group)];
    if (is_behind(one.behind, water.relieve_behind)) {
      add_group(model, demand, group);
    }
    const bool met = std::any_of(demand.groups.begin(), demand.groups.end(),
                                 [&](const auto& asked) { return asked.place.id == one.id; });
    hot = hot || (met && is_hot(model, one));
  }
  if (hot) {
    demand.contacts = {safety::Contact::hot};
  }
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
    add_group(model, demand, model.hazards.group_of_joint[to_size(joint)]);
  }
  return demand;
}

safety::Machine machine_of(const Model& model, const State& state, safety::Act act) {
  const pack::Pack& pack = model.pack;
  const plan::State& unit = state.unit;
  const pack::Position& position = pack.positions[to_size(unit.position)];
  safety::Machine machine;
  bool fixings = false;
  bool one_fast = false;
  for (int joint = 0; joint < to_int(pack.joints.size()); ++joint) {
    const bool loose = unit.released.test(joint);
    if (pack.joints[to_size(joint)].against_tipping) {
      fixings = true;
      one_fast = one_fast || !loose;
    }
    if (!loose) {
      continue;
    }
    machine.wet_joined = machine.wet_joined &&
                         !is_itself(pack.joints[to_size(joint)].contacts,
                                    model.hazards.joints[to_size(joint)], Contact::wet);
    machine.supply_parted = machine.supply_parted || is_supply_joint(pack, joint);
  }
  for (const pack::Element& element : pack.circuit.elements) {
    if (element.joint < 0 || !unit.released.test(element.joint)) {
      continue;
    }
    machine.leads_joined = false;
    const int earth = pack.circuit.mains.earth;
    machine.earths_fast = machine.earths_fast && (earth < 0 || (element.a != earth && element.b != earth));
  }
  machine.upright = position.upright;
  machine.door_open = position.door_open;
  machine.stable = !position.door_open || position.propped || !fixings || one_fast;
  // Slow to find out, so only for the acts that ask: may the power be on as the unit stands?
  const bool on = safety::in_acts(safety::acts(Act::run, Act::live_reading, Act::inspect,
                                               Act::power_on),
                                  act);
  machine.live_covers_on = is_closed(model, unit) ||
                           (on && state.stage == Stage::find && stands_for_live(model, unit));
  const bool plug = state.safety.means == safety::Means::plug_out &&
                    state.safety.power != safety::Power::live &&
                    state.safety.power != safety::Power::on;
  machine.supply_parted = machine.supply_parted || plug;
  machine.tests_done = tests_owed(model, state).empty();
  machine.workers = 1 + to_int(state.safety.helpers.size());
  return machine;
}

safety::Ask ask_of(const Model& model, const State& state, safety::Demand demand,
                   const std::string& by) {
  safety::Ask ask;
  ask.machine = machine_of(model, state, demand.act);
  ask.machine.supply_open = place_uncovered(model, state, safety::kSupply);
  ask.demand = std::move(demand);
  ask.by = by;
  return ask;
}

}  // namespace kp::job
