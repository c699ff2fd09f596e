#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "job/find_work.hpp"

// The machine that ships, with a fault in it: what the solver reads there, and where the advice leads.
// Thresholds are ours, no source; what is checked is that the right fault is found.

namespace kp {
namespace {

const job::Model& model() { return test::shipped_library().models.front(); }
const pack::Pack& machine() { return model().pack; }
const job::Standing kAtFirst{plan::State{}, true};

job::State complaint(const char* id) {
  job::State state;
  state.stage = job::Stage::find;
  state.complaint.symptom = id;
  return state;
}

job::Recorded<job::TestRecorded> reading(std::uint32_t n, const char* test, double value, bool open) {
  job::Recorded<job::TestRecorded> out;
  out.stamp.n = n;
  out.body.test = test;
  out.body.value = value;
  out.body.open_loop = open;
  return out;
}

double believed(const job::Evidence& evidence, const char* fault) {
  const find::Belief belief = find::believe(test::shipped_book().problem, evidence.entries);
  return belief.fault[to_size(machine().fault(fault))];
}

}  // namespace

TEST_CASE("bind find: the pack that ships is a sound problem, every test can be made") {
  const job::FindBook& book = test::shipped_book();
  CHECK(find::check(book.problem).faults() == 0);
  CHECK(book.problem.tests.size() == machine().tests.size());
  for (const find::Test& test : book.problem.tests) {
    CAPTURE(test.name);
    CHECK(test.outcomes.size() >= 2);
  }
  // Each fault is mended by something.
  for (int f = 0; f < to_int(machine().faults.size()); ++f) {
    CAPTURE(machine().faults[to_size(f)].id);
    bool mended = false;
    for (const find::Repair& repair : book.problem.repairs) mended = mended || test::clears(repair, f);
    CHECK(mended);
  }
}

TEST_CASE("bind find: what a typical faulty unit reads is likely with that fault") {
  const job::FindBook& book = test::shipped_book();
  test::Random random(1);
  for (int t = 0; t < to_int(machine().tests.size()); ++t) {
    if (!machine().tests[to_size(t)].on_circuit()) continue;
    CAPTURE(machine().tests[to_size(t)].id);
    for (int f = 0; f < to_int(machine().faults.size()); ++f) {
      CAPTURE(machine().faults[to_size(f)].id);
      const int outcome = test::answer_of(model(), book, random, t, f);
      const find::Test& test = book.problem.tests[to_size(t)];
      CHECK(test.outcomes[to_size(outcome)].likelihood[to_size(f)] > 0.01);
    }
  }
}

TEST_CASE("bind find: a complaint raises its causes, readings narrow them, one taken back is forgotten") {
  const job::FindBook& book = test::shipped_book();
  job::State state = complaint("wet-and-cold");
  const job::Evidence first = job::find_evidence(model(), book, state);
  const double before = believed(first, "heater-open");
  CHECK(before > 0.3);
  CHECK(before > 5 * believed(first, "spring-broken"));
  state.tests.push_back(reading(7, "heater-ohms", 0, true));
  const job::Evidence open = job::find_evidence(model(), book, state);
  CHECK(believed(open, "heater-open") > 0.99);
  CHECK(open.records == std::vector<std::uint32_t>{0, 7});
  // 1000 W on 120 V: 14.4 ohm by V²/P.
  state.tests.back() = reading(8, "heater-ohms", 14.4, false);
  CHECK(believed(job::find_evidence(model(), book, state), "heater-open") < 0.001);
  state.tests.clear();
  CHECK(believed(job::find_evidence(model(), book, state), "heater-open") == before);
}

TEST_CASE("bind find: a swapped part that did not help clears its faults, a test that cannot be done is left") {
  const job::FindBook& book = test::shipped_book();
  job::State state = complaint("wet-and-cold");
  const job::FindAdvice first =
      job::advise_find(model(), book, kAtFirst, job::find_evidence(model(), book, state));
  CHECK(first.test >= 0);
  const std::string& id = machine().tests[to_size(first.test)].id;
  const job::FindAdvice other = job::advise_find(
      model(), book, kAtFirst, job::find_evidence(model(), book, state, {}, {id}));
  CHECK(other.test != first.test);
  job::Recorded<job::PartSwapped> swapped;
  swapped.stamp.n = 9;
  swapped.body.part = "heater";
  state.swapped.push_back(swapped);
  CHECK(believed(job::find_evidence(model(), book, state), "heater-open") == 0);
  // What is mended in place is not cleared by a new heater.
  CHECK(believed(job::find_evidence(model(), book, state), "heater-lead-burnt") > 0);
}

TEST_CASE("bind find: a reading that fits no fault is said so") {
  const job::FindBook& book = test::shipped_book();
  job::State state = complaint("wet-and-cold");
  state.tests.push_back(reading(7, "heater-ohms", 4000, false));
  const job::Evidence evidence = job::find_evidence(model(), book, state);
  const job::FindAdvice advice = job::advise_find(model(), book, kAtFirst, evidence);
  CHECK(advice.advice.belief.fit == find::Fit::reading_fits_nothing);
  CHECK(advice.advice.belief.odd == std::vector<int>{1});
  CHECK(advice.words.front().find("fits no fault") != std::string::npos);
}

TEST_CASE("bind find: where the unit stands counts") {
  const job::FindBook& book = test::shipped_book();
  const int heater = machine().test("heater-ohms");
  const job::TestReach reached = job::reach_test(model(), plan::State{}, heater);
  CHECK(!reached.plan.error.has_value());
  CHECK(reached.unit.released.test(machine().joint("heater-leads")));
  CHECK(reached.unit.removed.test(machine().part("access-panel")));
  const job::Standing there{reached.unit, false};
  CHECK(job::change_seconds(model(), book, there, there) == 0);
  CHECK(job::change_seconds(model(), book, kAtFirst, there) > book.costs.isolate_seconds);
  job::Standing aside = there;
  aside.unit.position = machine().position("pulled-out");
  const find::Problem problem = job::bind_find(model(), book, aside);
  CHECK(find::check(problem).faults() == 0);
  CHECK(problem.moves[to_size(problem.standing)][0] > 0);
}

TEST_CASE("bind find: following the advice finds each cause of a complaint by its readings") {
  const job::FindBook& book = test::shipped_book();
  const find::AdviseOptions options{100, 0.01, {}};
  for (const char* id : {"wet-and-cold", "dead"}) {
    const int symptom = machine().symptom(id);
    for (const pack::Shows& cause : machine().symptoms[to_size(symptom)].causes) {
      CAPTURE(machine().faults[to_size(cause.fault)].id);
      test::Random random(static_cast<std::uint64_t>(cause.fault) + 1);
      CAPTURE(random.seed());
      const test::Outing outing = test::follow_advice(book.problem, {find::noticed(symptom)},
                                                      cause.fault, random, options);
      CHECK(outing.found);
      CHECK(outing.wrong_repairs <= 1);
      CHECK(outing.steps <= 15);
    }
  }
}

}  // namespace kp
