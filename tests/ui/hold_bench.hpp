#pragma once
// One hold button on a screen of its own, and what can be done to it.

#include <string>

#include "ui/driver.hpp"
#include "ui/frame.hpp"
#include "ui/kit.hpp"

namespace kp::test {

inline constexpr std::string_view kHold = "Hold: springs unhooked";
inline constexpr std::string_view kAgain = "Press again: springs unhooked";

struct HoldBench {
  int held = 0;
  bool enabled = true;
  bool covered = false;     ///< a sheet lies over the card
  bool away = false;        ///< the card is not drawn at all
  double from_ms = 0;
  std::string step = "step-1";
  Driver driver;

  HoldBench() : driver([this](ui::Ui& screen) { draw(screen); }) {}

  void draw(ui::Ui& screen) {
    const auto foot = [&] {
      if (away) return;
      ui::Hold spec;
      spec.label = kHold;
      spec.key = step;
      spec.enabled = enabled;
      spec.from_ms = from_ms;
      if (ui::hold(screen, spec)) {
        ++held;
        step = "step-" + std::to_string(held + 1);
      }
    };
    const auto content = [&] { ui::words(screen, ui::type::kText, screen.colors().ink, "The plan."); };
    ui::Sheet sheet;
    sheet.title = "Plan";
    sheet.content = content;
    ui::Screen spec;
    spec.name = "bench";
    spec.has_strip = false;
    spec.foot = foot;
    if (covered) spec.sheet = &sheet;
    (void)ui::screen(screen, spec);
  }
  [[nodiscard]] ui::Vec at() { return driver.find(ui::Role::button, kHold)->box.centre(); }
  [[nodiscard]] ui::Id id() { return driver.find(ui::Role::button, kHold)->id; }
  void press() { driver.send(ui::EventKind::down, at()); }
  void lift() {
    driver.send(ui::EventKind::up, at());
    driver.run();
  }
  void focus() { driver.front.ui.set_focus(id()); }
  void press_for(ui::Key key, double ms) {
    driver.key(key, true);
    driver.wait(ms);
    driver.key(key, false);
    driver.run();
  }
};

}  // namespace kp::test
