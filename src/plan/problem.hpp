#pragma once

#include <cstdint>
#include <initializer_list>
#include <string>
#include <utility>
#include <vector>

#include "base/findings.hpp"
#include "plan/bits.hpp"

namespace kp::plan {

inline constexpr int kMaxJoints = 128;
inline constexpr int kMaxParts = 120;
inline constexpr int kMaxPositions = 64;
inline constexpr int kMaxTools = 62;
inline constexpr int kMaxPoints = 7;
inline constexpr int kMaxWays = 64;
inline constexpr std::int64_t kMaxCostMs = 1'000'000'000;

/// One way past what stands in front: these parts are away, with the unit in one of these
/// positions (empty: in every one). A list of parts alone is a way too.
struct Way {
  std::vector<int> parts;
  std::vector<int> positions;
  Way() = default;
  Way(std::initializer_list<int> away) : parts(away) {}
  Way(std::vector<int> away, std::vector<int> where = {})
      : parts(std::move(away)), positions(std::move(where)) {}
};

/// Alternatives: one of these ways must stand open. Empty: nothing stands in front.
using Access = std::vector<Way>;

// Names serve the sentences of errors and findings only; empty ones are spoken as "part 3".

struct Position {
  std::string name;
};

/// A change of position. What is not listed is impossible; costs are used as given, the way back
/// may cost something else. Two entries for one pair are two ways to make the change.
struct Turn {
  int from = 0;
  int to = 0;
  std::int64_t cost_ms = 0;
  std::vector<int> needs_released;  ///< joints
  std::vector<int> needs_removed = {};  ///< parts that are away, or went with what carries them
};

/// What hands must never bring about: the unit in one of these positions (empty: in every one)
/// with all of these joints released at once. A loose unit with its door open tips over.
/// A unit that is found so may be brought out of it: by a step after which it is so no more.
struct Forbidden {
  std::vector<int> positions;
  std::vector<int> joints;
};

struct Tool {
  std::string name;
  std::int64_t take_ms = 0;  ///< to put down what is in the hand and take this
};

struct Part {
  std::string name;
  int inside = -1;           ///< the part that carries it away with it, -1: none
  bool removable = true;
  int tool = -1;             ///< -1: whatever is in the hand
  std::int64_t cost_ms = 0;  ///< to lift away, and the same to set
  std::vector<int> positions;  ///< where it can be done; empty: in every one
  Access behind;
};

/// Holds two parts together. With one part it holds this part to its carrier, or to the frame
/// where the part has none; with no part it is only something to do.
struct Joint {
  std::string name;
  std::vector<int> parts;
  int tool = -1;
  std::int64_t cost_ms = 0;  ///< to release, and the same to fasten
  std::vector<int> positions;
  Access behind;
  /// Joints that must be loose before this one is released, and still when it is fastened: a hose
  /// comes off before what carries it is let down.
  std::vector<int> needs_released = {};
};

/// What there is to plan. All int members that name a thing are indices into these lists.
struct Problem {
  std::vector<Position> positions;
  std::vector<Turn> turns;
  std::vector<Tool> tools;
  bool first_tool_free = false;  ///< the first tool costs nothing where the hand is empty
  std::vector<Part> parts;
  std::vector<Joint> joints;
  std::vector<Forbidden> forbidden = {};
  int home = 0;                  ///< the position in which a finished unit stands
};

/// What is true of a unit now.
struct State {
  Set released;      ///< joints
  Set removed;       ///< parts that were taken away themselves; their contents went with them
  int position = 0;
  int tool = -1;     ///< -1: the hand is empty
  friend bool operator==(const State&, const State&) = default;
};

/// A place to be uncovered, for a probe or an eye.
struct Point {
  int on = -1;       ///< the part that it belongs to, -1: the frame
  Access behind;
};

/// What a plan must bring about: parts taken away, points uncovered, and the position in which
/// the plan may end (empty: any).
struct Targets {
  std::vector<int> parts;
  std::vector<Point> points;
  std::vector<int> positions;
};

/// Every fault of a problem in one run: unknown indices and impossible numbers, a carrier that is
/// inside itself, a part or joint that nothing frees, parts that cover each other in a circle, a
/// position that cannot be reached or left for home. `pointer` is "/parts/3" and the like.
/// Codes: unknown-index, bad-cost, too-large, carrier-circle, bad-joint, empty-forbidden,
/// nothing-frees, cyclic-cover, position-unreachable, no-way-home.
[[nodiscard]] Findings check(const Problem& problem);

}  // namespace kp::plan
