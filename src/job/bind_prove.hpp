#pragma once

#include <vector>

#include "base/findings.hpp"
#include "job/state.hpp"
#include "pack/load.hpp"
#include "plan/plan.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// What a prove test asks of the gate.
enum class ProveDemand {
  free,          ///< nothing: after the run
  hands_in,      ///< power proved dead, water shut and relieved
  static_water,  ///< power proved dead, water on, no wet joint open
  running        ///< power and water on, hands clear
};
[[nodiscard]] ProveDemand prove_demand(const pack::ProveTest& test);

/// Whether a test has a place of its own in the machine: a cover away, a joint loose, a position.
/// Any other is made from outside, on the closed machine.
[[nodiscard]] bool has_place(const pack::ProveTest& test);

/// Joints that must be fast for it: those that it names, and under water pressure every wet joint and
/// every lead that hangs by one.
[[nodiscard]] std::vector<int> fast_for(const Model& model, const pack::ProveTest& test);

/// Why a prove test cannot be made on the unit as it stands: its place is not open, or a joint is
/// not as it asks. A test without a place wants the machine closed. Empty: it can be made. What
/// safety says is not asked here.
[[nodiscard]] std::vector<safety::Reason> place_reasons(const Model& model, const plan::State& unit,
                                                        const pack::ProveTest& test);
[[nodiscard]] bool place_open(const Model& model, const plan::State& unit,
                              const pack::ProveTest& test);

/// When a prove test before power is to be made.
struct Placing {
  int test = 0;      ///< index into pack.prove_tests
  /// Before this step of the way back; as many as there are steps: after the last. -1: at no moment.
  int before = -1;
  std::vector<safety::Reason> reasons;  ///< with -1: what is in the way when least is
};

/// The prove tests before power that are not `done` (indices), in the order of the pack, each at
/// the last moment of the way back at which it can be made, so that nothing is asked for behind a
/// closed cover. The earth (B2) is measured no later than the insulation (B3), which is not
/// complete without a sound earth (VDE 0701, second hand). `back` starts at `unit`.
[[nodiscard]] std::vector<Placing> prove_schedule(const Model& model, const plan::State& unit,
                                                  const plan::Plan& back,
                                                  const std::vector<int>& done);

/// The same way back with what a prove test before power wants loose joined only after what it wants
/// fast: the insulation is measured with all loads in, and the supply not joined yet. Tools are taken
/// anew, so it can cost a little more. Unchanged where it is so already, or cannot be.
[[nodiscard]] plan::Plan order_for_proofs(const Model& model, const plan::State& unit,
                                          plan::Plan back);

/// What only the planner and the mains can find: a prove test before power that has a place and no
/// moment on the way back from any part (`prove-never`), a supply without a known band
/// (`supply-range`). The pack must have no fault that pack::check reports.
[[nodiscard]] Findings check_order(const pack::Pack& pack, const pack::Places& places = {});

}  // namespace kp::job
