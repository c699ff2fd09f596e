#include "plan/landmarks.hpp"

#include "base/text.hpp"

namespace kp::plan {
namespace {

class Finder {
 public:
  Finder(const Sequence& sequence, const Scope& scope) : s_(sequence), scope_(scope) {
    out_.of_job.resize(s_.jobs.size());
    out_.of_position.resize(to_size(s_.positions));
    out_.reached = s_.done;
    out_.places = bit(s_.position);
    todo_ = scope.jobs - s_.done;
    for (const Bar& bar : s_.bars) barred_somewhere_ |= bar.positions;
  }

  Landmarks run() {
    for (bool changed = true; changed;) {
      changed = false;
      for (std::size_t m = 0; m < s_.moves.size(); ++m) changed = move(m) || changed;
      todo_.each([&](int j) { changed = job(j) || changed; });
    }
    return std::move(out_);
  }

 private:
  static std::uint64_t bit(int i) { return std::uint64_t{1} << static_cast<unsigned>(i); }

  /// All that the jobs of a set stand on.
  [[nodiscard]] ItemSet below(const ItemSet& set) const {
    ItemSet all;
    (set - s_.done).each([&](int j) { all |= out_.of_job[to_size(j)]; });
    return all;
  }

  bool move(std::size_t m) {
    const Move& move = s_.moves[m];
    if (!scope_.barred.empty() && scope_.barred[m]) return false;
    if (move.to == s_.position || (out_.places & bit(move.from)) == 0) return false;
    if (!move.needs.within(out_.reached)) return false;
    const ItemSet found = out_.of_position[to_size(move.from)] | below(move.needs);
    if (barred(found, move.to)) return false;
    ItemSet& known = out_.of_position[to_size(move.to)];
    if ((out_.places & bit(move.to)) == 0) {
      out_.places |= bit(move.to);
      known = found;
      return true;
    }
    return narrow(known, found);
  }

  bool job(int j) {
    const Job& job = s_.jobs[to_size(j)];
    ItemSet found;
    bool any = false;
    for (std::size_t k = 0; k < job.ways.size(); ++k) {
      if (!scope_.ways.empty() && (scope_.ways[to_size(j)] >> k & 1U) == 0) continue;
      if (!job.ways[k].items.within(out_.reached)) continue;
      const ItemSet under = below(job.ways[k].items);
      const std::uint64_t where = allowed(j, job.ways[k], under) & job.positions;
      if ((where & out_.places) == 0) continue;
      const ItemSet way = under | places(where);
      found = any ? found & way : way;
      any = true;
    }
    if (!any) return false;
    found.set(j);
    ItemSet& known = out_.of_job[to_size(j)];
    if (!out_.reached.test(j)) {
      out_.reached.set(j);
      known = found;
      return true;
    }
    return narrow(known, found);
  }

  /// Whether the unit can never be in the position once all of these are done. Only as it was
  /// found it may be so.
  [[nodiscard]] bool barred(const ItemSet& found, int position) const {
    return position != s_.found_at && barred_by(s_.bars, found | s_.done, position) >= 0;
  }

  /// The positions of the way in which the job can be done; `under`: what the way stands on.
  [[nodiscard]] std::uint64_t allowed(int j, const ItemWay& way, const ItemSet& under) const {
    std::uint64_t where = way.positions;
    if ((where & barred_somewhere_) == 0) return where;
    ItemSet then = way.items | under;
    then.set(j);
    for (int p = 0; p < s_.positions; ++p) {
      if ((where & barred_somewhere_ & bit(p)) == 0) continue;
      const ItemSet there = p == s_.position ? ItemSet{} : out_.of_position[to_size(p)];
      if (barred(then | there, p)) where &= ~bit(p);
    }
    return where;
  }

  /// What all reachable positions of the mask have in common.
  [[nodiscard]] ItemSet places(std::uint64_t mask) const {
    if ((mask & bit(s_.position)) != 0) return {};
    ItemSet common;
    bool any = false;
    for (int p = 0; p < s_.positions; ++p) {
      if ((mask & out_.places & bit(p)) == 0) continue;
      common = any ? common & out_.of_position[to_size(p)] : out_.of_position[to_size(p)];
      any = true;
    }
    return common;
  }

  static bool narrow(ItemSet& known, const ItemSet& found) {
    const ItemSet both = known & found;
    if (both == known) return false;
    known = both;
    return true;
  }

  const Sequence& s_;
  const Scope& scope_;
  ItemSet todo_;
  std::uint64_t barred_somewhere_ = 0;   ///< positions that some bar names
  Landmarks out_;
};

}  // namespace

Landmarks landmarks(const Sequence& sequence, const Scope& scope) {
  return Finder(sequence, scope).run();
}

}  // namespace kp::plan
