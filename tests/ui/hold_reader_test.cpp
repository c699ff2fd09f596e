// The hold button by keys, by a reader's clicks, by two presses and as a real element of the page.
#include <string>
#include <vector>

#include "ui/hold_bench.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::kHold;
using kp::test::kAgain;
using Bench = kp::test::HoldBench;

TEST_CASE("hold: where nothing is shown, no finger, key or reader confirms or presses") {
  Bench bench;
  const Vec at = bench.at();
  const Id id = bench.id();
  bench.focus();
  bench.driver.surface.shown = Shown::nothing;
  bench.driver.run();
  bench.driver.send(EventKind::down, at);
  bench.driver.wait(900);
  bench.driver.send(EventKind::up, at);
  bench.driver.run();
  bench.press_for(Key::space, 900);
  bench.press_for(Key::enter, 900);
  bench.driver.element(EventKind::down, id, at);
  bench.driver.wait(900);
  bench.driver.element(EventKind::up, id, at);
  bench.driver.run();
  CHECK(bench.driver.assist(Role::button, kHold));
  CHECK(bench.held == 0);
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
}

TEST_CASE("hold: as text the picture's place is dead, and the real element is held or pressed twice") {
  Bench bench;
  bench.driver.surface.shown = Shown::text;
  bench.driver.run();
  CHECK(bench.driver.hold(kHold, 900));   // on the blank canvas
  CHECK(bench.held == 0);
  bench.driver.press_element(Role::button, kHold, 900);
  CHECK(bench.held == 1);
  bench.driver.wait(400);
  bench.driver.press_element(Role::button, kHold, 60);
  CHECK(bench.held == 1);
  bench.driver.wait(400);
  CHECK(bench.driver.assist(Role::button, kAgain));
  CHECK(bench.held == 2);
}

TEST_CASE("hold: as text, a finger that leaves the element confirms nothing") {
  Bench bench;
  bench.driver.surface.shown = Shown::text;
  bench.driver.run();
  const Id id = bench.id();
  bench.driver.element(EventKind::down, id, bench.at());
  bench.driver.wait(500);
  bench.driver.element(EventKind::cancel, id, bench.at());
  bench.driver.wait(500);
  bench.driver.element(EventKind::up, id, bench.at());
  bench.driver.run();
  CHECK(bench.held == 0);
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
}

TEST_CASE("hold: an assistive click asks again at another place, and only that confirms") {
  Bench bench;
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
  CHECK(bench.driver.assist(Role::button, kHold));
  CHECK(bench.held == 0);
  const Semantic* again = bench.driver.find(Role::button, kAgain);
  REQUIRE(again != nullptr);
  CHECK(again->box.cut(bench.driver.find(Role::button, kHold)->box).empty());
  bench.driver.wait(400);
  CHECK(bench.driver.assist(Role::button, kAgain));
  CHECK(bench.held == 1);
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
}

TEST_CASE("hold: a second click that comes at once is a bounce, one that comes late is another's") {
  Bench bench;
  CHECK(bench.driver.assist(Role::button, kHold));
  bench.driver.ms += 40;
  CHECK(bench.driver.assist(Role::button, kAgain));
  CHECK(bench.held == 0);
  CHECK(bench.driver.assist(Role::button, kHold));
  CHECK(bench.driver.has(Role::button, kAgain));
  CHECK(bench.driver.when.kind == When::Kind::at);
  bench.driver.ms = bench.driver.when.ms;
  bench.driver.frame();
  bench.driver.settle();
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
}

TEST_CASE("hold: the second press can be taken back") {
  Bench bench;
  CHECK(bench.driver.assist(Role::button, kHold));
  CHECK(bench.driver.tap(Role::button, "Cancel"));
  CHECK_FALSE(bench.driver.has(Role::button, kAgain));
  CHECK(bench.held == 0);
}

TEST_CASE("hold: by Space or Enter held and lifted; a short one asks again, a long one is a cloth") {
  for (const Key key : {Key::space, Key::enter}) {
    Bench bench;
    bench.focus();
    bench.driver.run();
    bench.driver.key(key, true);
    bench.driver.wait(900);
    CHECK(bench.held == 0);
    bench.driver.key(key, false);
    bench.driver.run();
    CHECK(bench.held == 1);
    bench.driver.wait(400);   // the next step comes
    bench.focus();
    bench.driver.run();
    bench.press_for(key, 5'100);
    CHECK(bench.held == 1);
    CHECK_FALSE(bench.driver.has(Role::button, kAgain));
    bench.press_for(key, 100);
    CHECK(bench.held == 1);
    CHECK(bench.driver.has(Role::button, kAgain));
  }
}

TEST_CASE("hold: a key let go of because the window was left confirms nothing") {
  Bench bench;
  bench.focus();
  bench.driver.run();
  bench.driver.key(Key::space, true);
  bench.driver.wait(900);
  bench.driver.send(EventKind::lost, Vec{});
  bench.driver.run();
  bench.driver.key(Key::space, false);
  bench.driver.run();
  CHECK(bench.held == 0);
}

TEST_CASE("hold: Tab reaches it") {
  Bench bench;
  bool reached = false;
  for (int i = 0; i < 20 && !reached; ++i) {
    bench.driver.press_key(Key::tab);
    reached = bench.driver.front.ui.focus() == bench.id();
  }
  CHECK(reached);
}

TEST_CASE("hold: where a tap is wanted instead, it asks again") {
  Bench bench;
  bench.driver.front.ui.taste.two_step = true;
  CHECK(bench.driver.tap(Role::button, kHold));
  CHECK(bench.held == 0);
  bench.driver.wait(400);
  CHECK(bench.driver.tap(Role::button, kAgain));
  CHECK(bench.held == 1);
}

TEST_CASE("hold: a button that is off cannot be pressed, by finger, element or assistance") {
  Bench bench;
  bench.enabled = false;
  bench.driver.run();
  CHECK_FALSE(bench.driver.hold(kHold));
  bench.driver.press_element(Role::button, kHold, 900);
  CHECK(bench.driver.assist(Role::button, kHold));
  CHECK(bench.held == 0);
}
