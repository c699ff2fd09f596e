#include "plan/tighten.hpp"

#include "base/text.hpp"

namespace kp::plan {
namespace {

/// Those of the jobs that can be done outside the positions of the bar.
ItemSet possible_last(const Sequence& s, const Bar& bar, const ItemSet& jobs) {
  ItemSet out;
  jobs.each([&](int j) {
    const Job& job = s.jobs[to_size(j)];
    std::uint64_t where = 0;
    for (const ItemWay& way : job.ways) where |= way.positions;
    if ((where & job.positions & ~bar.positions) != 0) out.set(j);
  });
  return out;
}

/// The work that is left and can be done in the positions of the bar only.
ItemSet bound_to(const Sequence& s, const Bar& bar, const ItemSet& left) {
  ItemSet out;
  (left & s.real).each([&](int j) {
    if ((s.jobs[to_size(j)].positions & ~bar.positions) == 0) out.set(j);
  });
  return out;
}

void put_last(Sequence& s, const Bar& bar, int last, const ItemSet& before) {
  Job& job = s.jobs[to_size(last)];
  job.positions &= ~bar.positions;
  for (ItemWay& way : job.ways) way.items |= before;
}

}  // namespace

Tightened tighten(const Sequence& sequence, const ItemSet& wanted) {
  Tightened out{sequence, {}};
  const ItemSet left = wanted - sequence.done;
  for (const Bar& bar : sequence.bars) {
    const ItemSet undone = bar.items - sequence.done;
    // With one of its jobs never done a bar never stands.
    if (undone.none() || !undone.within(wanted)) continue;
    const ItemSet last = possible_last(sequence, bar, undone);
    if (last.count() != 1 || bar.stands(sequence.as_found, sequence.found_at)) {
      out.hampering |= undone;
      continue;
    }
    ItemSet before = undone | bound_to(sequence, bar, left);
    before -= last;
    put_last(out.sequence, bar, last.first(), before);
    out.hampering |= last;
  }
  return out;
}

}  // namespace kp::plan
