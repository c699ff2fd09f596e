#pragma once

#include <string>

#include "job/event.hpp"
#include "pack/model.hpp"
#include "plan/plan.hpp"

namespace kp::app {

/// A plan's step in the pack's words. `what` is the id that the record names.
struct StepWords {
  job::Deed deed = job::Deed::release;
  std::string what;
  std::string title;        ///< "Toe panel screws, 2"
  std::string sentence;     ///< "Undo the two toe panel screws."
  std::string done;         ///< "toe panel screws undone", for the hold button
  std::string caution;      ///< the pack's own, may be empty
  std::string why;
  std::string drawing;
  std::string tool;
  std::vector<int> checks;  ///< refit checks that it demands on the way back
};

/// False for steps that nobody confirms: taking up a tool.
bool words_of(const pack::Pack& pack, const plan::Step& step, StepWords& out);
/// The same for a deed that was done.
bool words_of(const pack::Pack& pack, job::Deed deed, const std::string& what, StepWords& out);

/// "About 15 s", "about 2 min".
[[nodiscard]] std::string about(std::int64_t ms);

}  // namespace kp::app
