#pragma once

#include <vector>

#include "job/state.hpp"
#include "plan/plan.hpp"

namespace kp::job {

/// What a test of the Find stage wants uncovered, and where the unit must be for it: its points and
/// the leads that it pulls.
[[nodiscard]] plan::Targets targets_of(const pack::Pack& pack, const pack::Test& test);

/// How the wiring must be for a measurement.
struct Wiring {
  std::vector<int> parted;   ///< joints whose leads are off
  bool else_whole = false;   ///< all other leads that were pulled are on again
  friend bool operator==(const Wiring&, const Wiring&) = default;
};
[[nodiscard]] Wiring wiring_of(const pack::Test& test);

/// The cheapest way to the targets, with leads put back on before and pulled at its end. A lead that
/// cannot be put back from where the unit stands, or that must be off on the way, stays off.
[[nodiscard]] plan::Plan way_to(const Model& model, const plan::State& unit, const plan::Targets& targets,
                                const Wiring& wiring, plan::Limits limits = {});

/// A test that runs the whole machine and touches no point of it: everything is closed for it.
[[nodiscard]] bool wants_closed(const pack::Test& test);

/// Whether water is on for it: it runs a step of the programme, or the machine as a whole.
[[nodiscard]] bool wants_water(const pack::Test& test);

/// The cheapest way to where the test is made, from the unit as it stands; no steps: it is there.
[[nodiscard]] plan::Plan plan_to_test(const Model& model, const plan::State& unit,
                                      const pack::Test& test);

/// Joints that are off although the band of this measurement counts on them: with them off a good unit
/// reads outside it. None for a test that is not on the circuit.
[[nodiscard]] std::vector<int> misleading_joints(const Model& model, const plan::State& unit,
                                                 const pack::Test& test);

/// Whether the unit is open no further than a measurement with power on needs it: only what is in
/// front of its points is away. A closed unit always is.
[[nodiscard]] bool stands_for_live(const Model& model, const plan::State& unit,
                                   const pack::Test& test);
/// The same for any test of the pack that is made with power on.
[[nodiscard]] bool stands_for_live(const Model& model, const plan::State& unit);

}  // namespace kp::job
