#pragma once
// A window whose job is made safe, and what its strip shows.

#include "app/robot.hpp"
#include "app/window.hpp"

namespace kp::test {

inline bool green(const safety::StripSide& side) { return side.meaning == safety::Meaning::safe; }
inline bool green(const Window& window) {
  return green(window.seen().strip.power) || green(window.seen().strip.water);
}
inline bool all_green(const Window& window) {
  return green(window.seen().strip.power) && green(window.seen().strip.water);
}

inline void ready(Robot& robot) {
  robot.choices = {{"pump-module", ""}, {"wet-and-cold", ""}};
  robot.fault = "heater-open";
}

/// Works until power is proved dead and the water is relieved; all_green() says whether it came so far.
inline void work_until_green(Window& window) {
  window.act(app::Verb::new_job);
  Robot robot(*window.session);
  ready(robot);
  for (int step = 0; step < 120 && !all_green(window); ++step) {
    window.clock.pass(5'000);
    if (!robot.step()) return;
    window.settle();
  }
}

}  // namespace kp::test
