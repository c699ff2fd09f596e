#pragma once

#include <cstdint>
#include <vector>

#include "plan/sequence.hpp"

namespace kp::plan {

/// What must have been done before each job and each position, whatever the order: the jobs that
/// all ways to it have in common. (Landmarks of an AND/OR graph: Keyder, Richter, Helmert,
/// "Sound and complete landmarks for AND/OR graphs", ECAI 2010.)
struct Landmarks {
  ItemSet reached;                  ///< jobs that can be done at all, costs aside
  std::uint64_t places = 0;         ///< positions that can be reached at all
  std::vector<ItemSet> of_job;      ///< with the job itself, without what is done
  std::vector<ItemSet> of_position;
};

/// Restrictions under which landmarks are looked for.
struct Scope {
  ItemSet jobs;                       ///< only these may be done
  std::vector<std::uint64_t> ways;    ///< per job, bit k: way k may be used; empty: all
  std::vector<bool> barred;           ///< per move; empty: none
};

[[nodiscard]] Landmarks landmarks(const Sequence& sequence, const Scope& scope);

}  // namespace kp::plan
