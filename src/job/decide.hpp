#pragma once

#include <optional>
#include <vector>

#include "job/apply.hpp"
#include "job/state.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// What decide() answers: the records to write, in order, or the reasons against. Nothing is true
/// until the records are durable and applied.
struct Decision {
  std::vector<Body> events;
  std::vector<safety::Reason> reasons;
  [[nodiscard]] bool accepted() const { return reasons.empty(); }
};

/// Whether what a person says happened may be recorded now, and what follows from it (the proofs a
/// step stands on, the stage that it completes). `now` is the stamp that the first record would
/// carry, with the number after state.last_n. Pure. A hands-in step is refused unless the gate
/// permits it; every refusal says what to do.
[[nodiscard]] Decision decide(const State& state, const Body& intent, const Stamp& now,
                              const Context& context);

/// The record of a refusal: only where rows of the gate spoke against an act with hands in.
[[nodiscard]] std::optional<Refused> refusal_of(const State& state, const Body& intent,
                                                const Decision& decision, const Context& context);

/// Whether the stage may be entered now; the reasons if not. Going back is always allowed, except
/// from Bill once the invoice is issued.
[[nodiscard]] std::vector<safety::Reason> against_stage(const State& state, Stage stage,
                                                        const Stamp& now, const Context& context);

}  // namespace kp::job
