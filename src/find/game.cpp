#include "find/game.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/text.hpp"

namespace kp::find {

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();

double plogp(double p) { return p > 0 ? -p * std::log2(p) : 0; }

void close_moves(Game& game, const Problem& problem) {
  game.standings = problem.moves.empty() ? 1 : to_int(problem.moves.size());
  const int n = game.standings;
  game.moves.assign(to_size(n) * to_size(n), 0.0);
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      if (i != j) game.moves[to_size(i * n + j)] = problem.moves[to_size(i)][to_size(j)];
    }
  }
  for (int k = 0; k < n; ++k) {
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        double& direct = game.moves[to_size(i * n + j)];
        direct = std::min(direct, game.move(i, k) + game.move(k, j));
      }
    }
  }
  game.entry.assign(to_size(n), 0.0);
  for (int to = 0; to < n; ++to) {
    double least = kNever;
    for (int from = 0; from < n; ++from) {
      if (from != to) least = std::min(least, game.move(from, to));
    }
    game.entry[to_size(to)] = n == 1 ? 0 : least;
  }
}

/// Any output distribution q gives an upper bound: capacity <= max over h of D(P(.|h) || q)
/// (Csiszar and Korner; the rounds are Blahut's and Arimoto's, both 1972).
double capacity(const GameTest& test, const std::vector<double>& start) {
  if (test.outcomes < 2) return 0;
  const int n = to_int(start.size());
  std::vector<double> prior(to_size(n), 1.0 / n);
  std::vector<double> noise(to_size(n));
  for (const Entry& entry : test.noise_bits) noise[to_size(entry.h)] = entry.p;
  double best = std::log2(static_cast<double>(test.outcomes));
  for (int round = 0; round < 12; ++round) {
    std::vector<double> q(to_size(test.outcomes));
    for (int o = 0; o < test.outcomes; ++o) {
      for (int h = 0; h < n; ++h) {
        q[to_size(o)] += prior[to_size(h)] * test.likelihood[to_size(o * n + h)];
      }
    }
    double most = 0;
    double sum = 0;
    for (int h = 0; h < n; ++h) {
      double d = -noise[to_size(h)];
      for (int o = 0; o < test.outcomes; ++o) {
        const double p = test.likelihood[to_size(o * n + h)];
        if (p > 0) d -= p * std::log2(q[to_size(o)]);
      }
      most = std::max(most, d);
      prior[to_size(h)] *= std::exp2(d);
      sum += prior[to_size(h)];
    }
    for (double& p : prior) p /= sum;
    best = std::min(best, most);
  }
  return best;
}

void list_rare(GameTest& test, int n) {
  int most = -1;
  for (int o = 0; o < test.outcomes; ++o) {
    int count = 0;
    for (int h = 0; h < n; ++h) count += test.likelihood[to_size(o * n + h)] > 0 ? 1 : 0;
    if (count <= most) continue;
    most = count;
    test.usual = o;
  }
  for (int o = 0; o < test.outcomes; ++o) {
    test.rare_from.push_back(to_int(test.rare.size()));
    for (int h = 0; h < n && o != test.usual; ++h) {
      const double p = test.likelihood[to_size(o * n + h)];
      if (p > 0) test.rare.push_back({h, p});
    }
  }
  test.rare_from.push_back(to_int(test.rare.size()));
}

GameTest game_test(const Problem& problem, const Test& test, const Game& game) {
  GameTest out;
  out.seconds = test.seconds;
  out.standing = test.standing;
  const int n = game.hypotheses;
  for (int o = 0; o < to_int(test.outcomes.size()); ++o) {
    std::vector<double> row;
    double most = 0;
    for (int h = 0; h < n; ++h) {
      const int a = game.a[to_size(h)];
      const int b = game.b[to_size(h)];
      row.push_back(b < 0 ? test.outcomes[to_size(o)].likelihood[to_size(a)]
                          : pair_likelihood(problem, test, o, a, b));
      most = std::max(most, row.back());
    }
    if (most <= 0) continue;
    out.outcomes += 1;
    out.likelihood.insert(out.likelihood.end(), row.begin(), row.end());
  }
  for (int h = 0; h < n; ++h) {
    double bits = 0;
    for (int o = 0; o < out.outcomes; ++o) bits += plogp(out.likelihood[to_size(o * n + h)]);
    if (bits > 0) out.noise_bits.push_back({h, bits});
  }
  list_rare(out, n);
  return out;
}

GameRepair game_repair(const Repair& repair, const Game& game, const std::vector<int>& single) {
  GameRepair out;
  out.standing = repair.standing;
  out.leaves = repair.leaves < 0 ? repair.standing : repair.leaves;
  out.price_seconds = repair.price_seconds;
  out.leaving_seconds = game.move(out.standing, out.leaves);
  out.seconds = repair.seconds + out.price_seconds + out.leaving_seconds;
  out.mends = repair.mends;
  const auto clears = [&repair](int fault) {
    return std::find(repair.clears.begin(), repair.clears.end(), fault) != repair.clears.end();
  };
  for (int h = 0; h < game.hypotheses; ++h) {
    const int a = game.a[to_size(h)];
    const int b = game.b[to_size(h)];
    const bool has_a = clears(a);
    const bool has_b = b >= 0 && clears(b);
    int after = h;
    if (has_a && (b < 0 || has_b)) after = -1;
    else if (has_a) after = single[to_size(b)];
    else if (has_b) after = single[to_size(a)];
    out.after.push_back(after);
    if (after != h) out.touches.push_back(h);
  }
  return out;
}

void set_floors(Game& game) {
  const int n = game.hypotheses;
  game.repair_floor.assign(to_size(game.standings * n), 0.0);
  if (game.goal == Goal::identified) return;
  for (int s = 0; s < game.standings; ++s) {
    for (int h = 0; h < n; ++h) {
      double least = kNever;
      for (int r = 0; r < to_int(game.repairs.size()); ++r) {
        const GameRepair& repair = game.repairs[to_size(r)];
        if (!game.repairs_open.test(r) || repair.after[to_size(h)] == h) continue;
        const double entry = repair.standing == s ? 0 : game.entry[to_size(repair.standing)];
        least = std::min(least, repair.seconds + entry);
      }
      if (game.give_up >= 0) least = std::min(least, game.give_up);
      game.repair_floor[to_size(s * n + h)] = std::isfinite(least) ? least : 0;
    }
  }
}

/// Faults that share a repair need not be told apart: one label. Those that nothing mends too.
void set_labels(Game& game) {
  const int n = game.hypotheses;
  std::vector<int> root(to_size(n));
  std::iota(root.begin(), root.end(), 0);
  const auto find_root = [&root](int h) {
    while (root[to_size(h)] != h) h = root[to_size(h)];
    return h;
  };
  const auto join = [&](const std::vector<int>& members) {
    for (const int h : members) root[to_size(find_root(h))] = find_root(members.front());
  };
  std::vector<bool> mended(to_size(n));
  for (int r = 0; r < to_int(game.repairs.size()); ++r) {
    if (!game.repairs_open.test(r)) continue;
    std::vector<int> members;
    for (int h = 0; h < n; ++h) {
      if (game.b[to_size(h)] >= 0 || game.repairs[to_size(r)].after[to_size(h)] == h) continue;
      members.push_back(h);
      mended[to_size(h)] = true;
    }
    if (!members.empty()) join(members);
  }
  std::vector<int> lost;
  for (int h = 0; h < n; ++h) {
    if (!mended[to_size(h)] && game.b[to_size(h)] < 0) lost.push_back(h);
  }
  if (game.goal == Goal::repaired && !lost.empty()) join(lost);
  std::vector<int> number(to_size(n), -1);
  for (int h = 0; h < n; ++h) {
    int& label = number[to_size(find_root(h))];
    if (label < 0) label = game.labels++;
    game.label.push_back(label);
  }
}

/// Faults that every test answers alike are one label where only telling apart counts.
void set_labels_by_tests(Game& game) {
  const int n = game.hypotheses;
  game.label.assign(to_size(n), -1);
  game.labels = 0;
  const auto alike = [&](int one, int other) {
    for (int t = 0; t < to_int(game.tests.size()); ++t) {
      const GameTest& test = game.tests[to_size(t)];
      if (!game.tests_open.test(t)) continue;
      for (int o = 0; o < test.outcomes; ++o) {
        if (std::fabs(test.likelihood[to_size(o * n + one)] -
                      test.likelihood[to_size(o * n + other)]) > 1e-12) {
          return false;
        }
      }
    }
    return true;
  };
  for (int h = 0; h < n; ++h) {
    for (int before = 0; before < h && game.label[to_size(h)] < 0; ++before) {
      if (alike(before, h)) game.label[to_size(h)] = game.label[to_size(before)];
    }
    if (game.label[to_size(h)] < 0) game.label[to_size(h)] = game.labels++;
  }
}

/// See bound.hpp: handing over, and repairs that may not take, end a job with its fault unknown,
/// which must not be cheaper than the bits that the bound asks money for.
double price_cap(const Game& game) {
  if (game.goal == Goal::identified) {
    for (const GameTest& test : game.tests) {
      for (const double p : test.likelihood) {
        if (p > 1e-12 && p < 1 - 1e-12) return 0;  // a noisy test never tells for certain
      }
    }
    return kNever;
  }
  const bool sure = std::all_of(game.repairs.begin(), game.repairs.end(),
                                [](const GameRepair& repair) { return repair.mends >= 1; });
  if (game.give_up < 0) return sure ? kNever : 0;
  double most = 0;
  for (const double floor : game.repair_floor) most = std::max(most, floor);
  const double bits = std::log2(static_cast<double>(std::max(game.labels, 2)));
  return std::max(0.0, (game.give_up - most) / bits);
}

}  // namespace

Game make_game(const Problem& problem, const std::vector<Evidence>& evidence, const Belief& belief,
               double pair_floor) {
  Game game;
  game.goal = problem.goal;
  game.give_up = problem.give_up_seconds;
  game.standing = problem.standing;
  std::vector<bool> wanted(problem.faults.size());
  const auto keeps = [pair_floor](const Hypothesis& h) {
    return h.b < 0 ? h.p > 0 : h.p >= pair_floor && h.p > 0;
  };
  for (const Hypothesis& h : belief.hypotheses) {
    if (!keeps(h)) continue;
    wanted[to_size(h.a)] = true;
    if (h.b >= 0) wanted[to_size(h.b)] = true;
  }
  std::vector<int> single(problem.faults.size(), -1);
  double kept = 0;
  for (const Hypothesis& h : belief.hypotheses) {
    if (h.b < 0 ? !wanted[to_size(h.a)] : !keeps(h)) continue;
    if (h.b < 0) single[to_size(h.a)] = to_int(game.a.size());
    game.a.push_back(h.a);
    game.b.push_back(h.b);
    game.start.push_back(h.p);
    game.pairs = game.pairs || h.b >= 0;
    kept += h.p;
  }
  game.left_out = std::max(0.0, 1 - kept);
  for (double& p : game.start) p /= kept;
  game.hypotheses = to_int(game.a.size());
  close_moves(game, problem);
  const std::vector<bool> tests = tests_open(problem, evidence);
  for (int t = 0; t < to_int(problem.tests.size()); ++t) {
    game.tests.push_back(game_test(problem, problem.tests[to_size(t)], game));
    game.tests_open.set(t, tests[to_size(t)] && game.tests.back().outcomes > 1);
    game.tests.back().capacity_bits = capacity(game.tests.back(), game.start);
  }
  const std::vector<bool> repairs = repairs_open(problem, evidence);
  for (int r = 0; r < to_int(problem.repairs.size()); ++r) {
    game.repairs.push_back(game_repair(problem.repairs[to_size(r)], game, single));
    game.repairs_open.set(r, repairs[to_size(r)]);
  }
  game.repair_standing.assign(to_size(game.standings), false);
  for (const GameRepair& repair : game.repairs) {
    if (game.goal == Goal::repaired) game.repair_standing[to_size(repair.standing)] = true;
  }
  set_floors(game);
  if (game.goal == Goal::identified) {
    set_labels_by_tests(game);
  } else {
    set_labels(game);
  }
  game.price_cap = price_cap(game);
  return game;
}

}  // namespace kp::find
