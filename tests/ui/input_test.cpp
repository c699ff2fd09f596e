// The event queue. The cases are the public faults of touch programs collected for this project
// (phone cases UI-01 to UI-05, UI-09, UI-10, UI-18, UI-25), stated as rules.
#include <doctest/doctest.h>

#include "ui/input.hpp"

using namespace kp::ui;

namespace {

Event pointer(EventKind kind, double ms, Vec at, PointerKind device = PointerKind::touch, int id = 1) {
  Event event;
  event.kind = kind;
  event.ms = ms;
  event.at = at;
  event.device = device;
  event.pointer = id;
  return event;
}

Event key(EventKind kind, double ms, Key which) {
  Event event;
  event.kind = kind;
  event.ms = ms;
  event.key = which;
  return event;
}

}  // namespace

TEST_CASE("a tap within one frame is place, press, release, away, in four frames") {
  Input input;
  input.push(pointer(EventKind::down, 10, Vec{50, 60}));
  input.push(pointer(EventKind::up, 10, Vec{50, 60}));
  const FrameInput place = input.begin_frame(16);
  CHECK(place.present);
  CHECK(place.at == Vec{50, 60});
  CHECK_FALSE(place.down);
  CHECK(input.pending());
  const FrameInput press = input.begin_frame(32);
  CHECK(press.pressed);
  CHECK(press.down);
  CHECK(input.pending());
  const FrameInput release = input.begin_frame(48);
  CHECK(release.released);
  CHECK_FALSE(release.cancelled);
  CHECK(release.present);
  CHECK(release.at == Vec{50, 60});
  CHECK(input.pending());
  const FrameInput away = input.begin_frame(64);
  CHECK_FALSE(away.present);
  CHECK_FALSE(away.released);
  CHECK_FALSE(input.pending());
}

TEST_CASE("fifty taps without a frame between them are fifty presses") {
  Input input;
  for (int i = 0; i < 50; ++i) {
    const Vec at{static_cast<float>(10 + 5 * (i % 7)), 40};
    input.push(pointer(EventKind::down, i, at));
    input.push(pointer(EventKind::up, i, at));
  }
  int presses = 0;
  int releases = 0;
  double ms = 100;
  while (input.pending()) {
    const FrameInput& frame = input.begin_frame(ms += 150);
    CHECK_FALSE((frame.pressed && frame.released));
    presses += frame.pressed ? 1 : 0;
    releases += frame.released ? 1 : 0;
  }
  CHECK(presses == 50);
  CHECK(releases == 50);
}

TEST_CASE("a mouse stays where it is after a click") {
  Input input;
  input.push(pointer(EventKind::move, 1, Vec{30, 30}, PointerKind::mouse));
  (void)input.begin_frame(16);
  input.push(pointer(EventKind::down, 17, Vec{30, 30}, PointerKind::mouse));
  CHECK(input.begin_frame(32).pressed);
  input.push(pointer(EventKind::up, 33, Vec{30, 30}, PointerKind::mouse));
  CHECK(input.begin_frame(48).released);
  CHECK(input.begin_frame(64).present);
}

TEST_CASE("the frame's time does not pass an event that waits") {
  Input input;
  input.push(pointer(EventKind::down, 100, Vec{5, 5}));
  input.push(pointer(EventKind::up, 300, Vec{5, 5}));
  CHECK(input.begin_frame(2000).ms == doctest::Approx(100));
  const FrameInput press = input.begin_frame(2016);
  CHECK(press.pressed);
  CHECK(press.press_ms == doctest::Approx(100));
  CHECK(press.ms == doctest::Approx(300));
  CHECK(input.begin_frame(2032).release_ms == doctest::Approx(300));
}

TEST_CASE("an interruption releases far away and leaves a clean next tap") {
  for (const EventKind how : {EventKind::cancel, EventKind::lost}) {
    CAPTURE(static_cast<int>(how));
    Input input;
    input.push(pointer(EventKind::down, 1, Vec{9, 9}));
    (void)input.begin_frame(16);
    CHECK(input.begin_frame(32).down);
    input.push(pointer(how, 33, Vec{9, 9}));
    const FrameInput gone = input.begin_frame(48);
    CHECK(gone.released);
    CHECK(gone.cancelled);
    CHECK_FALSE(gone.present);
    CHECK_FALSE(gone.down);
    (void)input.begin_frame(64);
    input.push(pointer(EventKind::down, 65, Vec{70, 70}));
    (void)input.begin_frame(80);
    CHECK(input.begin_frame(96).pressed);
  }
}

TEST_CASE("losing the focus lets go of keys") {
  Input input;
  input.push(key(EventKind::key_down, 1, Key::space));
  CHECK(input.begin_frame(16).key_space);
  Event lost;
  lost.kind = EventKind::lost;
  input.push(lost);
  CHECK_FALSE(input.begin_frame(32).key_space);
}

TEST_CASE("a held key that repeats presses once") {
  Input input;
  int downs = 0;
  for (int i = 0; i < 5; ++i) {
    Event event = key(EventKind::key_down, i, Key::enter);
    event.repeat = i > 0;
    input.push(event);
  }
  for (int i = 0; i < 6; ++i) {
    for (const KeyPress& press : input.begin_frame(16.0 * i).keys) downs += press.down ? 1 : 0;
  }
  CHECK(downs == 1);
}

TEST_CASE("a second finger cancels the press and pinches, and nothing presses until both are up") {
  Input input;
  input.push(pointer(EventKind::down, 1, Vec{100, 100}, PointerKind::touch, 1));
  (void)input.begin_frame(16);
  CHECK(input.begin_frame(32).down);
  input.push(pointer(EventKind::down, 33, Vec{200, 100}, PointerKind::touch, 2));
  const FrameInput second = input.begin_frame(48);
  CHECK(second.cancelled);
  CHECK(second.pinching);
  input.push(pointer(EventKind::move, 50, Vec{300, 100}, PointerKind::touch, 2));
  const FrameInput pinch = input.begin_frame(64);
  CHECK(pinch.pinch_scale == doctest::Approx(2));
  CHECK(pinch.pinch_at.x == doctest::Approx(200));
  CHECK(pinch.pinch_by.x == doctest::Approx(50));
  input.push(pointer(EventKind::up, 66, Vec{300, 100}, PointerKind::touch, 2));
  input.push(pointer(EventKind::down, 67, Vec{300, 100}, PointerKind::touch, 3));
  CHECK_FALSE(input.begin_frame(80).down);
  CHECK_FALSE(input.begin_frame(96).down);
  input.push(pointer(EventKind::up, 97, Vec{300, 100}, PointerKind::touch, 3));
  input.push(pointer(EventKind::up, 98, Vec{100, 100}, PointerKind::touch, 1));
  (void)input.begin_frame(112);
  input.push(pointer(EventKind::down, 113, Vec{50, 50}, PointerKind::touch, 4));
  (void)input.begin_frame(128);
  CHECK(input.begin_frame(144).pressed);
}

TEST_CASE("a touch announced twice is one touch") {
  Input input;
  input.push(pointer(EventKind::down, 1, Vec{5, 5}));
  input.push(pointer(EventKind::down, 1, Vec{5, 5}));
  int presses = 0;
  for (int i = 0; i < 5; ++i) presses += input.begin_frame(16.0 * i).pressed ? 1 : 0;
  CHECK(presses == 1);
}

TEST_CASE("travel is the farthest distance of the press, back or not") {
  Input input;
  input.push(pointer(EventKind::down, 1, Vec{5, 5}));
  (void)input.begin_frame(16);
  (void)input.begin_frame(32);
  input.push(pointer(EventKind::move, 40, Vec{5, 25}));
  input.push(pointer(EventKind::move, 44, Vec{5, 6}));
  CHECK(input.begin_frame(48).travel == doctest::Approx(20));
}

TEST_CASE("time that stands still or runs backwards still gives a positive step") {
  Input input;
  CHECK(input.begin_frame(100).dt > 0);
  CHECK(input.begin_frame(100).dt >= 0.0001F);
  CHECK(input.begin_frame(50).dt >= 0.0001F);
  CHECK(input.begin_frame(90000).dt <= 0.1F);
}
