#pragma once

#include "plan/landmarks.hpp"
#include "plan/rules.hpp"

namespace kp::plan {

/// What an open item, or a position, cannot be got rid of without: seen backwards from the closed
/// unit at home these are landmarks, so each of them has to be open at some time.
class Musts {
 public:
  explicit Musts(const Rules& rules);

  [[nodiscard]] bool possible(const ItemSet& open, int position) const;
  [[nodiscard]] ItemSet of(const ItemSet& open, int position) const;

 private:
  ItemSet items_;
  Landmarks marks_;
};

}  // namespace kp::plan
