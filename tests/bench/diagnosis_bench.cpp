// How well the advice finds faults in the machine that ships: each complaint with each fault that
// causes it, weighed as the pack weighs them, beside two ways without measuring: parts by chance over
// cost, and the likeliest part first. Then the advice's expected cost beside that of a long search. One
// JSON object a line. Minutes are work; money is the work at the rate below and the parts fitted.

#include <cmath>
#include <cstdio>
#include <limits>

#include "find/classic.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_find.hpp"
#include "job/bind_plan.hpp"
#include "job/work.hpp"
#include "support/bench.hpp"
#include "support/random.hpp"

namespace kp {
namespace {

constexpr std::uint64_t kOpenings = 4000;     // as the program takes it
constexpr std::uint64_t kLong = 100'000;
constexpr double kHourMinor = 9500;           // invented, as the demo's rate card has it

struct Sum {
  double weight = 0, found = 0, minutes = 0, money = 0, wrong = 0, steps = 0;
  /// `priced`: what parts cost, in seconds' worth.
  void add(double share, bool right, double seconds, double priced, int wrong_repairs, int taken) {
    weight += share;
    found += right ? share : 0;
    minutes += share * seconds / 60;
    money += share * (seconds + priced) / 3600 * kHourMinor / 100;
    wrong += share * wrong_repairs;
    steps += share * taken;
  }
  void print(const char* name, int units) const {
    std::printf("{\"way\":\"%s\",\"units\":%d,\"found\":%.4f,\"mean_minutes\":%.1f,\"mean_money\":%.2f,"
                "\"wrong_repairs\":%.3f,\"steps\":%.2f}\n",
                name, units, found / weight, minutes / weight, money / weight, wrong / weight, steps / weight);
  }
};

job::FindTerms terms() {
  job::FindTerms out;
  out.labour_per_hour_minor = static_cast<std::int64_t>(kHourMinor);
  return out;
}

/// What a test shows in a typical unit with this fault; a look shows it as often as its table says.
job::TestRecorded shown(const job::Model& model, const pack::Test& test, int fault, test::Random& random) {
  job::TestRecorded body;
  body.test = test.id;
  if (test.on_circuit()) {
    const circuit::Reading reading = job::reading_of(model.pack, model.netlist, test, {fault});
    body.open_loop = reading.state == circuit::State::over;
    body.value = body.open_loop ? 0 : reading.value;
    return body;
  }
  double silent = 1 - test.leak;
  for (const pack::Shows& one : test.shows) {
    if (one.fault == fault) silent *= 1 - one.chance;
  }
  const bool bad = random.unit() >= silent;
  body.looked = test.probe == pack::Probe::look;
  body.good = !bad;
  body.value = bad ? test.field_low : (test.low + std::min(test.high, test.field_high)) / 2;
  return body;
}

void follow_advice(const std::string& complaint, int fault, test::Random& random, std::uint64_t openings,
                   double share, Sum& sum) {
  const job::Model& model = test::shipped_library().models.front();
  const job::Settings settings;
  const job::Context context{&test::shipped_library(), &settings};
  job::State state;
  state.model = 0;
  state.stage = job::Stage::find;
  state.complaint.symptom = complaint;
  job::FindMemo memo(model);
  double seconds = 0;
  double priced = 0;
  int wrong = 0;
  for (int step = 0; step < 40; ++step) {
    const job::Finding finding = job::bind_find(state, context, terms(), memo);
    const find::Advice advice = find::advise(finding.problem, finding.evidence, {openings, 0.01, {}});
    job::Stamp stamp;
    stamp.n = static_cast<std::uint32_t>(step + 1);
    if (advice.move == find::Move::test) {
      const int index = finding.tests[to_size(advice.index)];
      const find::Test& test = finding.problem.tests[to_size(advice.index)];
      seconds += finding.problem.moves[0][to_size(test.standing)] + test.seconds;
      for (const plan::Step& one : finding.standings[to_size(test.standing)].way.steps) {
        state.unit = model.rules.apply(state.unit, plan::Action{one.kind, one.subject});
      }
      state.tests.push_back({stamp, shown(model, model.pack.tests[to_size(index)], fault, random)});
      continue;
    }
    if (advice.move != find::Move::repair) {
      sum.add(share, false, seconds + job::kHandOverSeconds, priced, wrong, step);
      return;
    }
    const find::Repair& repair = finding.problem.repairs[to_size(advice.index)];
    seconds += finding.problem.moves[0][to_size(repair.standing)] + repair.seconds;
    priced += repair.price_seconds;
    for (const int cleared : repair.clears) {
      if (finding.faults[to_size(cleared)] == fault) {
        sum.add(share, true, seconds, priced, wrong, step + 1);
        return;
      }
    }
    ++wrong;
    state.unit = job::initial_unit(model);
    job::PartSwapped swapped;
    const int mend = finding.repair_mends[to_size(advice.index)];
    if (mend >= 0) swapped.mended = model.pack.faults[to_size(mend)].id;
    swapped.part = model.pack.parts[to_size(finding.repair_parts[to_size(advice.index)])].id;
    state.swapped.push_back({stamp, swapped});
  }
  sum.add(share, false, seconds, priced, wrong, 40);
}

void swap_parts(const job::Finding& finding, const find::Belief& belief, int fault, bool by_ratio, double share, Sum& sum) {
  std::vector<find::Attempt> list;
  const find::Problem& problem = finding.problem;
  const auto cost = [&](const find::Repair& repair) {
    return repair.seconds + problem.moves[0][to_size(repair.standing)];
  };
  for (const find::Repair& repair : problem.repairs) {
    find::Attempt attempt;
    for (const int f : repair.clears) attempt.p += belief.fault[to_size(f)];
    attempt.seconds = by_ratio ? cost(repair) + repair.price_seconds : 1;
    list.push_back(attempt);
  }
  double seconds = 0;
  double priced = 0;
  int wrong = 0;
  for (const int r : find::ratio_order(list)) {
    const find::Repair& repair = problem.repairs[to_size(r)];
    seconds += cost(repair);
    priced += repair.price_seconds;
    for (const int cleared : repair.clears) {
      if (finding.faults[to_size(cleared)] != fault) continue;
      sum.add(share, true, seconds, priced, wrong, wrong + 1);
      return;
    }
    ++wrong;
  }
  sum.add(share, false, seconds + job::kHandOverSeconds, priced, wrong, wrong);
}

void run(int seeds) {
  const job::Model& model = test::shipped_library().models.front();
  const job::Settings settings;
  const job::Context context{&test::shipped_library(), &settings};
  Sum advice, same_units, optimum, ratio, likeliest;
  int units = 0;
  int long_units = 0;
  double ours = 0, best = 0, worst = 0;
  int proved = 0;
  for (const pack::Symptom& symptom : model.pack.symptoms) {
    job::State state;
    state.model = 0;
    state.stage = job::Stage::find;
    state.complaint.symptom = symptom.id;
    job::FindMemo memo(model);
    const job::Finding finding = job::bind_find(state, context, terms(), memo);
    const find::Advice quick = find::advise(finding.problem, finding.evidence, {kOpenings, 0.01, {}});
    const find::Advice slow = find::advise(finding.problem, finding.evidence, {kLong, 0.01, {}});
    ours += quick.expected_seconds;
    best += slow.expected_seconds;
    worst = std::max(worst, quick.expected_seconds / slow.expected_seconds - 1);
    proved += slow.proved ? 1 : 0;
    const find::Belief& belief = quick.belief;
    for (const pack::Shows& cause : symptom.causes) {
      double share = 0;
      for (std::size_t f = 0; f < finding.faults.size(); ++f) {
        if (finding.faults[f] == cause.fault) share = belief.fault[f] / seeds;
      }
      for (int seed = 0; seed < seeds; ++seed) {
        test::Random random(static_cast<std::uint64_t>(seed * 1000 + cause.fault));
        follow_advice(symptom.id, cause.fault, random, kOpenings, share, advice);
        if (seed == 0) {
          // One of each: a long search before every step takes its time.
          for (const std::uint64_t openings : {kOpenings, kLong}) {
            test::Random same(static_cast<std::uint64_t>(cause.fault));
            follow_advice(symptom.id, cause.fault, same, openings, share, openings == kLong ? optimum : same_units);
          }
          ++long_units;
        }
        swap_parts(finding, belief, cause.fault, true, share, ratio);
        swap_parts(finding, belief, cause.fault, false, share, likeliest);
        ++units;
      }
    }
  }
  advice.print("advice", units);
  same_units.print("advice, on one unit of each fault", long_units);
  optimum.print("long search before every step, on the same", long_units);
  ratio.print("parts by chance over cost", units);
  likeliest.print("likeliest part first", units);
  std::printf("{\"compare\":\"first advice\",\"complaints\":%d,\"openings\":%d,\"reference\":%d,"
              "\"proved\":%d,\"mean_over_reference\":%.4f,\"worst_over_reference\":%.4f}\n",
              to_int(model.pack.symptoms.size()), static_cast<int>(kOpenings), static_cast<int>(kLong), proved,
              ours / best - 1, worst);
}

}  // namespace
}  // namespace kp

int main() {
  kp::run(14);
  return 0;
}
