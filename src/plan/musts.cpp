#include "plan/musts.hpp"

#include "base/text.hpp"
#include "plan/opening.hpp"

namespace kp::plan {

Musts::Musts(const Rules& rules) : items_(ItemSet::up_to(rules.items())) {
  State closed;
  closed.position = rules.home();
  Scope scope;
  scope.jobs = items_;
  Sequence back = closing_backwards(rules, closed);
  // What was open may be closed again in between, so what these need was not all open at once.
  back.bars.clear();
  marks_ = landmarks(back, scope);
}

bool Musts::possible(const ItemSet& open, int position) const {
  return open.within(marks_.reached) && (marks_.places >> static_cast<unsigned>(position) & 1U) != 0;
}

ItemSet Musts::of(const ItemSet& open, int position) const {
  ItemSet all = marks_.of_position[to_size(position)];
  open.each([&](int i) { all |= marks_.of_job[to_size(i)]; });
  return (all & items_) - open;
}

}  // namespace kp::plan
