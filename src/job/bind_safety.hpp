#pragma once

#include <string>
#include <vector>

#include "job/state.hpp"
#include "safety/gate.hpp"

namespace kp::job {

// What hands do to a machine, as the gate asks for it. Everything here is derived from where hands
// go: covers, contacts, groups of conductors. A pack can add a tag; it can take none away.

/// The pack's contact tags as safety knows them; both enumerations list the same words.
[[nodiscard]] std::vector<safety::Contact> contacts_of(const std::vector<pack::Contact>& tags);

/// What a deed on a joint, part or position asks of the gate, from the unit as it stands. `index`
/// as subject_index gives it.
[[nodiscard]] safety::Demand demand_of(const Model& model, const State& state, Deed deed, int index);

/// What a test of the Find stage asks: looking is free only where nothing covers it and nothing is
/// touched; what is read or looked at while the machine runs needs hands clear.
[[nodiscard]] safety::Demand demand_of(const Model& model, const State& state,
                                       const pack::Test& test);

/// What a test after the repair asks of the gate.
[[nodiscard]] safety::Demand demand_of(const Model& model, const State& state,
                                       const pack::ProveTest& test);

/// Hands in the machine and nothing else yet: the door of the stages behind Make safe.
[[nodiscard]] safety::Demand hands_demand();

/// What relieving the water asks: a hand behind a cover, or none.
[[nodiscard]] safety::Demand relieve_demand(const Model& model, const State& state);

/// Leads of the house: they join the machine to its supply.
[[nodiscard]] bool is_supply_joint(const pack::Pack& pack, int joint);
/// The joints that hold the neutral of the house, and what a clamp around it asks.
[[nodiscard]] std::vector<int> neutral_joints(const pack::Pack& pack);
[[nodiscard]] safety::Demand neutral_demand(const Model& model, const State& state);

/// What the unit has open, for the gate's question about this act.
[[nodiscard]] safety::Machine machine_of(const Model& model, const State& state, safety::Act act);

/// The question to the gate, put together.
[[nodiscard]] safety::Ask ask_of(const Model& model, const State& state, safety::Demand demand,
                                 const std::string& by);

/// Where the supply is proved dead: pins of the pulled plug, or the pack's points.
[[nodiscard]] safety::Place supply_place(const Model& model, const State& state);
/// Where a group of conductors is proved dead: its first three terminals on different live nodes,
/// each to earth and to its neighbour. Once shown it counts for all behind the same covers.
[[nodiscard]] safety::Place group_place(const Model& model, int group);
/// The place of that id; empty id where there is none.
[[nodiscard]] safety::Place place_of(const Model& model, const State& state, const std::string& id);

/// What must be uncovered, and how the unit must stand, to prove the supply, to clamp the neutral,
/// and to relieve the water.
[[nodiscard]] plan::Targets proof_targets(const Model& model);
[[nodiscard]] plan::Targets neutral_targets(const Model& model);
[[nodiscard]] plan::Targets relieve_targets(const Model& model);
/// Whether probes reach all of it, or hands, from the unit as it stands.
[[nodiscard]] bool is_uncovered(const Model& model, const State& state, const plan::Targets& targets);
[[nodiscard]] bool place_uncovered(const Model& model, const State& state, const std::string& id);

/// The energies that are in the machine: the union over all its parts and joints.
[[nodiscard]] safety::EnergySet energies_of(const Model& model);

[[nodiscard]] safety::Connection connection_of(const pack::Pack& pack);
[[nodiscard]] safety::System system_of(const pack::Pack& pack);

/// How a visit ends, in safety's words.
[[nodiscard]] safety::Ending ending_of(Outcome outcome);

}  // namespace kp::job
