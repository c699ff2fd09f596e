#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "job/state.hpp"
#include "plan/plan.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// The alternatives past what stands in front, as the planner takes them.
[[nodiscard]] plan::Access bind_access(const pack::Access& behind);

/// The pack as the planner's plain problem: joints, parts, positions and tools keep their indices.
/// What would tip the unit is forbidden there.
[[nodiscard]] plan::Problem bind_plan(const pack::Pack& pack);

/// A pack with its problem and rules and the bands of its tests, ready for use. Errors as plan::Rules::make.
Result<Model> make_model(pack::Pack pack);

/// The unit as it is found: whole, in its first position, no tool in hand.
[[nodiscard]] plan::State initial_unit(const Model& model);

/// Index of what a deed acts on: a joint, a part, or for turning the position change that leads
/// from where the unit is to the position of that id. -1: there is no such thing.
[[nodiscard]] int subject_index(const pack::Pack& pack, const plan::State& unit, Deed deed,
                                std::string_view what);

/// The deed as the planner's action, and `unit` with the tool in hand that it takes. False: there
/// is no such thing.
[[nodiscard]] bool as_action(const Model& model, Deed deed, std::string_view what,
                             plan::State& unit, plan::Action& out);

/// Why hands cannot do this to the machine as it stands: what covers it, which joint still holds
/// it, the wrong position, or that the machine would tip (code would-tip). What safety::gate says
/// is not in it. Empty: it can be done.
[[nodiscard]] std::vector<safety::Reason> in_the_way(const Model& model, const plan::State& unit,
                                                     Deed deed, std::string_view what);

/// Changes the unit; the deed must be possible.
void do_deed(const Model& model, plan::State& unit, Deed deed, std::string_view what);

/// Every joint fastened, every part in, back in the first position.
[[nodiscard]] bool is_closed(const Model& model, const plan::State& unit);
/// All these parts were taken away themselves, as a plan to them does it: a motor that lies on the
/// bench inside its module is not reached yet.
[[nodiscard]] bool are_away(const plan::State& unit, const std::vector<int>& parts);
/// The job's targets are away; what is mended in its place is uncovered.
[[nodiscard]] bool are_reached(const Model& model, const State& state);
/// A target was exchanged or mended since it was chosen.
[[nodiscard]] bool is_renewed(const State& state, const pack::Pack& pack, int target);

/// A part that is worked on where it is: nothing in front of it, the unit as for taking it out.
[[nodiscard]] plan::Targets uncovered(const pack::Pack& pack, int part);

/// The cheapest way to the targets, or back, from the unit as it stands, without the deeds that
/// were reported blocked.
[[nodiscard]] plan::Plan plan_in(const Model& model, const State& state);
[[nodiscard]] plan::Plan plan_back(const Model& model, const State& state);

}  // namespace kp::job
