#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "base/text.hpp"
#include "find/cases.hpp"

namespace kp::find {
namespace {

/// A heater that stays cold: the part is dear and lies deep, its test is cheap once the cover is off.
Problem cold_water() {
  Problem problem;
  problem.faults = {{"Heater open", 5}, {"Thermostat open", 3}, {"Timer contact burnt", 2}};
  problem.tests = {certain_test("Heater in ohms", 60, {1, 0, 0}, {"14 to 18 ohm", "OL"}),
                   certain_test("Thermostat in ohms", 60, {0, 1, 0}, {"below 1 ohm", "OL"})};
  problem.tests[0].standing = 1;
  problem.tests[1].standing = 1;
  for (int f = 0; f < 3; ++f) {
    Repair repair;
    repair.name = cat("Fit a new part: ", problem.faults[to_size(f)].name);
    repair.seconds = 600;
    repair.price_seconds = 1800;
    repair.standing = 1;
    repair.leaves = 0;
    repair.clears = {f};
    problem.repairs.push_back(repair);
  }
  problem.moves = {{0, 300}, {300, 0}};
  return problem;
}

}  // namespace

TEST_CASE("the reasons of an advice are short sentences with what it splits, costs and beats") {
  const Problem problem = cold_water();
  const Advice advice = advise(problem, {});
  CHECK(advice.move == Move::test);
  CHECK(advice.index == 0);
  const std::vector<std::string> words = explain(problem, {}, advice);
  // Opening 300, test 60; then half the time the heater, 600 + 1800 and 300 to close. Else the
  // thermostat's test, 60; then one of two repairs of the same cost.
  // The heater first: 3000, and half the time 300 + 60 + 2700 more. Part after part: 3000, 1500, 600.
  CHECK(advice.expected_seconds == doctest::Approx(300 + 60 + .5 * 60 + 2700));
  CHECK(join(words, "|") == join({
                     "Do this test next: Heater in ohms.",
                     "It takes 60 s, and 5 min to open, turn or switch the unit.",
                     "If 14 to 18 ohm (50 %): Thermostat open, 60 %.",
                     "If OL (50 %): Heater open, over 99 %.",
                     "From here to the confirmed repair: 52 min on average.",
                     "Not first: Fit a new part: Heater open. That costs 24 min more on average.",
                     "Part after part without a test costs 34 min more on average.",
                     "No other order costs less on average. This is proved."}, "|"));
  for (const std::string& sentence : words) CHECK(split(sentence, ' ').size() <= 20);
}

TEST_CASE("an advice says what each outcome leaves and what would come next") {
  const Problem problem = cold_water();
  const Advice advice = advise(problem, {});
  CHECK(advice.leaves.size() == 2);
  double sum = 0;
  for (const Leaves& leaves : advice.leaves) sum += leaves.p;
  CHECK(sum == doctest::Approx(1));
  CHECK(advice.leaves[1].name == "OL");
  CHECK(advice.leaves[1].faults.size() == 1);
  CHECK(advice.leaves[1].then == Move::repair);
  CHECK(advice.leaves[1].then_index == 0);
  CHECK(advice.leaves[0].then == Move::test);
  CHECK(advice.leaves[0].then_index == 1);
}

TEST_CASE("once one fault is left the repair is advised, and after it nothing") {
  const Problem problem = cold_water();
  const Advice repair = advise(problem, {answered(0, 1)});
  CHECK(repair.move == Move::repair);
  CHECK(repair.index == 0);
  CHECK(explain(problem, {}, repair).front() == "Do this repair next: Fit a new part: Heater open.");
  Problem telling = cold_water();
  telling.goal = Goal::identified;
  const Advice done = advise(telling, {answered(0, 1)});
  CHECK(done.move == Move::nothing);
  CHECK(done.expected_seconds == 0);
  CHECK(explain(telling, {}, done).back() == "Nothing here tells more or mends more.");
}

TEST_CASE("where every way on costs more, the unit is handed over") {
  Problem problem = cold_water();
  problem.give_up_seconds = 500;
  const Advice advice = advise(problem, {});
  CHECK(advice.move == Move::give_up);
  // The heater first: 3000, and half the time 300 + 60 + 2700 more. Part after part: 3000, 1500, 600.
  CHECK(advice.expected_seconds == doctest::Approx(500));
  CHECK(explain(problem, {}, advice).front() == "Hand the unit over: every way on from here costs more.");
}

}  // namespace kp::find
