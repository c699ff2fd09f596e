#include "pack/reach.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "base/text.hpp"
#include "support/random.hpp"

// What holds an assembly follows from its meaning; the reach is held against an exhaustive walk
// over all states of small random packs.

namespace kp {
namespace {

using pack::Access;
using pack::Joint;
using pack::Pack;
using pack::Part;

Part part(int inside = -1, Access behind = {}) {
  Part out;
  out.inside = inside;
  out.behind = std::move(behind);
  return out;
}

Joint joint(std::vector<int> parts) {
  Joint out;
  out.parts = std::move(parts);
  return out;
}

/// 0 frame, 1 module, 2 motor in the module, 3 rotor on the motor, 4 harness, 5 lid in the module
Pack module_pack() {
  Pack pack;
  pack.parts = {part(), part(), part(1), part(2), part(), part(1)};
  pack.joints = {joint({1, 0}), joint({2, 4}), joint({2, 5}), joint({3, 2}), joint({1}),
                 joint({2}),    joint({3, 0}), joint({2, 1})};
  return pack;
}

TEST_CASE("reach: what ties an assembly to the rest holds it, what holds it together does not") {
  const Pack pack = module_pack();
  CHECK(pack::holding_joints(pack, 1) == std::vector<int>{0, 1, 4, 6});
  CHECK(pack::holding_joints(pack, 2) == std::vector<int>{1, 2, 5, 6, 7});
  CHECK(pack::holding_joints(pack, 3) == std::vector<int>{3, 6});
  CHECK(pack::holding_joints(pack, 5) == std::vector<int>{2});
  CHECK(pack::carriers(pack, 3) == std::vector<int>{3, 2, 1});
  CHECK(pack::is_within(pack, 3, 1));
  CHECK(pack::is_within(pack, 1, 1));
  CHECK(!pack::is_within(pack, 1, 3));
  CHECK(pack::joint_carriers(pack, pack.joints[2]) == std::vector<int>{1});
  CHECK(pack::joint_carriers(pack, pack.joints[5]) == std::vector<int>{1});
  CHECK(pack::joint_carriers(pack, pack.joints[0]).empty());
}

TEST_CASE("reach: an assembly that goes uncovers what it leaves, not what it carries") {
  const Pack pack = module_pack();
  const std::vector<bool> module_away = {false, true, false, false, false, false};
  // The lid (5) went with the module: what stays in the frame is open, the motor is not.
  CHECK(pack::is_open(pack, {{5}}, {4}, module_away));
  CHECK(!pack::is_open(pack, {{5}}, pack::carriers(pack, 2), module_away));
  CHECK(pack::is_open(pack, {{1}}, pack::carriers(pack, 2), module_away));
  CHECK(pack::is_open(pack, {}, {}, module_away));
  CHECK(pack::is_open(pack, {{0}, {1}}, {}, module_away));
  CHECK(!pack::is_open(pack, {{0, 1}}, {}, module_away));
}

/// Walks every state that single moves lead to. Slow and plain: the oracle.
pack::Reach walk_all(const Pack& pack) {
  const int parts = to_int(pack.parts.size());
  const int joints = to_int(pack.joints.size());
  const int positions = to_int(pack.positions.size());
  std::vector<bool> seen(to_size(std::int64_t{1} << (parts + joints)) * to_size(positions));
  std::vector<int> open = {0};
  seen[0] = true;
  pack::Reach reach{std::vector<bool>(to_size(positions)), std::vector<bool>(to_size(joints)),
                    std::vector<bool>(to_size(parts))};
  reach.positions[0] = true;
  const auto code = [&](int mask, int position) { return mask * positions + position; };
  while (!open.empty()) {
    const int state = open.back();
    open.pop_back();
    const int mask = state / positions;
    const int position = state % positions;
    const auto released = [&](int j) { return (mask >> j & 1) == 1; };
    std::vector<bool> removed(to_size(parts));
    for (int p = 0; p < parts; ++p) {
      removed[to_size(p)] = (mask >> (joints + p) & 1) == 1;
    }
    const auto go = [&](int next) {
      if (!seen[to_size(next)]) {
        seen[to_size(next)] = true;
        open.push_back(next);
      }
    };
    const auto here = [&](const std::vector<int>& list) {
      return list.empty() || std::find(list.begin(), list.end(), position) != list.end();
    };
    const auto only = [&](int place) {
      std::vector<bool> places(pack.positions.size());
      places[to_size(place)] = true;
      return places;
    };
    const auto all_released = [&](const std::vector<int>& list) {
      return std::all_of(list.begin(), list.end(), released);
    };
    for (const pack::PositionChange& change : pack.changes) {
      const bool away = change.needs_removed.empty() ||
                        pack::is_open(pack, {pack::Way(change.needs_removed)}, {}, removed);
      if (change.from == position && all_released(change.needs_released) && away) {
        reach.positions[to_size(change.to)] = true;
        go(code(mask, change.to));
      }
    }
    for (int j = 0; j < joints; ++j) {
      const Joint& one = pack.joints[to_size(j)];
      if (here(one.positions) &&
          all_released(one.needs_released) &&
          pack::is_open(pack, one.behind, pack::joint_carriers(pack, one), removed, only(position))) {
        reach.joints[to_size(j)] = true;
        go(code(mask | 1 << j, position));
      }
    }
    for (int p = 0; p < parts; ++p) {
      const Part& one = pack.parts[to_size(p)];
      if (one.removable && here(one.positions) && all_released(pack::holding_joints(pack, p)) &&
          pack::is_open(pack, one.behind, pack::carriers(pack, p), removed, only(position))) {
        reach.parts[to_size(p)] = true;
        go(code(mask | 1 << (joints + p), position));
      }
    }
  }
  return reach;
}

std::vector<int> random_positions(test::Random& random, int positions) {
  return random.chance(0.5) ? std::vector<int>{}
                            : std::vector<int>{random.between(0, positions - 1)};
}

Access random_access(test::Random& random, int parts, int positions) {
  Access out;
  for (int way = random.between(0, 2); way > 0; --way) {
    std::vector<int> list = {random.between(0, parts - 1)};
    if (random.chance(0.3)) {
      list.push_back(random.between(0, parts - 1));
    }
    out.emplace_back(list, random_positions(random, positions));
  }
  return out;
}

Pack random_pack(test::Random& random) {
  Pack pack;
  const int positions = random.between(1, 3);
  const int parts = random.between(2, 5);
  const int joints = random.between(1, 5);
  pack.positions.resize(to_size(positions));
  for (int p = 0; p < parts; ++p) {
    Part one = part(p > 0 && random.chance(0.3) ? random.between(0, p - 1) : -1,
                    random_access(random, parts, positions));
    one.removable = random.chance(0.85);
    one.positions = random_positions(random, positions);
    pack.parts.push_back(one);
  }
  for (int j = 0; j < joints; ++j) {
    const int first = random.between(0, parts - 1);
    const int second = random.between(0, parts - 1);
    Joint one = first == second ? joint({first}) : joint({first, second});
    one.behind = random_access(random, parts, positions);
    one.positions = random_positions(random, positions);
    if (j > 0 && random.chance(0.2)) {
      one.needs_released = {random.between(0, j - 1)};
    }
    pack.joints.push_back(one);
  }
  for (int p = 1; p < positions; ++p) {
    pack::PositionChange there;
    there.from = random.between(0, p - 1);
    there.to = p;
    if (random.chance(0.5)) {
      there.needs_released = {random.between(0, joints - 1)};
    }
    if (random.chance(0.3)) {
      there.needs_removed = {random.between(0, parts - 1)};
    }
    pack::PositionChange back;
    back.from = there.to;
    back.to = there.from;
    pack.changes.push_back(there);
    pack.changes.push_back(back);
  }
  return pack;
}

TEST_CASE("reach: equals a walk over every state, on random packs") {
  int blocked = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    test::Random random(seed);
    CAPTURE(seed);
    const Pack pack = random_pack(random);
    const pack::Reach fast = pack::reach_of(pack);
    const pack::Reach slow = walk_all(pack);
    CHECK(fast.positions == slow.positions);
    CHECK(fast.joints == slow.joints);
    CHECK(fast.parts == slow.parts);
    blocked += static_cast<int>(std::count(slow.parts.begin(), slow.parts.end(), false));
  }
  CHECK(blocked > 100);
}

}  // namespace
}  // namespace kp
