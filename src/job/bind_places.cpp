// Where death is proved, where the water is relieved, and whether hands and probes reach it.
#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"

namespace kp::job {

namespace {

/// Where the machine stands upright; empty: in every position.
std::vector<int> upright_positions(const pack::Pack& pack) {
  std::vector<int> out;
  for (int at = 0; at < to_int(pack.positions.size()); ++at) {
    if (pack.positions[to_size(at)].upright) {
      out.push_back(at);
    }
  }
  return out.size() == pack.positions.size() ? std::vector<int>{} : out;
}

}  // namespace

safety::Place supply_place(const Model& model, const State& state) {
  safety::Place place;
  place.id = safety::kSupply;
  place.pairs = safety::supply_pairs(state.safety.system);
  place.joined_to_house = state.safety.connection == safety::Connection::fixed;
  (void)model;
  return place;
}

safety::Place group_place(const Model& model, int group) {
  constexpr std::size_t kMostTerminals = 3;
  const pack::Circuit& circuit = model.pack.circuit;
  const Group& one = model.hazards.groups[to_size(group)];
  std::vector<int> points;
  for (const int point : one.points) {
    const int node = circuit.points[to_size(point)].node;
    const bool taken = std::any_of(points.begin(), points.end(), [&](int other) {
      return circuit.points[to_size(other)].node == node;
    });
    if (!taken && model.hazards.live_nodes[to_size(node)] && points.size() < kMostTerminals) {
      points.push_back(point);
    }
  }
  safety::Place place;
  place.id = one.id;
  place.dc = one.can_hold_charge;
  for (const int point : points) {
    place.pairs.push_back({circuit.points[to_size(point)].id, "E"});
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    place.pairs.push_back({circuit.points[to_size(points[i - 1])].id,
                           circuit.points[to_size(points[i])].id});
  }
  return place;
}

safety::Place place_of(const Model& model, const State& state, const std::string& id) {
  if (id == safety::kSupply) {
    return supply_place(model, state);
  }
  const int group = model.hazards.group(id);
  return group < 0 ? safety::Place{} : group_place(model, group);
}

plan::Targets proof_targets(const Model& model) {
  plan::Targets targets;
  for (const int point : model.pack.supply.proof.points) {
    const pack::TestPoint& one = model.pack.circuit.points[to_size(point)];
    targets.points.push_back(plan::Point{one.part, bind_access(one.behind)});
    if (targets.positions.empty()) {
      targets.positions = one.positions;
    }
  }
  // What lies is stood up before it is read.
  if (targets.positions.empty()) {
    targets.positions = upright_positions(model.pack);
  }
  return targets;
}

plan::Targets neutral_targets(const Model& model) {
  plan::Targets targets;
  for (const int joint : neutral_joints(model.pack)) {
    const pack::Joint& one = model.pack.joints[to_size(joint)];
    targets.points.push_back(plan::Point{one.parts.front(), bind_access(one.behind)});
    if (targets.positions.empty()) {
      targets.positions = one.positions;
    }
  }
  return targets;
}

plan::Targets relieve_targets(const Model& model) {
  plan::Targets targets;
  const pack::Water& water = model.pack.water;
  targets.positions = water.relieve_positions;
  for (const int joint : water.relieve_joints) {
    const pack::Joint& one = model.pack.joints[to_size(joint)];
    targets.points.push_back(plan::Point{one.parts.front(), bind_access(one.behind)});
    if (targets.positions.empty()) {
      targets.positions = one.positions;
    }
  }
  if (!water.relieve_behind.empty()) {
    targets.points.push_back(plan::Point{-1, bind_access(water.relieve_behind)});
  }
  return targets;
}

bool is_uncovered(const Model& model, const State& state, const plan::Targets& targets) {
  return plan::is_reached(model.rules, state.unit, targets);
}

bool place_uncovered(const Model& model, const State& state, const std::string& id) {
  if (id == safety::kSupply) {
    if (state.safety.connection == safety::Connection::cord) {
      return model.pack.positions[to_size(state.unit.position)].upright;   // the pins of the plug
    }
    return is_uncovered(model, state, proof_targets(model));
  }
  const int group = model.hazards.group(id);
  if (group < 0) {
    return false;
  }
  plan::Targets targets;
  const Group& one = model.hazards.groups[to_size(group)];
  targets.points.push_back(plan::Point{-1, bind_access(one.behind)});
  targets.positions = one.positions;
  return is_uncovered(model, state, targets);
}

}  // namespace kp::job
