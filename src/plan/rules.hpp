#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "plan/bits.hpp"
#include "plan/problem.hpp"

namespace kp::plan {

enum class Kind { turn, take_tool, release, remove, fasten, set };

struct Action {
  Kind kind = Kind::turn;
  int subject = 0;  ///< index of a turn, tool, joint or part
  friend bool operator==(const Action&, const Action&) = default;
};

/// A joint or part as one thing that is open (released, removed) or closed.
struct Item {
  std::int64_t cost_ms = 0;
  int tool = -1;
  std::uint64_t positions = 0;     ///< bit p: can be done in position p, one way or another
  /// Alternatives: one of these must stand open before this can be opened, and still (or again)
  /// when this is closed. No entry: it can never be opened. None names a position outside
  /// `positions`.
  std::vector<ItemWay> ways;
  std::vector<int> never;          ///< parts that barred the ways that were left out
};

struct RuleTurn {
  int from = 0;
  int to = 0;
  std::int64_t cost_ms = 0;
  std::vector<ItemSet> ways;  ///< alternatives: one of these must be open; none: never
  std::vector<int> never;     ///< parts that barred the ways that were left out

  [[nodiscard]] bool stands(const ItemSet& open) const {
    for (const ItemSet& way : ways) {
      if (way.within(open)) return true;
    }
    return false;
  }
};

/// A problem worked out into what may be done when. Joint j is item j, part p is item
/// joints() + p.
///
/// A part can be lifted away when the joints between it (with its contents) and the rest are
/// released; joints inside it may stay. A part is away when it was removed, or a carrier of it was
/// removed that does not also carry the thing behind it: a cover inside the module still covers
/// what is inside the module when the module lies on the bench.
class Rules {
 public:
  /// Error `bad-problem` with the first fault of plan::check that makes the problem unusable
  /// (unknown index, bad number, too large); a part that nothing frees is no error here.
  static Result<Rules> make(const Problem& problem);

  [[nodiscard]] int joints() const { return joints_; }
  [[nodiscard]] int parts() const { return parts_; }
  [[nodiscard]] int items() const { return joints_ + parts_; }
  [[nodiscard]] int positions() const { return positions_; }
  [[nodiscard]] int tools() const { return static_cast<int>(take_ms_.size()); }
  [[nodiscard]] int home() const { return home_; }
  [[nodiscard]] bool first_tool_free() const { return first_tool_free_; }
  [[nodiscard]] std::int64_t take_ms(int tool) const { return take_ms_[to_index(tool)]; }
  [[nodiscard]] const Item& item(int i) const { return items_[to_index(i)]; }
  [[nodiscard]] const std::vector<RuleTurn>& turns() const { return turns_; }
  /// Problem::forbidden in items, in its order.
  [[nodiscard]] const std::vector<Bar>& bars() const { return bars_; }
  /// Joints (as items) that tie part p to the rest.
  [[nodiscard]] const ItemSet& ties(int part) const { return ties_[to_index(part)]; }
  [[nodiscard]] std::uint64_t every_position() const { return every_position_; }
  /// "Spray arm" or "part 3"; "Toe panel screws" or "joint 5"; "On its back" or "position 2".
  [[nodiscard]] const std::string& item_name(int i) const { return item_names_[to_index(i)]; }
  [[nodiscard]] const std::string& position_name(int p) const { return position_names_[to_index(p)]; }

  /// The alternatives for a point, in items; error `bad-target` for an unknown index.
  [[nodiscard]] Result<Item> point(const Point& point) const;

  /// Why this cannot be the state of a unit, if so: unknown position or tool, a part away whose
  /// joints are fastened. Code bad-state.
  [[nodiscard]] std::optional<Error> fault(const State& state) const;
  [[nodiscard]] ItemSet open(const State& state) const;

  /// Which of Problem::forbidden the unit would be in after the action, by its index, or -1. Asks
  /// nothing else of the action; taking a tool changes nothing of the unit and is never meant.
  [[nodiscard]] int forbidden_after(const State& state, Action action) const;
  /// Whether the action can be done now, with the tool in the hand and in the position of now.
  [[nodiscard]] bool legal(const State& state, Action action) const;
  /// All legal actions of these kinds, by kind then index.
  [[nodiscard]] std::vector<Action> applicable(const State& state,
                                               const std::vector<Kind>& kinds) const;
  [[nodiscard]] std::int64_t cost_ms(const State& state, Action action) const;
  /// The state after a legal action.
  [[nodiscard]] State apply(State state, Action action) const;

 private:
  static std::size_t to_index(int i) { return static_cast<std::size_t>(i); }
  struct Build;

  int joints_ = 0;
  int parts_ = 0;
  int positions_ = 0;
  int home_ = 0;
  bool first_tool_free_ = false;
  std::uint64_t every_position_ = 0;
  std::vector<std::int64_t> take_ms_;
  std::vector<Item> items_;
  std::vector<RuleTurn> turns_;
  std::vector<Bar> bars_;
  std::vector<ItemSet> ties_;
  std::vector<std::vector<int>> carriers_;  ///< of each part, nearest first, without itself
  std::vector<bool> removable_;
  std::vector<std::string> item_names_;
  std::vector<std::string> position_names_;
};

}  // namespace kp::plan
