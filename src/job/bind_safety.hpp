#pragma once

#include <vector>

#include "job/state.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// The pack's contact tags as safety knows them; both enumerations list the same words.
[[nodiscard]] std::vector<safety::Contact> contacts_of(const std::vector<pack::Contact>& tags);

/// What a deed on a joint, part or position asks of the gate: the tags of the thing and of all
/// that it touches, the people it takes.
[[nodiscard]] safety::Demand demand_of(const pack::Pack& pack, Deed deed, int index);

/// What a test of the Find stage asks of the gate: a look asks nothing, a measurement with power
/// off is hands-in work on its part and at its points, and what is read or looked at while the
/// machine runs needs hands clear.
[[nodiscard]] safety::Demand demand_of(const pack::Pack& pack, const pack::Test& test);

/// What a test after the repair asks of the gate: before power it is hands-in work, with water and
/// power on it needs hands clear, afterwards nothing.
[[nodiscard]] safety::Demand demand_of(const pack::ProveTest& test);

/// The energies that are in the machine: the union over all its parts and joints.
[[nodiscard]] safety::EnergySet energies_of(const pack::Pack& pack);

[[nodiscard]] safety::Connection connection_of(const pack::Pack& pack);

/// How a visit ends, in safety's words.
[[nodiscard]] safety::Ending ending_of(Outcome outcome);

}  // namespace kp::job
