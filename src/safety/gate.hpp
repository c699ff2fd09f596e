#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "safety/policy.hpp"
#include "safety/state.hpp"

namespace kp::safety {

/// Why something is refused: a stable code in kebab-case and one sentence that says what to do.
struct Reason {
  std::string code;
  std::string sentence;
};

struct Verdict {
  bool allowed = false;
  std::vector<Reason> reasons;           ///< all of them; empty when allowed
  std::vector<std::int64_t> stands_on;   ///< events of the proofs; never empty for a hands-in step
};

/// What a step asks for.
struct Demand {
  std::vector<Contact> contacts;
  bool hands_in = true;
  bool running = false;    ///< power or water on: hands clear, panels as the pack says
  int people = 1;          ///< how many it takes
};

/// The gate, default-deny. A hands-in step needs power proved dead and water shut and relieved,
/// whatever it touches; tags add their needs, also to a step without hands_in; a running step
/// needs power or water on by the release order, people clear and panels set, and never hands in; proofs must be younger than the policy says and
/// must belong to the worker present. `now_ms` is UTC in ms; a time before the newest event is
/// clock doubt and refuses.
[[nodiscard]] Verdict permit(const State& state, const Demand& demand, std::int64_t now_ms,
                             const Policy& policy);

/// Why this event may not be written now; empty: it may. Facts are never refused.
[[nodiscard]] std::vector<Reason> refusals(const State& state, const Event& event,
                                           const Policy& policy);

/// The state after the event. Pure and total: an event that refusals() would not let through
/// leaves the state as it is, so that a doctored journal opens no gate.
[[nodiscard]] State apply(const State& state, const Event& event, const Policy& policy);

/// Whether the visit may end so. In service (repaired, no fault): nothing left isolated, no lock
/// hanging, area inspected after the last hands-in step. Left (waiting, not to be used): isolated
/// and tagged, water shut.
[[nodiscard]] Verdict may_end(const State& state, Ending ending, std::int64_t now_ms,
                              const Policy& policy);

/// The proof of death holds now: state, worker and age.
[[nodiscard]] bool power_dead(const State& state, std::int64_t now_ms, const Policy& policy);
[[nodiscard]] bool water_off(const State& state, std::int64_t now_ms, const Policy& policy);
/// Power or water is on for a run or for live measuring.
[[nodiscard]] bool running(const State& state);

[[nodiscard]] const char* words(EventKind kind);   ///< "water-relieved", for journals
[[nodiscard]] const char* words(VoidCause cause);  ///< "left alone", for the strip
[[nodiscard]] const char* words(Ending ending);    ///< "waiting for parts"
/// A fact has happened and is never refused.
[[nodiscard]] bool is_fact(EventKind kind);

}  // namespace kp::safety
