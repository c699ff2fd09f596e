#pragma once
// A unit with a fault in it that answers tests, and technicians who look for it in their own ways.

#include <cmath>
#include <limits>
#include <vector>

#include "find/classic.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_find.hpp"
#include "job/work.hpp"
#include "support/random.hpp"

namespace kp::test {

inline const job::FindBook& shipped_book() {
  static const job::FindBook book = job::make_find_book(shipped_library().models.front());
  return book;
}

/// Draws an outcome of a test as a unit with this fault gives it.
inline int draw(Random& random, const find::Test& test, int fault) {
  double at = random.unit();
  for (int o = 0; o < to_int(test.outcomes.size()); ++o) {
    at -= test.outcomes[to_size(o)].likelihood[to_size(fault)];
    if (at < 0) return o;
  }
  return 0;
}

/// The outcome that the solver's reading of a typical unit with this fault belongs to; of a test that
/// is looked at, as its table draws it.
inline int answer_of(const job::Model& model, const job::FindBook& book, Random& random, int test,
                     int fault) {
  const pack::Test& what = model.pack.tests[to_size(test)];
  if (!what.on_circuit()) return draw(random, book.problem.tests[to_size(test)], fault);
  static const circuit::Netlist netlist = job::bind_circuit(model.pack);
  const circuit::Reading reading = job::reading_of(model.pack, netlist, what, {fault});
  const bool open = reading.state == circuit::State::over;
  return job::outcome_for(model, book, test,
                          open ? std::numeric_limits<double>::infinity() : reading.value);
}

/// A fault drawn by the belief after the complaint.
inline int draw_fault(Random& random, const find::Belief& belief) {
  double at = random.unit();
  for (int f = 0; f < to_int(belief.fault.size()); ++f) {
    at -= belief.fault[to_size(f)];
    if (at < 0) return f;
  }
  return 0;
}

inline bool clears(const find::Repair& repair, int fault) {
  for (const int f : repair.clears) {
    if (f == fault) return true;
  }
  return false;
}

struct Outing {
  bool found = false;
  double seconds = 0;      ///< parts included
  double parts = 0;        ///< of these
  int steps = 0;
  int wrong_repairs = 0;
  int last_repair = -1;
};

/// Follows the advice until the unit is mended.
inline Outing follow_advice(find::Problem problem, std::vector<find::Evidence> evidence, int fault,
                            Random& random, const find::AdviseOptions& options) {
  const job::Model& model = shipped_library().models.front();
  Outing out;
  const auto move = [&](int to) {
    if (!problem.moves.empty() && to != problem.standing) {
      out.seconds += problem.moves[to_size(problem.standing)][to_size(to)];
    }
    problem.standing = to;
  };
  for (; out.steps < 60; ++out.steps) {
    const find::Advice advice = find::advise(problem, evidence, options);
    if (advice.move == find::Move::test) {
      const find::Test& test = problem.tests[to_size(advice.index)];
      move(test.standing);
      out.seconds += test.seconds;
      evidence.push_back(find::answered(advice.index, answer_of(model, shipped_book(), random, advice.index, fault)));
    } else if (advice.move == find::Move::repair) {
      const find::Repair& repair = problem.repairs[to_size(advice.index)];
      move(repair.standing);
      out.seconds += repair.seconds + repair.price_seconds;
      out.parts += repair.price_seconds;
      if (repair.leaves >= 0) move(repair.leaves);
      out.last_repair = advice.index;
      if (clears(repair, fault)) {
        out.found = true;
        return out;
      }
      out.wrong_repairs += 1;
      evidence.push_back(find::failed(advice.index));
    } else {
      out.seconds += std::max(0.0, problem.give_up_seconds);
      return out;
    }
  }
  return out;
}

/// Swaps part after part: by the chance alone, or by chance over cost.
inline Outing swap_parts(const find::Problem& problem, const find::Belief& belief, int fault,
                         bool by_ratio) {
  std::vector<find::Attempt> list;
  for (const find::Repair& repair : problem.repairs) {
    find::Attempt attempt;
    for (const int f : repair.clears) attempt.p += belief.fault[to_size(f)];
    attempt.seconds = by_ratio ? repair.seconds + repair.price_seconds +
                                     problem.moves[0][to_size(repair.standing)] +
                                     problem.moves[to_size(repair.standing)][0]
                               : 1;
    list.push_back(attempt);
  }
  Outing out;
  for (const int r : find::ratio_order(list)) {
    const find::Repair& repair = problem.repairs[to_size(r)];
    out.seconds += repair.seconds + repair.price_seconds +
                   problem.moves[0][to_size(repair.standing)] +
                   problem.moves[to_size(repair.standing)][0];
    out.parts += repair.price_seconds;
    out.steps += 1;
    out.last_repair = r;
    if (clears(repair, fault)) {
      out.found = true;
      return out;
    }
    out.wrong_repairs += 1;
  }
  return out;
}

}  // namespace kp::test
