#include "find/advise.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "find/search.hpp"

namespace kp::find {

namespace {

constexpr double kLeastShown = 0.01;
constexpr int kMostShown = 5;
constexpr std::uint64_t kForAlternative = 20;  ///< openings, so that it is compared at its best

Move move_of(Do what) {
  switch (what) {
    case Do::test: return Move::test;
    case Do::repair: return Move::repair;
    case Do::give_up: return Move::give_up;
  }
  return Move::nothing;
}

struct Step {
  Move move = Move::nothing;
  int index = 0;
};

Step step_of(const Game& game, const Search& search, const Node& node) {
  if (node.best >= 0) {
    const Choice& choice = node.choices[to_size(node.best)];
    return {move_of(choice.what), choice.index};
  }
  if (node.upper <= 0) return {};
  const PlainPolicy plain = search.plain(node);
  if (plain.order.empty()) return {plain.gives_up ? Move::give_up : Move::nothing, 0};
  return {game.goal == Goal::identified ? Move::test : Move::repair, plain.order.front()};
}

std::vector<Share> shares(const Game& game, const Problem& problem,
                          const std::vector<double>& weight) {
  std::vector<double> fault(problem.faults.size());
  for (int h = 0; h < game.hypotheses; ++h) {
    fault[to_size(game.a[to_size(h)])] += weight[to_size(h)];
    if (game.b[to_size(h)] >= 0) fault[to_size(game.b[to_size(h)])] += weight[to_size(h)];
  }
  std::vector<Share> out;
  for (int f = 0; f < to_int(fault.size()); ++f) {
    if (fault[to_size(f)] >= kLeastShown) out.push_back({f, fault[to_size(f)]});
  }
  std::stable_sort(out.begin(), out.end(), [](const Share& x, const Share& y) { return x.p > y.p; });
  if (to_int(out.size()) > kMostShown) out.resize(to_size(kMostShown));
  return out;
}

int choice_for(const Node& node, Do what, int index) {
  for (int c = 0; c < to_int(node.choices.size()); ++c) {
    const Choice& choice = node.choices[to_size(c)];
    if (choice.what == what && choice.index == index) return c;
  }
  return -1;
}

/// Outcomes of a test as the problem numbers them: those that no fault gives have no row.
std::vector<int> rows_of(const Test& test, const Game& game) {
  std::vector<int> rows;
  for (int o = 0; o < to_int(test.outcomes.size()); ++o) {
    const std::vector<double>& likelihood = test.outcomes[to_size(o)].likelihood;
    bool any = false;
    for (int h = 0; h < game.hypotheses; ++h) {
      any = any || likelihood[to_size(game.a[to_size(h)])] > 0 ||
            (game.b[to_size(h)] >= 0 && likelihood[to_size(game.b[to_size(h)])] > 0);
    }
    if (any) rows.push_back(o);
  }
  return rows;
}

void tell_leaves(const Game& game, const Problem& problem, Search& search, const Step& step,
                 Advice& out) {
  const Do what = step.move == Move::test ? Do::test : Do::repair;
  const int at = choice_for(search.node(0), what, step.index);
  if (at < 0) return;
  search.open(0, at);
  const Choice choice = search.node(0).choices[to_size(at)];
  double solved = 1;
  std::vector<int> rows;
  if (step.move == Move::test) rows = rows_of(problem.tests[to_size(step.index)], game);
  for (const Branch& branch : choice.branches) {
    const Node& node = search.node(branch.node);
    Leaves leaves;
    leaves.p = branch.p;
    solved -= branch.p;
    if (step.move == Move::test) {
      leaves.outcome = rows[to_size(branch.outcome)];
      leaves.name = problem.tests[to_size(step.index)].outcomes[to_size(leaves.outcome)].name;
    } else {
      leaves.outcome = 1;
      leaves.name = "not mended";
    }
    leaves.faults = shares(game, problem, node.place.weight);
    const Step then = step_of(game, search, node);
    leaves.then = then.move;
    leaves.then_index = then.index;
    out.leaves.push_back(std::move(leaves));
  }
  if (step.move == Move::repair && solved > 1e-12) {
    out.leaves.insert(out.leaves.begin(), Leaves{0, "mended", solved, {}, Move::nothing, 0});
  }
}

/// What else could come first, each worked on until its cost is fair.
std::vector<Alternative> alternatives(const Game& game, Search& search) {
  const Node& root = search.node(0);
  int likeliest = -1, ratio = -1, cheapest = -1, bits = -1;
  double most_p = 0, most_ratio = 0, least = 0, most_bits = 0;
  for (const Choice& choice : root.choices) {
    if (choice.what == Do::repair) {
      const double p = success(game, root.place.weight, choice.index);
      const double seconds = std::max(1e-9, game.repairs[to_size(choice.index)].seconds);
      if (p > most_p) { most_p = p; likeliest = choice.index; }
      if (p / seconds > most_ratio) { most_ratio = p / seconds; ratio = choice.index; }
    } else if (choice.what == Do::test) {
      const GameTest& test = game.tests[to_size(choice.index)];
      const double seconds = test.seconds + game.move(root.place.standing, test.standing);
      const double gain = root.gain_bits[to_size(choice.index)];
      if (cheapest < 0 || seconds < least) { least = seconds; cheapest = choice.index; }
      if (gain > most_bits) { most_bits = gain; bits = choice.index; }
    }
  }
  std::vector<Alternative> out;
  const auto add = [&](Alternative::Why why, Do what, int index) {
    const int at = index < 0 ? -1 : choice_for(root, what, index);
    if (at < 0) return;
    out.push_back({why, move_of(what), index, search.upper_of(0, at, kForAlternative)});
  };
  using Why = Alternative::Why;
  add(Why::likeliest_repair, Do::repair, likeliest);
  if (ratio != likeliest) add(Why::best_ratio, Do::repair, ratio);
  add(Why::cheapest_test, Do::test, cheapest);
  if (bits != cheapest) add(Why::most_bits, Do::test, bits);
  const PlainPolicy plain = search.plain(root);
  if (game.goal == Goal::repaired && !plain.order.empty()) {
    out.push_back({Why::plain_order, Move::repair, plain.order.front(), plain.split.total()});
  }
  return out;
}

/// The repair that the problem's confidence asks for, as a choice of the root; -1: none does.
int sure_choice(const Game& game, const Problem& problem, const Node& root, Advice& out) {
  int best = -1;
  for (int c = 0; c < to_int(root.choices.size()); ++c) {
    const Choice& choice = root.choices[to_size(c)];
    if (choice.what != Do::repair) continue;
    const double p = success(game, root.place.weight, choice.index);
    if (p < problem.confidence || p <= out.sure) continue;
    out.sure = p;
    best = c;
  }
  return best;
}

/// Those that are not what is advised; a part first is no other way where all parts come in order.
void keep_others(std::vector<Alternative> all, Advice& out) {
  for (const Alternative& one : all) {
    const bool same = one.move == out.move && one.index == out.index;
    if (!same || one.why == Alternative::Why::plain_order) out.alternatives.push_back(one);
  }
}

void tell_step(const Game& game, const Node& root, Advice& out) {
  if (out.move == Move::test) {
    const GameTest& test = game.tests[to_size(out.index)];
    out.own_seconds = test.seconds;
    out.move_seconds = game.move(root.place.standing, test.standing);
    out.gain_bits = root.gain_bits[to_size(out.index)];
  } else if (out.move == Move::repair) {
    const GameRepair& repair = game.repairs[to_size(out.index)];
    out.own_seconds = repair.seconds - repair.leaving_seconds;
    out.move_seconds = game.move(root.place.standing, repair.standing) + repair.leaving_seconds;
  } else if (out.move == Move::give_up) {
    out.own_seconds = game.give_up;
  }
  for (const double p : root.place.weight) out.entropy_bits -= p > 0 ? p * std::log2(p) : 0;
}

}  // namespace

Advice advise(const Problem& problem, const std::vector<Evidence>& evidence,
              const AdviseOptions& options) {
  Advice out;
  out.belief = believe(problem, evidence, options.rule);
  const Game game = make_game(problem, evidence, out.belief, options.pair_floor);
  out.left_out = game.left_out;
  Search search(game);
  search.run(options.openings);
  search.expand(0);
  std::vector<Alternative> others = alternatives(game, search);
  Step step = step_of(game, search, search.node(0));
  out.expected_seconds = search.node(0).upper;
  out.proved = search.closed(search.node(0));
  const int sure = sure_choice(game, problem, search.node(0), out);
  if (sure >= 0) {
    const Step known{Move::repair, search.node(0).choices[to_size(sure)].index};
    if (step.move != known.move || step.index != known.index) {
      step = known;
      out.expected_seconds = search.upper_of(0, sure, kForAlternative);
      out.proved = false;
    }
  }
  const Node& root = search.node(0);
  out.move = step.move;
  out.index = step.index;
  out.lower_bound_seconds = root.lower;
  out.gap = out.expected_seconds > 0 ? (out.expected_seconds - root.lower) / out.expected_seconds : 0;
  out.opened = search.opened();
  const Split split = search.split(0, sure);
  out.test_seconds = split.tests;
  out.change_seconds = split.moves;
  out.repair_seconds = split.repairs;
  out.part_seconds = split.parts;
  tell_step(game, root, out);
  tell_leaves(game, problem, search, step, out);
  keep_others(std::move(others), out);
  return out;
}

}  // namespace kp::find
