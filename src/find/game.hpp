#pragma once
// Inside find: the problem as the search plays it. Hypotheses (single faults and the pairs worth
// looking at) in rows, likelihoods in flat tables, moves closed under detours, costs in seconds.

#include <array>
#include <cstdint>
#include <vector>

#include "find/belief.hpp"

namespace kp::find {

/// A small set of tests or repairs.
class Few {
 public:
  void set(int i, bool on) {
    const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(i & 63);
    std::uint64_t& word = words_[to_word(i)];
    word = on ? word | bit : word & ~bit;
  }
  [[nodiscard]] bool test(int i) const {
    return (words_[to_word(i)] >> static_cast<unsigned>(i & 63) & 1U) != 0;
  }
  [[nodiscard]] const std::array<std::uint64_t, 4>& words() const { return words_; }
  friend bool operator==(const Few&, const Few&) = default;

 private:
  static unsigned to_word(int i) { return static_cast<unsigned>(i) / 64U; }
  std::array<std::uint64_t, 4> words_{};
};

/// A likelihood, or a part of a repair's effect, that is not zero.
struct Entry {
  int h = 0;
  double p = 0;
};

struct GameTest {
  double seconds = 0;
  int standing = 0;
  int outcomes = 0;
  std::vector<double> likelihood;  ///< [outcome * hypotheses + hypothesis]
  int usual = 0;                   ///< the outcome that most hypotheses can give
  std::vector<Entry> rare;         ///< likelihoods of all other outcomes, one after the other
  std::vector<int> rare_from;      ///< where an outcome's begin, and an end; empty for the usual one
  std::vector<Entry> noise_bits;   ///< entropy of the outcome, where there is any
  double capacity_bits = 0;        ///< no prior over hypotheses gets more out of one answer
};

struct GameRepair {
  double seconds = 0;              ///< with price, and with the move to the standing it leaves
  double price_seconds = 0;        ///< of these
  double leaving_seconds = 0;      ///< of these
  int standing = 0;
  int leaves = 0;
  double mends = 1;
  std::vector<int> after;          ///< hypothesis left when it took, -1: solved, itself: untouched
  std::vector<int> touches;        ///< hypotheses that it changes
};

struct Game {
  int hypotheses = 0;
  std::vector<int> a, b;           ///< faults of a hypothesis, b -1: none
  std::vector<double> start;       ///< weights, summing to 1
  double left_out = 0;             ///< mass of the hypotheses that are not looked at
  std::vector<GameTest> tests;
  std::vector<GameRepair> repairs;
  Few tests_open, repairs_open;
  int standings = 1;
  int standing = 0;
  std::vector<double> moves;       ///< [from * standings + to], detours taken
  std::vector<double> entry;       ///< least cost to come to a standing from any other
  std::vector<bool> repair_standing;  ///< some repair is done there
  std::vector<double> repair_floor;  ///< [standing * hypotheses + h]: no policy mends h for less
  std::vector<int> label;          ///< hypotheses that share a repair share a label
  int labels = 0;
  double give_up = -1;
  Goal goal = Goal::repaired;
  bool pairs = false;              ///< some hypothesis is a pair
  double price_cap = 0;            ///< largest seconds per bit for which the bound is proved

  [[nodiscard]] double move(int from, int to) const {
    return moves[static_cast<unsigned>(from * standings + to)];
  }
};

/// `pair_floor`: pairs below this posterior are left out of the search (not of the belief).
[[nodiscard]] Game make_game(const Problem& problem, const std::vector<Evidence>& evidence,
                             const Belief& belief, double pair_floor);

}  // namespace kp::find
