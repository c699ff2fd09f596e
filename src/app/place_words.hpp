#pragma once
// What people call the places and terminals of a proof; the record and the engine know their ids.

#include <string>

#include "job/rules.hpp"
#include "safety/reading.hpp"
#include "safety/state.hpp"

namespace kp::app {

/// "Junction box behind the toe panel", "Pins of the plug", "Behind the access panel", "Heater, leg A",
/// "L": a place of proof, a test point or a conductor by its id; the id itself where nobody knows it.
[[nodiscard]] std::string place_words(const job::Model& model, const safety::State& safe,
                                      const std::string& id);

/// "Touch earth, then heater, leg A. What does it show?"
[[nodiscard]] std::string reading_sentence(const job::Model& model, const safety::Wanted& wanted);

}  // namespace kp::app
