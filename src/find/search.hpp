#pragma once
// Inside find: AND/OR search for the policy of least expected cost (AO*: Martelli and Montanari 1973;
// Nilsson 1980), with upper bounds kept beside the lower ones, so that it can stop at any time with
// a proved gap. Places that are reached in several ways are searched once.

#include <cstdint>
#include <deque>
#include <unordered_map>
#include <vector>

#include "find/bound.hpp"

namespace kp::find {

enum class Do { test, repair, give_up };

struct Branch {
  int outcome = 0;      ///< row of GameTest; of a repair: 0, it was in vain
  double p = 0;
  int node = 0;
};

struct Choice {
  Do what = Do::test;
  int index = 0;        ///< test or repair
  double lower = 0, upper = 0;
  double base = 0;      ///< of an unopened test: what is certain of its cost
  bool opened = false;  ///< branches are there
  std::vector<Branch> branches;
};

struct Node {
  Place place;
  double lower = 0, upper = 0;
  int best = -1;        ///< choice with the least upper; -1: the plain policy
  bool expanded = false;
  double floor = 0, bits = 0;  ///< see Bound
  std::vector<double> gain_bits, test_lower, test_base;
  std::vector<Choice> choices;
};

class Search {
 public:
  explicit Search(const Game& game);

  /// Works until the gap of the root is closed or `openings` choices were opened in all.
  void run(std::uint64_t openings);

  [[nodiscard]] const Node& node(int index) const { return nodes_[static_cast<unsigned>(index)]; }
  [[nodiscard]] bool closed(const Node& node) const;
  [[nodiscard]] std::uint64_t opened() const { return opened_; }
  /// Where the seconds of a node's best known policy go.
  [[nodiscard]] Split split(int index, int first) const;
  /// Upper bound of the cost when `choice` is taken at a node, after that much work on it.
  [[nodiscard]] double upper_of(int node, int choice, std::uint64_t openings);
  /// Root choices exist after this.
  void expand(int node);
  void open(int node, int choice);
  void back_up(int node);
  [[nodiscard]] PlainPolicy plain(const Node& node) const;

 private:
  int find_or_add(Place place);
  /// Which choice a dive follows: the one that could be best, to raise the lower bound, or the one
  /// that is or seems best, to find a better policy.
  enum class Aim { prove, improve };
  [[nodiscard]] double score(const Node& node, const Choice& choice, Aim aim) const;
  [[nodiscard]] int pick(const Node& node, Aim aim) const;
  void dive(Aim aim, int from);
  [[nodiscard]] int widest(const Choice& choice) const;
  const Game& game_;
  std::deque<Node> nodes_;  // a node stays where it is while others are added
  std::unordered_map<std::uint64_t, std::vector<int>> known_;
  std::uint64_t opened_ = 0;
};

}  // namespace kp::find
