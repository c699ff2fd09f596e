#pragma once

#include <string>
#include <vector>

#include "job/state.hpp"

namespace kp::job {

/// How something of a unit is otherwise than it was left.
enum class Differs { position, came_loose, made_fast, taken_away, put_in };
inline constexpr int kDiffers = 5;

struct Difference {
  Differs how = Differs::position;
  std::string id;   ///< of the position it was found in, of the joint or part
  friend bool operator==(const Difference&, const Difference&) = default;
};

/// What differs, in the order of Differs, then by id. A position that was not recorded on one of
/// the sides is no difference.
[[nodiscard]] std::vector<Difference> differences(const Unit& left, const Unit& found);

/// The answer "it is as it was left" to the question at the start of a visit.
[[nodiscard]] UnitAsFound as_it_was_left(const State& state);

/// The intents that begin a new job which goes on with this one, in their order, each to be decided
/// in the new job: opened with the old job and the sum of its last line, then machine, customer,
/// complaint and quote, and the unit as it was left. Nothing is proved there, power and water count
/// as on, and decide() lets nobody work before somebody has said how the unit was found. `tip` is
/// Loaded::tip_hash of a journal read to its end, `job` the new job's id. Parts, times and papers
/// stay in the old journal. Error `damaged`: the old journal was not read whole.
Result<std::vector<Body>> going_on(const State& old, std::string_view tip, std::string_view job);

}  // namespace kp::job
