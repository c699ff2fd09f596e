#include "find/classic.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/text.hpp"

namespace kp::find {

namespace {

template <class Less>
std::vector<int> sorted(std::size_t count, Less less) {
  std::vector<int> order(count);
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), less);
  return order;
}

/// a / b before c / d, for falling ratios, without dividing by zero; equal but for rounding is equal.
bool above(double a, double b, double c, double d) { return a * d > c * b * (1 + 1e-12); }

double least(const std::vector<double>& p, const std::vector<std::vector<double>>& cost) {
  double best = std::numeric_limits<double>::infinity();
  for (const std::vector<double>& row : cost) {
    double sum = 0;
    for (std::size_t s = 0; s < p.size(); ++s) sum += p[s] * row[s];
    best = std::min(best, sum);
  }
  return best;
}

/// A run of attempts that is taken whole.
struct Block {
  double p = 0;
  double seconds = 0;
  std::vector<int> items;
};

/// Blocks of one group, falling ratio; what follows with a better ratio than the block before it
/// joins that block, since the order within the group must hold.
void group_blocks(const std::vector<Attempt>& attempts, const std::vector<int>& members,
                  double entry, std::vector<Block>& out) {
  std::vector<Block> own;
  for (const int item : members) {
    const Attempt& attempt = attempts[to_size(item)];
    own.push_back({attempt.p, attempt.seconds + (own.empty() ? entry : 0), {item}});
    while (own.size() > 1) {
      Block& last = own.back();
      Block& before = own[own.size() - 2];
      if (!above(last.p, last.seconds, before.p, before.seconds)) break;
      before.p += last.p;
      before.seconds += last.seconds;
      before.items.insert(before.items.end(), last.items.begin(), last.items.end());
      own.pop_back();
    }
    // The first attempt carries the cover for all: only the very first block holds it.
    entry = 0;
  }
  out.insert(out.end(), own.begin(), own.end());
}

}  // namespace

std::vector<int> ratio_order(const std::vector<Attempt>& attempts) {
  return sorted(attempts.size(), [&](int i, int j) {
    const Attempt& a = attempts[to_size(i)];
    const Attempt& b = attempts[to_size(j)];
    return above(a.p, a.seconds, b.p, b.seconds);
  });
}

double expected_of(const std::vector<Attempt>& attempts, const std::vector<int>& order,
                   bool last_paid) {
  double left = 1;
  double sum = 0;
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Attempt& attempt = attempts[to_size(order[i])];
    if (i + 1 < order.size() || last_paid) sum += left * attempt.seconds;
    left -= attempt.p;
  }
  return sum;
}

double expected_of(const std::vector<Attempt>& attempts, const std::vector<int>& order,
                   const std::vector<int>& group, const std::vector<double>& entry) {
  std::vector<bool> entered(entry.size());
  double left = 1;
  double sum = 0;
  for (const int item : order) {
    const int g = group[to_size(item)];
    if (g >= 0 && !entered[to_size(g)]) {
      entered[to_size(g)] = true;
      sum += left * entry[to_size(g)];
    }
    sum += left * attempts[to_size(item)].seconds;
    left -= attempts[to_size(item)].p;
  }
  return sum;
}

std::vector<int> cluster_order(const std::vector<Attempt>& attempts, const std::vector<int>& group,
                               const std::vector<double>& entry) {
  const std::vector<int> order = ratio_order(attempts);
  std::vector<Block> blocks;
  for (const int item : order) {
    if (group[to_size(item)] >= 0) continue;
    blocks.push_back({attempts[to_size(item)].p, attempts[to_size(item)].seconds, {item}});
  }
  for (int g = 0; g < to_int(entry.size()); ++g) {
    std::vector<int> members;
    for (const int item : order) {
      if (group[to_size(item)] == g) members.push_back(item);
    }
    group_blocks(attempts, members, entry[to_size(g)], blocks);
  }
  std::stable_sort(blocks.begin(), blocks.end(), [](const Block& a, const Block& b) {
    return above(a.p, a.seconds, b.p, b.seconds);
  });
  std::vector<int> out;
  for (const Block& block : blocks) out.insert(out.end(), block.items.begin(), block.items.end());
  return out;
}

std::vector<int> series_order(const std::vector<Link>& links) {
  return sorted(links.size(), [&](int i, int j) {
    const Link& a = links[to_size(i)];
    const Link& b = links[to_size(j)];
    return above(1 - a.works, a.seconds, 1 - b.works, b.seconds);
  });
}

double series_cost(const std::vector<Link>& links, const std::vector<int>& order) {
  double reached = 1;
  double sum = 0;
  for (const int i : order) {
    sum += reached * links[to_size(i)].seconds;
    reached *= links[to_size(i)].works;
  }
  return sum;
}

std::vector<int> fix_order(const std::vector<Attempt>& attempts) { return ratio_order(attempts); }

double fix_cost(const std::vector<Attempt>& attempts, const std::vector<int>& order) {
  double left = 1;
  double sum = 0;
  for (const int i : order) {
    sum += left * attempts[to_size(i)].seconds;
    left *= 1 - attempts[to_size(i)].p;
  }
  return sum;
}

Splitting half_split(const std::vector<double>& weights, const std::vector<double>& cut_seconds) {
  const int n = to_int(weights.size());
  std::vector<double> before(to_size(n + 1));
  for (int i = 0; i < n; ++i) before[to_size(i + 1)] = before[to_size(i)] + weights[to_size(i)];
  // best[i * (n + 1) + j]: links i … j - 1.
  std::vector<Splitting> best(to_size(n + 1) * to_size(n + 1));
  const auto at = [n](int i, int j) { return to_size(i * (n + 1) + j); };
  for (int length = 2; length <= n; ++length) {
    for (int i = 0; i + length <= n; ++i) {
      const int j = i + length;
      Splitting& here = best[at(i, j)];
      here.expected = std::numeric_limits<double>::infinity();
      for (int cut = i + 1; cut < j; ++cut) {
        const double mass = before[to_size(j)] - before[to_size(i)];
        const double cost = mass * cut_seconds[to_size(cut - 1)] + best[at(i, cut)].expected +
                            best[at(cut, j)].expected;
        if (cost < here.expected) here = {cost, cut};
      }
    }
  }
  return best[at(0, n)];
}

double entropy_bits(const std::vector<double>& p) {
  double bits = 0;
  for (const double x : p) bits -= x > 0 ? x * std::log2(x) : 0;
  return bits;
}

double split_gain_bits(const std::vector<double>& p, const std::vector<bool>& in) {
  double inside = 0;
  double all = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    inside += in[i] ? p[i] : 0;
    all += p[i];
  }
  return entropy_bits({inside / all, 1 - inside / all});
}

Posterior noisy_test(double prior, double sensitivity, double specificity) {
  const double hit = prior * sensitivity;
  const double alarm = (1 - prior) * (1 - specificity);
  const double miss = prior * (1 - sensitivity);
  const double clear = (1 - prior) * specificity;
  return {hit / (hit + alarm), miss / (miss + clear)};
}

Information perfect_information(const std::vector<double>& p,
                                const std::vector<std::vector<double>>& cost) {
  std::vector<std::vector<double>> sure;
  for (std::size_t s = 0; s < p.size(); ++s) {
    sure.emplace_back(p.size(), 0.0);
    sure.back()[s] = 1;
  }
  return test_information(p, cost, sure);
}

Information test_information(const std::vector<double>& p,
                             const std::vector<std::vector<double>>& cost,
                             const std::vector<std::vector<double>>& likelihood) {
  Information out;
  out.now = least(p, cost);
  for (const std::vector<double>& row : likelihood) {
    std::vector<double> joint;
    for (std::size_t s = 0; s < p.size(); ++s) joint.push_back(p[s] * row[s]);
    out.informed += least(joint, cost);
  }
  out.value = out.now - out.informed;
  return out;
}

}  // namespace kp::find
