#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "job/state.hpp"
#include "scene/layout.hpp"

namespace kp::job {

/// Items of the exploded view: part i has id i, joint j has id kJointItem + j.
inline constexpr int kJointItem = 10'000;

using DrawingOf = std::function<const scene::Drawing*(std::string_view id)>;

/// Every part of the pack as an item in its present state, and the joint that is worked on now, if
/// any. Parts that never come off are context. `deed` and `what` name the present step; an empty
/// `what`: none.
[[nodiscard]] std::vector<scene::Item> bind_scene(const Model& model, const State& state,
                                                  Deed deed, std::string_view what,
                                                  const DrawingOf& drawing_of);

/// Letters A and B on the items at which a test on the circuit wants the probes; where the pack does
/// not say the place, in the middle of the drawing.
void add_probes(const pack::Pack& pack, const pack::Test& test, std::vector<scene::Item>& items);

/// The item that the present step is about, -1: none.
[[nodiscard]] int item_of(const pack::Pack& pack, Deed deed, std::string_view what);

}  // namespace kp::job
