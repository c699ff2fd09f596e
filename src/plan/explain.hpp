#pragma once

#include "plan/landmarks.hpp"
#include "plan/plan.hpp"

namespace kp::plan {

/// Why item `item` can never be opened: the chain from it to the root, and the root in words.
struct Reason {
  enum class Root { fixed, circle, position, forbidden };
  Root root = Root::fixed;
  std::vector<Blocker> chain;
  std::string words;  ///< "the sump cover does not come away"
};

/// "Door open is forbidden with all of these released: Floor bracket, Worktop screws".
[[nodiscard]] std::string forbidden_words(const Rules& rules, const Bar& bar, int position);

[[nodiscard]] Reason explain(const Rules& rules, const Sequence& sequence, const Landmarks& marks,
                             int item);
/// The same for a position that is never taken.
[[nodiscard]] Reason explain_position(const Rules& rules, const Sequence& sequence,
                                      const Landmarks& marks, int position);
/// The same for a point, whose ways are in `point`.
[[nodiscard]] Reason explain_point(const Rules& rules, const Sequence& sequence,
                                   const Landmarks& marks, const Item& point);

}  // namespace kp::plan
