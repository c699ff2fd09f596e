#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

#include "job/bind_circuit.hpp"
#include "job/bind_find.hpp"
#include "job/bind_test.hpp"
#include "job/work.hpp"

// Finding on the pack that ships: whose fault is in the machine is told to the simulated unit only.
// The pack's figures are common practice, no source; what is checked is that the chain of circuit,
// tolerance, belief and advice leads from the complaint to that fault.

namespace kp {
namespace {

using job::Stage;
using job::TestImpossible;
using job::TestRecorded;
using test::says;
using test::Work;

struct Thought {
  job::Finding finding;
  find::Advice advice;
};

Thought think(const Work& work, job::FindMemo& memo) {
  Thought out;
  job::FindTerms terms;
  terms.labour_per_hour_minor = 9000;
  out.finding = job::bind_find(work.state, work.context(), terms, memo);
  find::AdviseOptions options;
  options.openings = 1000;
  out.advice = find::advise(out.finding.problem, out.finding.evidence, options);
  return out;
}

double share_of(const Work& work, const Thought& thought, const std::string& fault) {
  for (std::size_t i = 0; i < thought.finding.faults.size(); ++i) {
    const int index = thought.finding.faults[i];
    if (index >= 0 && work.pack().faults[to_size(index)].id == fault) return thought.advice.belief.fault[i];
  }
  return 0;
}

/// What this test shows in a machine with this fault.
TestRecorded shown(const Work& work, const pack::Test& test, const std::string& fault) {
  const int index = work.pack().fault(fault);
  TestRecorded body;
  body.test = test.id;
  const auto shows = [&] {
    return std::any_of(test.shows.begin(), test.shows.end(), [&](const pack::Shows& one) {
      return one.fault == index && one.chance >= 0.5;
    });
  };
  if (test.on_circuit()) {
    const circuit::Reading reading = job::reading_of(
        work.pack(), work.model().netlist, test, index < 0 ? std::vector<int>{} : std::vector<int>{index});
    body.open_loop = reading.state == circuit::State::over;
    body.value = body.open_loop ? 0 : reading.value;
  } else if (test.probe == pack::Probe::look) {
    body.looked = true;
    body.good = !shows();
  } else {
    body.value = shows() ? test.field_low : (test.low + std::min(test.high, test.field_high)) / 2;
  }
  return body;
}

void keep(Work& work, const std::string& test, const std::string& fault) {
  const int index = work.pack().test(test);
  REQUIRE(index >= 0);
  work.write(shown(work, work.pack().tests[to_size(index)], fault));
}

struct Course {
  int part = -1;      ///< whose repair was advised in the end
  int tests = 0;
  std::string path;
};

/// Follows the advice with what the machine shows, until a repair is advised.
Course follow(Work& work, job::FindMemo& memo, const std::string& fault) {
  Course course;
  for (int step = 0; step < 20; ++step) {
    const Thought thought = think(work, memo);
    if (thought.advice.move == find::Move::repair) {
      course.part = thought.finding.repair_parts[to_size(thought.advice.index)];
      return course;
    }
    if (thought.advice.move != find::Move::test) return course;
    const pack::Test& test =
        work.pack().tests[to_size(thought.finding.tests[to_size(thought.advice.index)])];
    course.path += cat(test.id, " ");
    work.write(shown(work, test, fault));
    ++course.tests;
  }
  return course;
}

}  // namespace

TEST_CASE("find: each complaint is a sound problem, and what a faulty unit reads is likely with its fault") {
  for (const pack::Symptom& symptom : test::shipped_library().models.front().pack.symptoms) {
    CAPTURE(symptom.id);
    Work work;
    REQUIRE(work.seek(symptom.id));
    job::FindMemo memo(work.model());
    const Thought thought = think(work, memo);
    const Findings odd = find::check(thought.finding.problem);
    CHECK(odd.faults() == 0);
    CHECK(thought.finding.faults.size() >= 2);
    CHECK(thought.advice.move != find::Move::nothing);
    for (std::size_t t = 0; t < thought.finding.tests.size(); ++t) {
      const pack::Test& test = work.pack().tests[to_size(thought.finding.tests[t])];
      if (!test.on_circuit()) continue;
      for (std::size_t f = 0; f < thought.finding.faults.size(); ++f) {
        const int fault = thought.finding.faults[f];
        if (fault < 0) continue;
        const circuit::Reading reading = job::reading_of(work.pack(), work.model().netlist, test, {fault});
        if (reading.state != circuit::State::shown && reading.state != circuit::State::over) continue;
        const double value = reading.state == circuit::State::over
                                 ? std::numeric_limits<double>::infinity()
                                 : reading.value;
        const int outcome = find::outcome_of(thought.finding.bins[t], value);
        CAPTURE(test.id);
        CAPTURE(work.pack().faults[to_size(fault)].id);
        CAPTURE(value);
        CHECK(thought.finding.problem.tests[t].outcomes[to_size(outcome)].likelihood[f] > 0.02);
      }
    }
  }
}

TEST_CASE("find: from the complaint the advice leads to the fault that is in the machine") {
  struct Case {
    const char* complaint;
    const char* fault;
  };
  for (const Case one : {Case{"wet-and-cold", "heater-open"}, Case{"wet-and-cold", "thermostat-open"},
                         Case{"wet-and-cold", "fuse-open"}, Case{"wet-and-cold", "cam-4-burnt"},
                         Case{"no-water", "valve-open"}, Case{"no-water", "float-up"},
                         Case{"dead", "door-switch-open"}, Case{"breaker-trips", "heater-earth"}}) {
    CAPTURE(std::string(one.fault));
    Work work;
    REQUIRE(work.seek(one.complaint));
    job::FindMemo memo(work.model());
    const Course course = follow(work, memo, one.fault);
    CAPTURE(course.path);
    const int fault = work.pack().fault(one.fault);
    REQUIRE(fault >= 0);
    CHECK(course.part == work.pack().faults[to_size(fault)].part);
    CHECK(course.tests >= 1);
    CHECK(course.tests <= 8);
  }
}

TEST_CASE("find: beliefs are a function of what is kept: a reading taken back leaves no trace") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  const double before = share_of(work, think(work, memo), "heater-open");
  keep(work, "heater-ohms", "heater-open");
  const std::uint32_t n = work.state.tests.back().stamp.n;
  CHECK(share_of(work, think(work, memo), "heater-open") > 0.95);
  REQUIRE(work.tell(job::TestTakenBack{n}).accepted());
  CHECK(share_of(work, think(work, memo), "heater-open") == doctest::Approx(before));
}

TEST_CASE("find: a good reading clears the part, and shares of the rest rise in proportion") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  const Thought before = think(work, memo);
  keep(work, "heater-ohms", "thermostat-open");
  const Thought after = think(work, memo);
  CHECK(share_of(work, after, "heater-open") < 0.05);
  const double ratio_before = share_of(work, before, "thermostat-open") / share_of(work, before, "cam-4-burnt");
  const double ratio_after = share_of(work, after, "thermostat-open") / share_of(work, after, "cam-4-burnt");
  CHECK(ratio_after == doctest::Approx(ratio_before).epsilon(0.05));
}

TEST_CASE("find: a test that cannot be done is not advised again, a part that was changed did not help") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  const Thought first = think(work, memo);
  REQUIRE(first.advice.move == find::Move::test);
  const std::string id = work.pack().tests[to_size(first.finding.tests[to_size(first.advice.index)])].id;
  REQUIRE(work.tell(TestImpossible{id, "no room"}).accepted());
  const Thought second = think(work, memo);
  REQUIRE(second.advice.move == find::Move::test);
  {
    CHECK(work.pack().tests[to_size(second.finding.tests[to_size(second.advice.index)])].id != id);
  }
  job::Recorded<job::PartSwapped> swapped;
  swapped.stamp = work.now();
  swapped.body.part = "heater";
  work.state.swapped.push_back(swapped);
  CHECK(share_of(work, think(work, memo), "heater-open") < 0.05);
}

TEST_CASE("find: what was mended in place and did not help is another repair than a new part") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  job::Recorded<job::PartSwapped> mended;
  mended.stamp = work.now();
  mended.body.part = "heater";
  mended.body.mended = "heater-lead-burnt";
  work.state.swapped.push_back(mended);
  const Thought thought = think(work, memo);
  CHECK(share_of(work, thought, "heater-lead-burnt") < 0.02);
  CHECK(share_of(work, thought, "heater-open") > 0.3);
  // Only what was chosen to be mended is recorded so, and only where the pack knows how.
  job::PartSwapped body;
  body.part = "heater";
  body.mended = "heater-lead-burnt";
  CHECK(says(work.ask(body), "unknown-mend"));
  CHECK(says(work.ask(job::TargetsChosen{{"heater"}, "Heater open", "heater-open"}), "unknown-mend"));
  REQUIRE(work.tell(job::TargetsChosen{{"heater"}, "Heater lead burnt", "heater-lead-burnt"}).accepted());
  CHECK(says(work.ask(body), "covered"));
}

TEST_CASE("find: a reading that fits nothing is said to, and nobody is blamed for it") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  TestRecorded odd;
  odd.test = "supply-volts";
  odd.value = 400;
  const int test = work.pack().test(odd.test);
  REQUIRE(test >= 0);
  work.write(odd);
  const Thought thought = think(work, memo);
  const bool known = std::find(thought.finding.tests.begin(), thought.finding.tests.end(), test) !=
                     thought.finding.tests.end();
  REQUIRE(known);
  CHECK(thought.advice.belief.fit == find::Fit::reading_fits_nothing);
  CHECK_FALSE(thought.advice.belief.odd.empty());
}

TEST_CASE("find: what is open already makes the tests behind it cheaper") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  const int test = work.pack().test("heater-ohms");
  const auto cost = [&](const Thought& thought) {
    const auto at = std::find(thought.finding.tests.begin(), thought.finding.tests.end(), test);
    REQUIRE(at != thought.finding.tests.end());
    const auto index = static_cast<std::size_t>(at - thought.finding.tests.begin());
    return thought.finding.problem.moves[0][to_size(thought.finding.problem.tests[index].standing)];
  };
  const double closed = cost(think(work, memo));
  CHECK(closed > 0);
  const plan::Plan way = job::plan_to_test(work.model(), work.state.unit, work.pack().tests[to_size(test)]);
  CHECK(closed == doctest::Approx(static_cast<double>(way.cost_ms) / 1000));
  for (const plan::Step& step : way.steps) {
    work.state.unit = work.model().rules.apply(work.state.unit, plan::Action{step.kind, step.subject});
  }
  CHECK(cost(think(work, memo)) == 0);
}

TEST_CASE("find: a reading says of two faults at once what the circuit says of them") {
  Work work;
  REQUIRE(work.seek("wet-and-cold"));
  job::FindMemo memo(work.model());
  keep(work, "heat-loop", "heater-open");
  const Thought thought = think(work, memo);
  const int index = work.pack().test("heat-loop");
  const auto at = std::find(thought.finding.tests.begin(), thought.finding.tests.end(), index);
  REQUIRE(at != thought.finding.tests.end());
  const auto t = static_cast<std::size_t>(at - thought.finding.tests.begin());
  const find::Test& plain = thought.finding.problem.tests[t];
  REQUIRE(plain.pairs.size() > 3);
  CHECK(find::check(thought.finding.problem).faults() == 0);
  for (const find::PairAnswer& pair : plain.pairs) {
    double sum = 0;
    for (const double p : pair.likelihood) sum += p;
    CHECK(sum == doctest::Approx(1));
    const int a = thought.finding.faults[to_size(pair.a)];
    const int b = thought.finding.faults[to_size(pair.b)];
    CAPTURE(work.pack().faults[to_size(a)].id);
    CAPTURE(work.pack().faults[to_size(b)].id);
    const circuit::Reading reading =
        job::reading_of(work.pack(), work.model().netlist, work.pack().tests[to_size(index)], {a, b});
    if (reading.state != circuit::State::shown && reading.state != circuit::State::over) continue;
    const double value = reading.state == circuit::State::over ? std::numeric_limits<double>::infinity()
                                                               : reading.value;
    CHECK(pair.likelihood[to_size(find::outcome_of(thought.finding.bins[t], value))] > 0.02);
  }
}

TEST_CASE("find: a repair that did not help is sought again from Make safe, without a target") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.state.stage == Stage::prove);
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(job::StageEntered{Stage::make_safe}).accepted());
  CHECK(work.state.targets.empty());
  REQUIRE(work.open_gate());
  CHECK(work.state.stage == Stage::find);
}

}  // namespace kp
