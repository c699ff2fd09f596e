#include "find/search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::find {

namespace {

constexpr double kSame = 1e-9;      ///< weights of one place
constexpr double kClosed = 1e-9;    ///< of the cost
constexpr double kHope = 0.7;       ///< a policy that is not known yet may pay less for a bit

std::uint64_t mix(std::uint64_t hash, std::uint64_t word) {
  hash = (hash ^ word) * 0x9E3779B97F4A7C15ULL;
  return hash ^ (hash >> 29U);
}

std::uint64_t hash_of(const Place& place) {
  std::uint64_t hash = static_cast<std::uint64_t>(place.standing) + 1;
  for (const std::uint64_t word : place.tests.words()) hash = mix(hash, word);
  for (const std::uint64_t word : place.repairs.words()) hash = mix(hash, word);
  for (const double w : place.weight) {
    hash = mix(hash, static_cast<std::uint64_t>(std::llround(w * 1e7)));
  }
  return hash;
}

bool same(const Place& a, const Place& b) {
  if (a.standing != b.standing || !(a.tests == b.tests) || !(a.repairs == b.repairs)) return false;
  for (std::size_t h = 0; h < a.weight.size(); ++h) {
    if (std::fabs(a.weight[h] - b.weight[h]) > kSame) return false;
  }
  return true;
}

double sum_of(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value;
  return sum;
}

}  // namespace

Search::Search(const Game& game) : game_(game) {
  Place root;
  root.weight = game.start;
  root.standing = game.standing;
  root.tests = game.tests_open;
  root.repairs = game.repairs_open;
  find_or_add(std::move(root));
}

bool Search::closed(const Node& node) const {
  return node.upper - node.lower <= kClosed * (1 + std::fabs(node.upper));
}

int Search::find_or_add(Place place) {
  Node node;
  Bound known = bound(game_, place);
  bool pair_left = false;
  for (int h = 0; h < game_.hypotheses; ++h) {
    pair_left = pair_left || (game_.b[to_size(h)] >= 0 && place.weight[to_size(h)] > 0);
  }
  for (int t = 0; !pair_left && t < to_int(game_.tests.size()); ++t) {
    // What tells nothing now never will again: one place less to look at.
    if (known.gain_bits[to_size(t)] <= 0) place.tests.set(t, false);
  }
  for (int r = 0; !pair_left && r < to_int(game_.repairs.size()); ++r) {
    if (place.repairs.test(r) && success(game_, place.weight, r) <= 0) place.repairs.set(r, false);
  }
  const std::uint64_t hash = hash_of(place);
  std::vector<int>& bucket = known_[hash];
  for (const int index : bucket) {
    if (same(nodes_[to_size(index)].place, place)) return index;
  }
  node.place = std::move(place);
  node.lower = known.lower;
  node.gain_bits = std::move(known.gain_bits);
  node.test_lower = std::move(known.test_lower);
  node.test_base = std::move(known.test_base);
  node.floor = known.floor;
  node.bits = known.bits;
  node.upper = plain_policy(game_, node.place, node.gain_bits).split.total();
  if (game_.goal == Goal::identified) {
    bool one_label = true;
    int label = -1;
    for (int h = 0; h < game_.hypotheses; ++h) {
      if (node.place.weight[to_size(h)] <= 0) continue;
      one_label = one_label && (label < 0 || label == game_.label[to_size(h)]);
      label = game_.label[to_size(h)];
    }
    if (one_label) node.upper = 0;
  }
  node.lower = std::min(node.lower, node.upper);
  bucket.push_back(to_int(nodes_.size()));
  nodes_.push_back(std::move(node));
  return to_int(nodes_.size()) - 1;
}

void Search::expand(int index) {
  Node& node = nodes_[to_size(index)];
  if (node.expanded) return;
  node.expanded = true;
  constexpr double unknown = std::numeric_limits<double>::infinity();
  node.choices.reserve(game_.tests.size() + game_.repairs.size() + 1);
  for (int t = 0; t < to_int(game_.tests.size()); ++t) {
    if (!node.place.tests.test(t) || node.gain_bits[to_size(t)] <= 0) continue;
    node.choices.push_back({Do::test, t, node.test_lower[to_size(t)], unknown, node.test_base[to_size(t)], false, {}});
  }
  if (game_.goal == Goal::identified) return;
  for (int r = 0; r < to_int(game_.repairs.size()); ++r) {
    if (!node.place.repairs.test(r)) continue;
    const GameRepair& repair = game_.repairs[to_size(r)];
    double lower = game_.move(node.place.standing, repair.standing) + repair.seconds;
    bool touches = false;
    const double* floor = game_.repair_floor.data() + to_size(repair.leaves * game_.hypotheses);
    for (int h = 0; h < game_.hypotheses; ++h) {
      const double w = node.place.weight[to_size(h)];
      const int after = repair.after[to_size(h)];
      touches = touches || (w > 0 && after != h);
      if (after == h) lower += w * floor[h];
      if (after >= 0 && after != h) lower += w * repair.mends * floor[after];
    }
    if (touches) node.choices.push_back({Do::repair, r, lower, unknown, 0, false, {}});
  }
  if (game_.give_up >= 0) {
    node.choices.push_back({Do::give_up, 0, game_.give_up, game_.give_up, 0, true, {}});
  }
}

void Search::open(int index, int choice_index) {
  Choice choice = nodes_[to_size(index)].choices[to_size(choice_index)];
  if (choice.opened) return;
  opened_ += 1;
  const Place from = nodes_[to_size(index)].place;
  if (choice.what == Do::test) {
    const GameTest& test = game_.tests[to_size(choice.index)];
    for (int o = 0; o < test.outcomes; ++o) {
      Place next = from;
      next.standing = test.standing;
      next.tests.set(choice.index, false);
      const double* row = test.likelihood.data() + to_size(o * game_.hypotheses);
      for (int h = 0; h < game_.hypotheses; ++h) next.weight[to_size(h)] *= row[h];
      const double p = sum_of(next.weight);
      if (p <= 1e-12) continue;
      for (double& w : next.weight) w /= p;
      choice.branches.push_back({o, p, find_or_add(std::move(next))});
    }
  } else {
    Place next = after_failure(game_, from, choice.index);
    const double p = sum_of(next.weight);
    if (p > 1e-12) {
      for (double& w : next.weight) w /= p;
      choice.branches.push_back({0, p, find_or_add(std::move(next))});
    }
  }
  choice.opened = true;
  nodes_[to_size(index)].choices[to_size(choice_index)] = std::move(choice);
}

void Search::back_up(int index) {
  Node& node = nodes_[to_size(index)];
  double lower = std::numeric_limits<double>::infinity();
  for (int c = 0; c < to_int(node.choices.size()); ++c) {
    Choice& choice = node.choices[to_size(c)];
    if (choice.opened && choice.what != Do::give_up) {
      const bool is_test = choice.what == Do::test;
      const int standing = is_test ? game_.tests[to_size(choice.index)].standing
                                   : game_.repairs[to_size(choice.index)].standing;
      double own = game_.move(node.place.standing, standing);
      own += is_test ? game_.tests[to_size(choice.index)].seconds
                     : game_.repairs[to_size(choice.index)].seconds;
      double low = own;
      double high = own;
      for (const Branch& branch : choice.branches) {
        low += branch.p * nodes_[to_size(branch.node)].lower;
        high += branch.p * nodes_[to_size(branch.node)].upper;
      }
      choice.lower = std::max(choice.lower, low);
      choice.upper = high;
    }
    lower = std::min(lower, choice.lower);
    if (choice.upper < node.upper - 1e-12) {
      node.upper = choice.upper;
      node.best = c;
    }
  }
  if (!node.choices.empty()) node.lower = std::max(node.lower, std::min(lower, node.upper));
}

/// A test that was not opened seems to cost what is certain, and for each bit that it leaves untold
/// what a bit costs by the best policy known, here or at the root. No bound: only a guide.
double Search::score(const Node& node, const Choice& choice, Aim aim) const {
  if (aim == Aim::prove) return choice.lower;
  if (choice.opened) return choice.upper;
  if (choice.what != Do::test) return std::numeric_limits<double>::infinity();
  const Node& root = nodes_.front();
  const double here = node.bits > 0 ? (node.upper - node.floor) / node.bits : 0;
  const double there = root.bits > 0 ? (root.upper - root.floor) / root.bits : here;
  const double left = std::max(0.0, node.bits - node.gain_bits[to_size(choice.index)]);
  return choice.base + kHope * std::min(here, there) * left;
}

int Search::pick(const Node& node, Aim aim) const {
  int best = -1;
  double least = 0;
  double upper = 0;
  for (int c = 0; c < to_int(node.choices.size()); ++c) {
    const Choice& choice = node.choices[to_size(c)];
    const double own = score(node, choice, aim);
    if (best >= 0 && own >= least - 1e-12 && (own > least + 1e-12 || choice.upper >= upper - 1e-12)) {
      continue;
    }
    best = c;
    least = own;
    upper = choice.upper;
  }
  return best;
}

/// The node of the branch that leaves most to be settled, -1: none does.
int Search::widest(const Choice& choice) const {
  int next = -1;
  double most = 0;
  for (const Branch& branch : choice.branches) {
    const Node& node = nodes_[to_size(branch.node)];
    const double gap = closed(node) ? 0 : branch.p * (node.upper - node.lower);
    if (gap > most) {
      most = gap;
      next = branch.node;
    }
  }
  return next;
}

/// From a node along the choices of the aim and their widest branches, down to a place that is
/// settled; the way back carries both bounds up.
void Search::dive(Aim aim, int from) {
  std::vector<int> way;
  int at = from;
  while (!closed(nodes_[to_size(at)])) {
    way.push_back(at);
    expand(at);
    const int choice = pick(nodes_[to_size(at)], aim);
    if (choice < 0) {  // nothing can be done: what is left costs nothing more
      nodes_[to_size(at)].lower = nodes_[to_size(at)].upper;
      break;
    }
    open(at, choice);
    const int next = widest(nodes_[to_size(at)].choices[to_size(choice)]);
    if (next < 0) break;
    at = next;
  }
  for (int i = to_int(way.size()) - 1; i >= 0; --i) back_up(way[to_size(i)]);
}

void Search::run(std::uint64_t openings) {
  // Dives that open nothing still carry bounds up; where many in a row do, only proving goes on.
  int idle = 0;
  for (int turn = 0; !closed(nodes_.front()) && opened_ < openings && idle < 1000; ++turn) {
    const std::uint64_t before = opened_;
    dive(turn % 2 == 0 && idle < 20 ? Aim::improve : Aim::prove, 0);
    idle = opened_ == before ? idle + 1 : 0;
  }
}

double Search::upper_of(int index, int choice, std::uint64_t openings) {
  open(index, choice);
  const std::uint64_t end = opened_ + openings;
  for (std::uint64_t turn = 0; turn < 2 * openings && opened_ < end; ++turn) {
    const int next = widest(nodes_[to_size(index)].choices[to_size(choice)]);
    if (next < 0) break;
    dive(turn % 2 == 0 ? Aim::improve : Aim::prove, next);
  }
  back_up(index);
  return nodes_[to_size(index)].choices[to_size(choice)].upper;
}

PlainPolicy Search::plain(const Node& node) const {
  return plain_policy(game_, node.place, node.gain_bits);
}

Split Search::split(int index, int first) const {
  Split out;
  std::vector<std::pair<int, double>> open{{index, 1.0}};
  while (!open.empty()) {
    const auto [at, share] = open.back();
    open.pop_back();
    const Node& now = nodes_[to_size(at)];
    const int best = at == index && first >= 0 ? first : now.best;
    if (best < 0) {
      if (now.upper > 0) out.add(plain(now).split, share);
      continue;
    }
    const Choice& choice = now.choices[to_size(best)];
    if (choice.what == Do::give_up) {
      out.repairs += share * game_.give_up;
      continue;
    }
    if (choice.what == Do::test) {
      const GameTest& test = game_.tests[to_size(choice.index)];
      out.moves += share * game_.move(now.place.standing, test.standing);
      out.tests += share * test.seconds;
    } else {
      const GameRepair& repair = game_.repairs[to_size(choice.index)];
      out.moves += share * (game_.move(now.place.standing, repair.standing) + repair.leaving_seconds);
      out.parts += share * repair.price_seconds;
      out.repairs += share * (repair.seconds - repair.price_seconds - repair.leaving_seconds);
    }
    for (const Branch& branch : choice.branches) open.push_back({branch.node, share * branch.p});
  }
  return out;
}

}  // namespace kp::find
