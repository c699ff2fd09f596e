#pragma once
// The textbook orders: cheap to compute, right under the conditions that each one names. The search
// is held against them, and a technician can be shown what they would do.

#include <vector>

namespace kp::find {

/// An action that ends the search with probability `p` and costs `seconds`.
struct Attempt {
  double p = 0;
  double seconds = 0;
};

/// By falling p / seconds, ties by index. Least expected cost with exactly one fault, one action a
/// fault, sure actions and costs that do not depend on the order (Kadane and Simon 1977).
[[nodiscard]] std::vector<int> ratio_order(const std::vector<Attempt>& attempts);

/// Expected cost of doing them in this order until one succeeds, exactly one being right: the sum of
/// seconds * P(not solved before). `last_paid` false: the last one is inferred, not done.
[[nodiscard]] double expected_of(const std::vector<Attempt>& attempts, const std::vector<int>& order,
                                 bool last_paid = true);

/// The same with groups: an attempt of group g >= 0 costs entry[g] once, when the first of the group
/// is reached.
[[nodiscard]] double expected_of(const std::vector<Attempt>& attempts, const std::vector<int>& order,
                                 const std::vector<int>& group, const std::vector<double>& entry);

/// Least expected cost where each group lies behind one cover, opened once (Ottosen and Jensen): each
/// group is split into blocks of falling ratio, its first block carrying the cover; blocks are taken
/// by falling ratio.
[[nodiscard]] std::vector<int> cluster_order(const std::vector<Attempt>& attempts,
                                             const std::vector<int>& group,
                                             const std::vector<double>& entry);

/// A unit of a series system that works with probability `works`, tested for `seconds`.
struct Link {
  double works = 0;
  double seconds = 0;
};
/// Stop at the first that fails: by rising seconds / (1 - works) (Mitten 1960), ties by index.
[[nodiscard]] std::vector<int> series_order(const std::vector<Link>& links);
[[nodiscard]] double series_cost(const std::vector<Link>& links, const std::vector<int>& order);

/// Independent attempts, stop at the first success: by rising seconds / p, ties by index.
[[nodiscard]] std::vector<int> fix_order(const std::vector<Attempt>& attempts);
[[nodiscard]] double fix_cost(const std::vector<Attempt>& attempts, const std::vector<int>& order);

/// Half-splitting a chain whose links fail with these weights: cut k (k = 1 … n - 1) tells on which
/// side the fault is, for cut_seconds[k - 1]. An optimal alphabetic tree, by the O(n^3) programme.
struct Splitting {
  double expected = 0;          ///< seconds, weights taken as given
  int first_cut = 0;            ///< between links first_cut - 1 and first_cut; 0: one link
};
[[nodiscard]] Splitting half_split(const std::vector<double>& weights,
                                   const std::vector<double>& cut_seconds);

/// Shannon entropy of a distribution, in bits.
[[nodiscard]] double entropy_bits(const std::vector<double>& p);
/// Bits that a test gives which tells whether the fault is in the set, `in` a flag each.
[[nodiscard]] double split_gain_bits(const std::vector<double>& p, const std::vector<bool>& in);

/// Bayes: P(fault | positive) and P(fault | negative).
struct Posterior {
  double positive = 0;
  double negative = 0;
};
[[nodiscard]] Posterior noisy_test(double prior, double sensitivity, double specificity);

/// cost[d][s]: cost of decision d in state s. Least expected cost now, with the state known first,
/// and the difference: the expected value of perfect information.
struct Information {
  double now = 0;
  double informed = 0;
  double value = 0;
};
[[nodiscard]] Information perfect_information(const std::vector<double>& p,
                                              const std::vector<std::vector<double>>& cost);
/// The same for a test: likelihood[outcome][state]; its own cost not counted.
[[nodiscard]] Information test_information(const std::vector<double>& p,
                                           const std::vector<std::vector<double>>& cost,
                                           const std::vector<std::vector<double>>& likelihood);

}  // namespace kp::find
