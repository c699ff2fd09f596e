// A test that takes its time is not confirmed before that time has passed, by the tool's own clock.
// Rule of this tool; no source.

#include <doctest/doctest.h>

#include "job/owed_tests.hpp"

namespace {

using kp::job::Stamp;
using kp::job::State;
using kp::job::wait_left_ms;

Stamp stamp(std::uint32_t n, std::int64_t wall_ms, std::int64_t mono_ms, const char* life) {
  return {n, kp::Moment{wall_ms, 0}, mono_ms, life, "R. Vance"};
}

State powered(const Stamp& at) {
  State state;
  state.facts.push_back({at, kp::safety::Fact{kp::safety::PowerOn{}}});
  return state;
}

kp::pack::ProveTest lasting(int seconds) {
  kp::pack::ProveTest test;
  test.wait_seconds = seconds;
  return test;
}

}  // namespace

TEST_CASE("the wait counts from the power, by the steady clock of the same life") {
  const State state = powered(stamp(7, 0, 50'000, "a"));
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 900'000, 50'000, "a")) == 60'000);
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 0, 109'999, "a")) == 1);
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 0, 110'000, "a")) == 0);
  CHECK(wait_left_ms(state, lasting(0), stamp(8, 0, 50'000, "a")) == 0);
}

TEST_CASE("after a restart of the program the wall's clock says how long it was") {
  const State state = powered(stamp(7, 1'000'000, 5'000'000, "a"));
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 1'020'000, 10, "b")) == 40'000);
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 1'060'000, 9'000'000, "b")) == 0);
  // A wall's clock that was set back shortens no wait.
  CHECK(wait_left_ms(state, lasting(60), stamp(8, 990'000, 10, "b")) == 70'000);
}

TEST_CASE("the test before it begins the wait anew, static water too") {
  State state = powered(stamp(7, 0, 0, "a"));
  state.proved.push_back({stamp(9, 0, 100'000, "a"), kp::job::ProveRecorded{}});
  CHECK(wait_left_ms(state, lasting(60), stamp(10, 0, 130'000, "a")) == 30'000);
  state.facts.push_back({stamp(11, 0, 130'000, "a"), kp::safety::Fact{kp::safety::WaterOn{true}}});
  CHECK(wait_left_ms(state, lasting(300), stamp(12, 0, 200'000, "a")) == 230'000);
}
