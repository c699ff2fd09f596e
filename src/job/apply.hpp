#pragma once

#include "job/state.hpp"

namespace kp::job {

/// The most that one answer or correction may add to or take from the time: a day.
inline constexpr std::int64_t kMostCorrectedMs = 24LL * 3'600'000;

/// Everything that decide() may look at besides the state: it is pure.
struct Context {
  const Library* library = nullptr;
  const Settings* settings = nullptr;
};

/// Folds one record into the state. Total: it takes every fact as it stands, judges nothing, reads
/// no pack and no settings, so that a journal gives the same state on every day and machine.
void fold(State& state, const Stamp& stamp, const Body& body);

/// Puts the state's ids into the indices of the pack at hand. Without that pack `model` is -1. An id
/// that the pack does not know stands in `strange`.
void bind(State& state, const Library& library);

/// Both.
void apply(State& state, const Stamp& stamp, const Body& body, const Context& context);

/// What a body means for the energies; none for most.
[[nodiscard]] std::vector<safety::Change> changes_of(const Body& body);

/// The stamp as safety keeps it.
[[nodiscard]] safety::Stamp safety_stamp(const Stamp& stamp);
[[nodiscard]] safety::Now now_of(const Stamp& stamp);

/// What the facts of this program stand on, for a job with this pack (empty: not known yet).
[[nodiscard]] StandsOn stands_on_of(const Context& context, std::string_view pack);
/// The law of a stands-on fact; `all_known` false where it holds rows this program does not know.
[[nodiscard]] safety::Law law_of(const StandsOn& fact, bool& all_known);

}  // namespace kp::job
