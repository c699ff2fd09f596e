// The hold button under fingers and mice. What happened is decided by the events' own times; the
// gesture alone is tested in confirm_test.
#include <string>
#include <vector>

#include "ui/hold_bench.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::kHold;
using Bench = kp::test::HoldBench;

namespace {

/// What a finger did, with the times of the events themselves.
struct Told {
  EventKind kind;
  double after_ms;
  Vec off;               ///< from the button's middle
  int pointer = 1;
  PointerKind device = PointerKind::touch;
};

/// Plays the events with a frame every `frame_ms`; without any (0), all are told before the first.
int confirmed_with(const std::vector<Told>& story, double frame_ms) {
  Bench bench;
  const Vec at = bench.at();
  const double begin = bench.driver.ms;
  for (const Told& one : story) {
    const double when = begin + one.after_ms;
    while (frame_ms > 0 && bench.driver.ms + frame_ms < when) {
      bench.driver.ms += frame_ms;
      bench.driver.frame();
    }
    bench.driver.ms = when;
    bench.driver.send(one.kind, at + one.off, one.pointer, one.device);
  }
  bench.driver.ms += std::max(16.0, frame_ms);
  bench.driver.frame();
  bench.driver.settle();
  return bench.held;
}

}  // namespace

TEST_CASE("hold: a tap confirms nothing; a hold confirms once, when the finger lifts") {
  Bench bench;
  CHECK(bench.driver.tap(Role::button, kHold));
  CHECK(bench.held == 0);
  CHECK(bench.driver.hold(kHold, 690));
  CHECK(bench.held == 0);
  bench.press();
  bench.driver.wait(2500);
  CHECK(bench.held == 0);
  CHECK(bench.driver.find(Role::button, kHold)->hint == "lift to confirm");
  bench.lift();
  CHECK(bench.held == 1);
}

TEST_CASE("hold: a wet cloth confirms nothing, neither while it lies nor when it is taken away") {
  Bench bench;
  bench.press();
  bench.driver.wait(5'200);
  CHECK(bench.driver.find(Role::button, kHold)->hint != "lift to confirm");
  bench.lift();
  CHECK(bench.held == 0);
  CHECK(bench.driver.hold(kHold));
  CHECK(bench.held == 1);
}

TEST_CASE("hold: the same events give the same result, whatever frames are drawn between them") {
  const EventKind down = EventKind::down;
  const EventKind up = EventKind::up;
  const EventKind move = EventKind::move;
  struct Case {
    const char* what;
    int wanted;
    std::vector<Told> story;
  };
  const std::vector<Case> cases = {
      {"699 ms", 0, {{down, 0, {}}, {up, 699, {}}}},
      {"700 ms", 1, {{down, 0, {}}, {up, 700, {}}}},
      {"5 s", 1, {{down, 0, {}}, {up, 5'000, {}}}},
      {"over 5 s", 0, {{down, 0, {}}, {up, 5'010, {}}}},
      {"a thumb that rolls", 1, {{down, 0, {}}, {move, 300, {6, 4}}, {up, 900, {6, 4}}}},
      {"off and back", 0, {{down, 0, {}}, {move, 300, {0, -90}}, {move, 310, {}}, {up, 900, {}}}},
      {"lifted beside it", 0, {{down, 0, {}}, {up, 900, {0, -90}}}},
      {"cancelled", 0, {{down, 0, {}}, {EventKind::cancel, 800, {}}, {up, 900, {}}}},
      {"window left", 0, {{down, 0, {}}, {EventKind::lost, 400, {}}, {up, 900, {}}}},
      {"a second finger", 0, {{down, 0, {}}, {down, 300, {20, 0}, 2}, {up, 400, {20, 0}, 2}, {up, 900, {}}}},
      {"a mouse beside the finger", 0,
       {{down, 0, {}}, {down, 300, {0, -200}, 9, PointerKind::mouse},
        {up, 320, {0, -200}, 9, PointerKind::mouse}, {up, 900, {}}}},
      {"two short ones", 0, {{down, 0, {}}, {up, 400, {}}, {down, 500, {}}, {up, 900, {}}}},
  };
  for (const Case& one : cases) {
    CAPTURE(one.what);
    for (const double frame_ms : {4.0, 16.0, 50.0, 130.0, 400.0, 1000.0, 0.0}) {
      CAPTURE(frame_ms);
      CHECK(confirmed_with(one.story, frame_ms) == one.wanted);
    }
  }
}

TEST_CASE("hold: a late frame does not make a long press of a short one") {
  Bench bench;
  bench.press();
  bench.driver.ms += 200;
  bench.driver.send(EventKind::up, bench.at());
  bench.driver.ms += 3000;
  bench.driver.frame();
  bench.driver.settle();
  CHECK(bench.held == 0);
}

TEST_CASE("hold: an event that is told after a later frame keeps its own time") {
  Bench bench;
  bench.press();
  bench.driver.wait(720);
  const double lifted = bench.driver.ms - 5;   // the device's time is older than the frame's
  Event event;
  event.kind = EventKind::up;
  event.at = bench.at();
  event.ms = lifted;
  event.pointer = 1;
  event.device = PointerKind::touch;
  bench.driver.front.push(event);
  bench.driver.run();
  CHECK(bench.held == 1);
}

TEST_CASE("hold: a press that began before the card stood as it does counts for nothing") {
  Bench bench;
  bench.from_ms = bench.driver.ms + 350;
  bench.press();
  bench.driver.wait(1'000);
  bench.lift();
  CHECK(bench.held == 0);
  CHECK(bench.driver.hold(kHold));
  CHECK(bench.held == 1);
  // Likewise when its words change under the finger.
  bench.press();
  bench.driver.wait(500);
  bench.from_ms = bench.driver.ms;
  bench.driver.wait(500);
  bench.lift();
  CHECK(bench.held == 1);
}

TEST_CASE("hold: the finger that confirmed a step does not begin the next one") {
  Bench bench;
  CHECK(bench.driver.hold(kHold, 900));
  CHECK(bench.held == 1);
  bench.driver.wait(2'000);
  CHECK(bench.held == 1);
}

TEST_CASE("hold: what is not drawn is not held: under a sheet, gone for a moment, hidden") {
  for (const int how : {0, 1, 2}) {
    CAPTURE(how);
    for (const bool by_key : {false, true}) {
      CAPTURE(by_key);
      Bench bench;
      const Vec at = bench.at();
      bench.focus();
      bench.driver.run();
      if (by_key) {
        bench.driver.key(Key::space, true);
      } else {
        bench.driver.send(EventKind::down, at);
      }
      bench.driver.wait(400);
      const auto hide = [&](bool now) {
        if (how == 0) bench.covered = now;
        if (how == 1) bench.away = now;
        if (how == 2) bench.driver.surface.shown = now ? Shown::nothing : Shown::picture;
      };
      hide(true);
      bench.driver.ms += 16;
      bench.driver.frame();
      hide(false);
      bench.driver.wait(600);
      if (by_key) {
        bench.driver.key(Key::space, false);
      } else {
        bench.driver.send(EventKind::up, at);
      }
      bench.driver.run();
      CHECK(bench.held == 0);
    }
  }
}
