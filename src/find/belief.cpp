#include "find/belief.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace kp::find {

namespace {

double of_outcome(const Test& test, int outcome, int fault) {
  return test.outcomes[to_size(outcome)].likelihood[to_size(fault)];
}

bool as_good(const Test& test, int fault) {
  return std::all_of(test.outcomes.begin(), test.outcomes.end(), [fault](const Outcome& outcome) {
    return std::fabs(outcome.likelihood[to_size(fault)] - outcome.good) < 1e-12;
  });
}

double of_symptom(const Symptom& symptom, bool there, const Hypothesis& h) {
  double silent = (1 - symptom.leak) * (1 - symptom.causes[to_size(h.a)]);
  if (h.b >= 0) silent *= 1 - symptom.causes[to_size(h.b)];
  return there ? 1 - silent : silent;
}

double of_answer(const Problem& problem, const Evidence& entry, const Hypothesis& h) {
  const Test& test = problem.tests[to_size(entry.index)];
  if (entry.likelihood.empty()) {
    return h.b < 0 ? of_outcome(test, entry.outcome, h.a)
                   : pair_likelihood(problem, test, entry.outcome, h.a, h.b);
  }
  // A reading with likelihoods of its own: the fault that explains it better speaks.
  const double a = entry.likelihood[to_size(h.a)];
  return h.b < 0 ? a : std::max(a, entry.likelihood[to_size(h.b)]);
}

std::vector<Hypothesis> priors(const Problem& problem) {
  std::vector<Hypothesis> out;
  double sum = 0;
  for (const Fault& fault : problem.faults) sum += fault.weight;
  const int count = to_int(problem.faults.size());
  for (int f = 0; f < count; ++f) {
    out.push_back({f, -1, problem.faults[to_size(f)].weight / sum * (1 - problem.second_fault)});
  }
  if (problem.second_fault <= 0) return out;
  double pairs = 0;
  for (int a = 0; a < count; ++a) {
    for (int b = a + 1; b < count; ++b) {
      const double p = problem.faults[to_size(a)].weight * problem.faults[to_size(b)].weight;
      pairs += p;
      out.push_back({a, b, p});
    }
  }
  for (Hypothesis& h : out) {
    if (h.b >= 0) h.p = pairs > 0 ? h.p / pairs * problem.second_fault : 0;
  }
  return out;
}

/// A repair that did not help: what it clears is gone, or it did not take.
void fail_repair(const Repair& repair, std::vector<Hypothesis>& hypotheses) {
  const auto cleared = [&repair](int fault) {
    return std::find(repair.clears.begin(), repair.clears.end(), fault) != repair.clears.end();
  };
  for (Hypothesis& h : hypotheses) {
    const bool a = cleared(h.a);
    const bool b = h.b < 0 || cleared(h.b);
    if (!a && (h.b < 0 || !b)) continue;
    const double took = h.p * repair.mends;
    h.p -= took;
    if (a && b) continue;
    hypotheses[to_size(a ? h.b : h.a)].p += took;
  }
}

double total(const std::vector<Hypothesis>& hypotheses) {
  double sum = 0;
  for (const Hypothesis& h : hypotheses) sum += h.p;
  return sum;
}

bool speaks(const Evidence& entry) {
  return !entry.taken_back && (entry.kind == Kind::symptom || entry.kind == Kind::answer);
}

/// An answer that a later one to the same test replaces.
bool replaced(const std::vector<Evidence>& evidence, std::size_t at) {
  if (evidence[at].kind != Kind::answer) return false;
  for (std::size_t later = at + 1; later < evidence.size(); ++later) {
    const Evidence& other = evidence[later];
    if (other.taken_back) continue;
    if (other.kind == Kind::failed_repair) return false;
    if (other.kind == Kind::answer && other.index == evidence[at].index) return true;
  }
  return false;
}

struct Folded {
  std::vector<Hypothesis> hypotheses;
  double joint = 1;       ///< best likelihood of all entries together, over what each has at best
  std::vector<int> odd;
};

/// `aside`: an entry that is not looked at, -1: none.
Folded fold(const Problem& problem, const std::vector<Evidence>& evidence, const BeliefRule& rule,
            int aside) {
  Folded out;
  out.hypotheses = priors(problem);
  std::vector<double> joint(out.hypotheses.size(), 1.0);
  for (std::size_t at = 0; at < evidence.size(); ++at) {
    const Evidence& entry = evidence[at];
    if (entry.taken_back || to_int(at) == aside) continue;
    if (entry.kind == Kind::failed_repair) {
      fail_repair(problem.repairs[to_size(entry.index)], out.hypotheses);
      // What was cleared no longer answers for the entries before.
      for (std::size_t h = 0; h < joint.size(); ++h) {
        joint[h] = out.hypotheses[h].p > 0 ? std::max(joint[h], rule.least_likelihood) : joint[h];
      }
      continue;
    }
    if (!speaks(entry) || replaced(evidence, at)) continue;
    std::vector<double> likelihood(out.hypotheses.size());
    double best = 0;
    for (std::size_t h = 0; h < likelihood.size(); ++h) {
      const Hypothesis& one = out.hypotheses[h];
      likelihood[h] = entry.kind == Kind::symptom
                          ? of_symptom(problem.symptoms[to_size(entry.index)], entry.outcome != 0, one)
                          : of_answer(problem, entry, one);
      if (one.p > 0) best = std::max(best, likelihood[h]);
    }
    if (best < rule.least_likelihood) {
      const double anywhere = *std::max_element(likelihood.begin(), likelihood.end());
      if (anywhere < rule.least_likelihood) {
        out.odd.push_back(to_int(at));
        continue;
      }
      best = anywhere;
    }
    for (std::size_t h = 0; h < likelihood.size(); ++h) {
      out.hypotheses[h].p *= likelihood[h];
      joint[h] *= likelihood[h] / best;
    }
  }
  out.joint = 0;
  for (std::size_t h = 0; h < joint.size(); ++h) {
    if (out.hypotheses[h].p > 0) out.joint = std::max(out.joint, joint[h]);
  }
  return out;
}

}  // namespace

Evidence noticed(int symptom, bool there) { return {Kind::symptom, symptom, there ? 1 : 0, {}, false}; }
Evidence answered(int test, int outcome) { return {Kind::answer, test, outcome, {}, false}; }
Evidence failed(int repair) { return {Kind::failed_repair, repair, 0, {}, false}; }
Evidence cannot(int test) { return {Kind::cannot_test, test, 0, {}, false}; }

double pair_likelihood(const Problem&, const Test& test, int outcome, int a, int b) {
  for (const PairAnswer& pair : test.pairs) {
    if ((pair.a == a && pair.b == b) || (pair.a == b && pair.b == a)) {
      return pair.likelihood[to_size(outcome)];
    }
  }
  if (as_good(test, a)) return of_outcome(test, outcome, b);
  if (as_good(test, b)) return of_outcome(test, outcome, a);
  const double good = test.outcomes.front().good;
  const double first =
      good > 0 ? std::min(1.0, of_outcome(test, 0, a) * of_outcome(test, 0, b) / good) : 0.0;
  if (outcome == 0) return first;
  const double rest = 2 - of_outcome(test, 0, a) - of_outcome(test, 0, b);
  const double mine = of_outcome(test, outcome, a) + of_outcome(test, outcome, b);
  return rest > 0 ? (1 - first) * mine / rest : 0.0;
}

Belief believe(const Problem& problem, const std::vector<Evidence>& evidence,
               const BeliefRule& rule) {
  Folded folded = fold(problem, evidence, rule, -1);
  Belief out;
  out.odd = folded.odd;
  if (!out.odd.empty()) out.fit = Fit::reading_fits_nothing;
  std::vector<Evidence> left = evidence;
  for (const int odd : folded.odd) left[to_size(odd)].taken_back = true;
  // Each round leaves one entry aside: the one without which the rest fits best, the latest of equals.
  while (folded.joint < rule.least_likelihood || !(total(folded.hypotheses) > 0)) {
    int best = -1;
    Folded without;
    for (int at = to_int(left.size()) - 1; at >= 0; --at) {
      if (!speaks(left[to_size(at)])) continue;
      Folded other = fold(problem, left, rule, at);
      if (best >= 0 && other.joint <= without.joint * (1 + 1e-9)) continue;
      best = at;
      without = std::move(other);
    }
    if (best < 0) break;
    if (out.fit == Fit::fits) out.fit = Fit::readings_disagree;
    out.odd.push_back(best);
    left[to_size(best)].taken_back = true;
    folded = std::move(without);
  }
  std::sort(out.odd.begin(), out.odd.end());
  double sum = total(folded.hypotheses);
  if (!(sum > 0)) {  // every fault was repaired in vain: nothing known is left
    folded.hypotheses = priors(problem);
    sum = total(folded.hypotheses);
    out.fit = Fit::readings_disagree;
  }
  out.fault.assign(problem.faults.size(), 0.0);
  for (Hypothesis& h : folded.hypotheses) {
    h.p /= sum;
    out.fault[to_size(h.a)] += h.p;
    if (h.b >= 0) out.fault[to_size(h.b)] += h.p;
  }
  out.hypotheses = std::move(folded.hypotheses);
  return out;
}

std::vector<bool> tests_open(const Problem& problem, const std::vector<Evidence>& evidence) {
  std::vector<bool> open(problem.tests.size(), true);
  for (const Evidence& entry : evidence) {
    if (entry.taken_back) continue;
    // After a repair a test may answer differently only where there can be a second fault.
    if (entry.kind == Kind::failed_repair && problem.second_fault > 0) {
      for (std::size_t t = 0; t < open.size(); ++t) open[t] = true;
    }
    if (entry.kind == Kind::answer) open[to_size(entry.index)] = false;
  }
  for (const Evidence& entry : evidence) {
    if (!entry.taken_back && entry.kind == Kind::cannot_test) open[to_size(entry.index)] = false;
  }
  return open;
}

std::vector<bool> repairs_open(const Problem& problem, const std::vector<Evidence>& evidence) {
  std::vector<bool> open(problem.repairs.size(), true);
  for (const Evidence& entry : evidence) {
    if (entry.taken_back) continue;
    if (entry.kind == Kind::failed_repair || entry.kind == Kind::cannot_repair) {
      open[to_size(entry.index)] = false;
    }
  }
  return open;
}

}  // namespace kp::find
