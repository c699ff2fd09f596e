#pragma once
// Inside find: what no policy can undercut, and one policy that can be had at once.

#include <vector>

#include "find/game.hpp"

namespace kp::find {

/// What is believed and how the unit stands: a node of the search.
struct Place {
  std::vector<double> weight;   ///< a hypothesis each, summing to 1
  int standing = 0;
  Few tests, repairs;           ///< still open
};

/// A lower bound of the expected cost from a place, and of each test taken first.
///
/// floor  = sum over h of P(h) * least cost at which anything mends h (perfect information).
/// To it comes what telling the faults apart costs. With X the label of the fault (faults that
/// share a repair share one), H its entropy, I(t) what test t says of the fault (Shannon 1948), C(t)
/// its capacity and mu any price of a bit in seconds:
///     extra >= mu * (H - kappa) - sum over t of I(t) * max(0, mu - seconds(t) / C(t))
/// because (1) I(t) is concave in the belief, so that along all branches of a policy test t gives no
/// more than I(t) at its root; (2) one use gives at most C(t) for its seconds; (3) a repair that
/// fails tells too: with c the cheapest one, kappa = -log2(1 - 2^(-c/mu)) makes the sum hold for
/// it at every chance of success. Tests in a standing s to which the unit must first be brought for
/// entry(s), and where no repair is done, count only by the share 1 - entry(s) / A, with A the sum
/// of C(t) * max(0, mu - seconds(t) / C(t)) there. The mu that gives most is taken from the tests'
/// own prices. Pairs of faults count with their floor only.
struct Bound {
  double lower = 0;
  double floor = 0;
  std::vector<double> gain_bits;   ///< of a test, over all hypotheses; 0: it tells nothing
  std::vector<double> test_lower;  ///< expected cost if this test comes next, moves included
  std::vector<double> test_base;   ///< the part of it that is certain: way, test and floor
  double bits = 0;                 ///< H, what is left to be told
};

[[nodiscard]] Bound bound(const Game& game, const Place& place);

/// P(repair r ends the job here).
[[nodiscard]] double success(const Game& game, const std::vector<double>& weight, int repair);

/// The place after a repair in vain; `weight` is left unnormalised, its sum is the chance of it.
[[nodiscard]] Place after_failure(const Game& game, const Place& place, int repair);

/// Where expected seconds go.
struct Split {
  double tests = 0, moves = 0, repairs = 0, parts = 0;
  [[nodiscard]] double total() const { return tests + moves + repairs + parts; }
  void add(const Split& other, double share);
};

/// The policy without tests: repairs one after the other by falling chance over cost, handing over
/// as soon as that is cheaper. For Goal::identified: every test that tells anything, nearest first.
struct PlainPolicy {
  Split split;
  std::vector<int> order;          ///< repairs (tests where only telling apart counts)
  bool gives_up = false;           ///< at the end
};
[[nodiscard]] PlainPolicy plain_policy(const Game& game, const Place& place,
                                       const std::vector<double>& gain_bits);

}  // namespace kp::find
