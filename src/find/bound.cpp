#include "find/bound.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"

namespace kp::find {

namespace {

constexpr double kTellsNothing = 1e-9;   ///< bits
constexpr int kPricesTried = 8;

double plogp(double p) { return p > 0 ? -p * std::log2(p) : 0; }

/// Weights that count, in place, and their sum.
struct Live {
  std::vector<double> weight;
  double sum = 0;
};

Live live_of(const Game& game, const Place& place, bool singles_only) {
  Live out;
  out.weight = place.weight;
  for (int h = 0; h < game.hypotheses; ++h) {
    double& w = out.weight[to_size(h)];
    if (singles_only && game.b[to_size(h)] >= 0) w = 0;
    out.sum += w;
  }
  return out;
}

/// Mutual information of the test's outcome with the hypothesis, in bits. The usual outcome has what
/// the others leave.
double gain(const GameTest& test, const Live& live) {
  double bits = 0;
  double usual = live.sum;
  for (int o = 0; o < test.outcomes; ++o) {
    double q = 0;
    for (int i = test.rare_from[to_size(o)]; i < test.rare_from[to_size(o) + 1]; ++i) {
      const Entry& entry = test.rare[to_size(i)];
      q += live.weight[to_size(entry.h)] * entry.p;
    }
    if (q <= 0) continue;
    usual -= q;
    bits += plogp(q / live.sum);
  }
  if (bits <= 0) return 0;
  bits += plogp(std::max(0.0, usual / live.sum));
  double noise = 0;
  for (const Entry& entry : test.noise_bits) noise += live.weight[to_size(entry.h)] * entry.p;
  return std::max(0.0, bits - noise / live.sum);
}

double label_entropy(const Game& game, const Live& live) {
  std::vector<double> mass(to_size(game.labels));
  for (std::size_t h = 0; h < live.weight.size(); ++h) {
    mass[to_size(game.label[h])] += live.weight[h] / live.sum;
  }
  double bits = 0;
  for (const double p : mass) bits += plogp(p);
  return bits;
}

double floor_of(const Game& game, const Place& place, int standing) {
  double sum = 0;
  const double* row = game.repair_floor.data() + to_size(standing) * to_size(game.hypotheses);
  for (int h = 0; h < game.hypotheses; ++h) sum += place.weight[to_size(h)] * row[h];
  return sum;
}

/// A test that tells something about single faults.
struct Seller {
  int test = 0;
  int standing = 0;
  double price = 0;     ///< seconds a bit, at best
  double bits = 0;      ///< I(t)
  double capacity = 0;  ///< C(t)
};

/// The sum in Bound's formula for one price mu, kept by standing so that one test can be left out.
struct Market {
  double mu = 0;
  double kappa = 0;
  std::vector<double> bits, ceiling;  ///< Bp and A of each standing

  [[nodiscard]] double profit(const Game& game, int s, bool here, double bits_less,
                              double ceiling_less) const {
    const double b = bits[to_size(s)] - bits_less;
    const double a = ceiling[to_size(s)] - ceiling_less;
    if (b <= 0) return 0;
    const double entry = game.entry[to_size(s)];
    if (here || game.repair_standing[to_size(s)] || entry <= 0) return b;
    return a > entry ? b * (1 - entry / a) : 0;
  }
  [[nodiscard]] double all(const Game& game, int standing) const {
    double sum = 0;
    for (int s = 0; s < game.standings; ++s) sum += profit(game, s, s == standing, 0, 0);
    return sum;
  }
};

/// Seconds of the cheapest repair that is open; infinite where repairs are not looked at. The way
/// to where a repair leaves the unit is counted where the standing changes.
double least_repair(const Game& game, const Place& place) {
  double least = std::numeric_limits<double>::infinity();
  for (int r = 0; r < to_int(game.repairs.size()) && game.goal == Goal::repaired; ++r) {
    const GameRepair& repair = game.repairs[to_size(r)];
    if (place.repairs.test(r)) least = std::min(least, repair.seconds - repair.leaving_seconds);
  }
  return least;
}

double kappa_of(double least, double mu) {
  const double rest = 1 - std::exp2(-least / mu);
  return rest > 0 ? -std::log2(rest) : std::numeric_limits<double>::infinity();
}

Market market(const Game& game, const std::vector<Seller>& sellers, double mu, double kappa) {
  Market out;
  out.mu = mu;
  out.kappa = kappa;
  out.bits.assign(to_size(game.standings), 0.0);
  out.ceiling.assign(to_size(game.standings), 0.0);
  for (const Seller& seller : sellers) {
    const double over = mu - seller.price;
    if (over <= 0) continue;
    out.bits[to_size(seller.standing)] += seller.bits * over;
    out.ceiling[to_size(seller.standing)] += seller.capacity * over;
  }
  return out;
}

Market best_market(const Game& game, const Place& place, std::vector<Seller> sellers, double bits) {
  std::sort(sellers.begin(), sellers.end(), [](const Seller& x, const Seller& y) {
    return x.price != y.price ? x.price < y.price : x.test < y.test;
  });
  Market best = market(game, {}, 0, 0);
  const double least = least_repair(game, place);
  double most = 0;
  const int count = to_int(sellers.size());
  for (int i = 0; i <= kPricesTried && count > 0; ++i) {
    double mu = sellers[to_size((count - 1) * i / kPricesTried)].price;
    if (i == kPricesTried) mu *= 4;  // where all tests together do not suffice
    mu = std::min(mu, game.price_cap);
    if (!(mu > 0)) continue;
    const double kappa = kappa_of(least, mu);
    if (mu * (bits - kappa) <= most) continue;
    Market next = market(game, sellers, mu, kappa);
    const double worth = mu * (bits - next.kappa) - next.all(game, place.standing);
    if (worth > most) {
      most = worth;
      best = std::move(next);
    }
  }
  return best;
}

void bound_tests(const Game& game, const Place& place, const Market& deal, double bits,
                 const std::vector<Seller>& sellers, double singles, Bound& out) {
  std::vector<double> floors(to_size(game.standings), -1.0);
  std::vector<double> all(to_size(game.standings), 0.0);
  std::vector<int> seller_of(game.tests.size(), -1);
  for (int i = 0; i < to_int(sellers.size()); ++i) {
    seller_of[to_size(sellers[to_size(i)].test)] = i;
  }
  out.test_lower.assign(game.tests.size(), 0.0);
  out.test_base.assign(game.tests.size(), 0.0);
  for (int t = 0; t < to_int(game.tests.size()); ++t) {
    if (out.gain_bits[to_size(t)] <= 0) continue;
    const GameTest& test = game.tests[to_size(t)];
    const int s = test.standing;
    if (floors[to_size(s)] < 0) {
      floors[to_size(s)] = floor_of(game, place, s);
      all[to_size(s)] = deal.mu > 0 ? deal.all(game, s) : 0;
    }
    double extra = 0;
    if (deal.mu > 0) {
      double bits_left = bits;
      double paid = all[to_size(s)];
      if (seller_of[to_size(t)] >= 0) {
        const Seller& own = sellers[to_size(seller_of[to_size(t)])];
        const double over = std::max(0.0, deal.mu - own.price);
        bits_left -= own.bits;
        paid += deal.profit(game, s, true, own.bits * over, own.capacity * over) -
                deal.profit(game, s, true, 0, 0);
      }
      extra = std::max(0.0, deal.mu * (bits_left - deal.kappa) - paid);
    }
    out.test_base[to_size(t)] =
        game.move(place.standing, s) + test.seconds + floors[to_size(s)];
    out.test_lower[to_size(t)] = out.test_base[to_size(t)] + singles * extra;
  }
}

}  // namespace

Bound bound(const Game& game, const Place& place) {
  Bound out;
  const Live live = live_of(game, place, false);
  const Live singles = game.pairs ? live_of(game, place, true) : live;
  out.gain_bits.assign(game.tests.size(), 0.0);
  std::vector<Seller> sellers;
  for (int t = 0; t < to_int(game.tests.size()); ++t) {
    if (!place.tests.test(t)) continue;
    const GameTest& test = game.tests[to_size(t)];
    const double bits = gain(test, live);
    if (bits < kTellsNothing) continue;
    out.gain_bits[to_size(t)] = bits;
    const double own = game.pairs && singles.sum > 0 ? gain(test, singles) : bits;
    if (own < kTellsNothing) continue;
    const double capacity = std::max(test.capacity_bits, own);
    sellers.push_back({t, test.standing, test.seconds / capacity, own, capacity});
  }
  out.lower = floor_of(game, place, place.standing);
  out.floor = out.lower;
  if (singles.sum <= 0) {
    bound_tests(game, place, Market{}, 0, {}, 0, out);
    return out;
  }
  const double bits = label_entropy(game, singles);
  out.bits = singles.sum * bits;
  const Market deal = best_market(game, place, sellers, bits);
  if (deal.mu > 0) {
    out.lower += singles.sum *
                 std::max(0.0, deal.mu * (bits - deal.kappa) - deal.all(game, place.standing));
  }
  bound_tests(game, place, deal, bits, sellers, singles.sum, out);
  return out;
}

double success(const Game& game, const std::vector<double>& weight, int repair) {
  const GameRepair& one = game.repairs[to_size(repair)];
  double p = 0;
  for (const int h : one.touches) {
    if (one.after[to_size(h)] < 0) p += weight[to_size(h)];
  }
  return p * one.mends;
}

Place after_failure(const Game& game, const Place& place, int repair) {
  const GameRepair& one = game.repairs[to_size(repair)];
  Place out = place;
  out.standing = one.leaves;
  out.repairs.set(repair, false);
  for (const int h : one.touches) {
    const int after = one.after[to_size(h)];
    const double took = place.weight[to_size(h)] * one.mends;
    out.weight[to_size(h)] = one.mends >= 1 ? 0.0 : out.weight[to_size(h)] - took;
    if (after >= 0 && took > 0) {
      out.weight[to_size(after)] += took;
      out.tests = game.tests_open;  // it is another unit now: a test may answer differently
    }
  }
  return out;
}

void Split::add(const Split& other, double share) {
  tests += other.tests * share;
  moves += other.moves * share;
  repairs += other.repairs * share;
  parts += other.parts * share;
}

namespace {

/// The open repair with the highest chance of mending something for its seconds; it and those that
/// mend nothing any more are taken from the list. -1: there is none.
int best_ratio(const Game& game, const std::vector<double>& weight, int standing,
               std::vector<int>& open) {
  int next = -1;
  double best = 0;
  std::size_t kept = 0;
  for (const int r : open) {
    const GameRepair& repair = game.repairs[to_size(r)];
    double p = 0;  // one fault of two counts half
    for (const int h : repair.touches) {
      p += weight[to_size(h)] * (repair.after[to_size(h)] < 0 ? 1 : 0.5);
    }
    // A pair that loses its first fault may give an idle repair something to do.
    if (p <= 0 && !game.pairs) continue;
    open[kept++] = r;
    if (p <= 0) continue;
    const double seconds = game.move(standing, repair.standing) + repair.seconds;
    const double worth = seconds > 0 ? p / seconds : std::numeric_limits<double>::max();
    if (next >= 0 && worth <= best) continue;
    next = r;
    best = worth;
  }
  open.resize(kept);
  open.erase(std::remove(open.begin(), open.end(), next), open.end());
  return next;
}

PlainPolicy every_test(const Game& game, const Place& place, const std::vector<double>& gain_bits) {
  PlainPolicy out;
  std::vector<bool> done(game.tests.size());
  int standing = place.standing;
  while (true) {
    int next = -1;
    double least = 0;
    for (int t = 0; t < to_int(game.tests.size()); ++t) {
      if (done[to_size(t)] || gain_bits[to_size(t)] <= 0) continue;
      const double move = game.move(standing, game.tests[to_size(t)].standing);
      if (next >= 0 && move >= least) continue;
      next = t;
      least = move;
    }
    if (next < 0) return out;
    done[to_size(next)] = true;
    standing = game.tests[to_size(next)].standing;
    out.order.push_back(next);
    out.split.moves += least;
    out.split.tests += game.tests[to_size(next)].seconds;
  }
}

}  // namespace

PlainPolicy plain_policy(const Game& game, const Place& place,
                         const std::vector<double>& gain_bits) {
  if (game.goal == Goal::identified) return every_test(game, place, gain_bits);
  PlainPolicy out;
  std::vector<double> weight = place.weight;
  int standing = place.standing;
  std::vector<int> open;
  for (int r = 0; r < to_int(game.repairs.size()); ++r) {
    if (place.repairs.test(r)) open.push_back(r);
  }
  double left = 1;
  const double done = 1e-12;
  while (left > done) {
    const int next = best_ratio(game, weight, standing, open);
    if (next < 0) break;
    const GameRepair& repair = game.repairs[to_size(next)];
    const double move = game.move(standing, repair.standing);
    if (game.give_up >= 0 && game.give_up <= move + repair.seconds) break;
    out.order.push_back(next);
    out.split.moves += left * (move + repair.leaving_seconds);
    out.split.parts += left * repair.price_seconds;
    out.split.repairs += left * (repair.seconds - repair.price_seconds - repair.leaving_seconds);
    left = 0;
    for (const int h : repair.touches) {
      const int after = repair.after[to_size(h)];
      const double took = repair.mends >= 1 ? weight[to_size(h)] : weight[to_size(h)] * repair.mends;
      weight[to_size(h)] -= took;
      if (after >= 0) weight[to_size(after)] += took;
    }
    for (const double w : weight) left += w;
    standing = repair.leaves;
  }
  if (left > done && game.give_up >= 0) {
    out.split.repairs += left * game.give_up;
    out.gives_up = true;
  }
  if (game.give_up >= 0 && game.give_up < out.split.total()) {
    out = {};
    out.split.repairs = game.give_up;
    out.gives_up = true;
  }
  return out;
}

}  // namespace kp::find
