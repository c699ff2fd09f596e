#pragma once

#include "plan/sequence.hpp"

namespace kp::plan {

/// A sequence of which all `wanted` jobs are done, with the order that its bars force written into
/// its jobs.
struct Tightened {
  Sequence sequence;
  ItemSet hampering;  ///< jobs that can still bring a bar about, so that when to do them is a choice
};

/// Of the jobs of a bar one comes last. Where a single one can be done outside the positions of the
/// bar it is that one: it waits for the others, and for all work that can be done in those
/// positions only, since they are closed once it is done. No order is lost.
[[nodiscard]] Tightened tighten(const Sequence& sequence, const ItemSet& wanted);

}  // namespace kp::plan
