// A look that belongs to a place is asked for while the place is open, as a look; where the place was
// never opened it is left out with that reason. (safety-order.md section 3, B1.)

#include <doctest/doctest.h>

#include "app/proved.hpp"
#include "base/text.hpp"

namespace {

using namespace kp;
using app::Verb;
using test::has;
using test::Robot;
using test::Window;

struct Seen {
  bool as_look = false;      ///< the card asked to look, in Close
  bool as_left_out = false;  ///< the card offered only to leave it out
  job::Stage last = job::Stage::arrive;
  std::string stuck;
};

/// A whole job on that part, and how the look into the door came up in it.
Seen look_into_the_door(const std::string& part) {
  memory::MemoryStore field(std::make_shared<memory::MemoryMedium>());
  Window window(field);
  window.act(Verb::new_job);
  Robot robot(*window.session);
  test::ready(robot);
  Seen seen;
  int idle = 0;
  for (int step = 0; step < 500 && idle < 60; ++step) {
    window.clock.pass(15'000);
    const job::State& state = window.session->state();
    if (state.stage == job::Stage::find && state.targets.empty()) window.act(Verb::choose_part, part);
    const app::Card& card = window.seen().card;
    if (card.id == "prove-visual-door" && card.primary.has_value()) {
      const bool out = has(card.primary->label, "left out") || has(card.primary->label, "Leave out");
      (out ? seen.as_left_out : seen.as_look) = true;
      for (const app::Button& other : card.secondary) CHECK_FALSE(has(other.label, "untouched"));
    }
    idle = robot.step() ? 0 : idle + 1;
    window.settle();
    seen.last = window.session->state().stage;
    if (seen.last == job::Stage::bill) break;
    seen.stuck = robot.last;
  }
  return seen;
}

}  // namespace

TEST_CASE("the look into the door is a look where the door was opened") {
  const Seen seen = look_into_the_door("door-switch");
  CAPTURE(seen.stuck);
  CHECK(seen.as_look);
  CHECK_FALSE(seen.as_left_out);
  CHECK(seen.last == job::Stage::bill);
}

TEST_CASE("where the door was not opened the look is left out, with that reason") {
  const Seen seen = look_into_the_door("heater");
  CAPTURE(seen.stuck);
  CHECK(seen.as_left_out);
  CHECK_FALSE(seen.as_look);
  CHECK(seen.last == job::Stage::bill);
}
