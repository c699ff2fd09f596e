// How well the advice finds faults in the machine that ships: each complaint with each fault that
// causes it, weighed as the pack weighs them, beside two ways without measuring: parts by chance over
// cost, and the likeliest part first. Then the advice's expected cost beside that of a long search. One
// JSON object a line; minutes hold parts as time, at the rate of FindCosts.

#include <cstdio>

#include "job/find_work.hpp"
#include "support/bench.hpp"

namespace kp {
namespace {

struct Sum {
  double weight = 0, found = 0, minutes = 0, parts = 0, wrong = 0, steps = 0;
  void add(const test::Outing& outing, double share) {
    weight += share;
    found += outing.found ? share : 0;
    minutes += share * outing.seconds / 60;
    parts += share * outing.parts / 60;
    wrong += share * outing.wrong_repairs;
    steps += share * outing.steps;
  }
  void print(const char* name, int units) const {
    std::printf("{\"way\":\"%s\",\"units\":%d,\"found\":%.4f,\"mean_minutes\":%.1f,"
                "\"of_these_parts\":%.1f,\"wrong_repairs\":%.3f,\"steps\":%.2f}\n",
                name, units, found / weight, minutes / weight, parts / weight, wrong / weight,
                steps / weight);
  }
};

void diagnose(int seeds, std::uint64_t openings) {
  const job::Model& model = test::shipped_library().models.front();
  const job::FindBook& book = test::shipped_book();
  Sum advice, ratio, likeliest;
  int units = 0;
  for (int s = 0; s < to_int(model.pack.symptoms.size()); ++s) {
    const find::Belief belief = find::believe(book.problem, {find::noticed(s)});
    for (const pack::Shows& cause : model.pack.symptoms[to_size(s)].causes) {
      const double share = belief.fault[to_size(cause.fault)] / seeds;
      for (int seed = 0; seed < seeds; ++seed) {
        test::Random random(static_cast<std::uint64_t>(seed * 1000 + s * 100 + cause.fault));
        advice.add(test::follow_advice(book.problem, {find::noticed(s)}, cause.fault, random,
                                       {openings, 0.01, {}}), share);
        ratio.add(test::swap_parts(book.problem, belief, cause.fault, true), share);
        likeliest.add(test::swap_parts(book.problem, belief, cause.fault, false), share);
        ++units;
      }
    }
  }
  advice.print("advice", units);
  ratio.print("parts by chance over cost", units);
  likeliest.print("likeliest part first", units);
}

/// Expected cost at the first advice of each complaint. `sure`: a complaint has its causes and no other,
/// so that the long search can prove its optimum.
void compare(std::uint64_t openings, std::uint64_t reference, bool sure) {
  const job::FindBook& book = test::shipped_book();
  find::Problem problem = book.problem;
  double ours = 0, best = 0, lower = 0, worst = 0;
  int proved = 0;
  for (int s = 0; s < to_int(problem.symptoms.size()); ++s) {
    if (sure) problem.symptoms[to_size(s)].leak = 0;
    const find::Advice quick = find::advise(problem, {find::noticed(s)}, {openings, 0.01, {}});
    const find::Advice slow = find::advise(problem, {find::noticed(s)}, {reference, 0.01, {}});
    ours += quick.expected_seconds;
    best += slow.expected_seconds;
    lower += slow.lower_bound_seconds;
    proved += slow.proved ? 1 : 0;
    worst = std::max(worst, quick.expected_seconds / slow.expected_seconds - 1);
  }
  std::printf("{\"compare\":\"%s\",\"complaints\":%d,\"openings\":%d,\"reference\":%d,\"proved\":%d,"
              "\"mean_over_reference\":%.4f,\"worst_over_reference\":%.4f,\"reference_gap\":%.4f}\n",
              sure ? "causes only" : "with leaks", to_int(problem.symptoms.size()),
              static_cast<int>(openings), static_cast<int>(reference), proved, ours / best - 1, worst,
              1 - lower / best);
}

}  // namespace
}  // namespace kp

int main() {
  kp::compare(300, 20'000, true);
  kp::compare(300, 4'000, false);
  kp::diagnose(3, 100);
  return 0;
}
