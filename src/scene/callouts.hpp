#pragma once
// Not for callers of the layout: where the words stand.

#include <vector>

#include "scene/arrange.hpp"

namespace kp::scene {

struct CalloutPlan {
  std::vector<Callout> callouts;     ///< Callout::id is an index of Arrangement::labels here
  std::vector<int> unlabelled;
};

/// Names every item of an exploded arrangement that can be named cleanly: in a column beside the
/// picture, its leader running level out of the picture and then to its line; where another item
/// stands in the way, close by. No leader meets another leader, another item or other words.
[[nodiscard]] CalloutPlan plan_callouts(const Arrangement& arrangement, const Viewport& viewport);

/// Callouts for these items only, in the column; their leaders may pass over items. `taken` are
/// callouts that are there already.
[[nodiscard]] std::vector<Callout> callouts_over(const Arrangement& arrangement,
                                                 const Viewport& viewport,
                                                 const std::vector<int>& items,
                                                 const std::vector<Callout>& taken);

}  // namespace kp::scene
