#pragma once
// Drives the screen without a screen: a clock of its own, fingers, keys, widgets found by role and
// name. A widget that is out of sight or out of reach cannot be tapped, as by a person.

#include <functional>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "ui/front.hpp"

namespace kp::test {

class Driver {
 public:
  using Draw = std::function<void(ui::Ui&)>;

  explicit Driver(Draw draw, ui::Vec size = ui::Vec{390, 844}) : draw_(std::move(draw)) {
    surface.size = size;
    surface.dpr = 1;
    frame();
    settle();
  }

  ui::Front front;
  ui::Surface surface;
  double ms = 1000;
  double step_ms = 16;
  int frames = 0;
  ui::When when;

  void frame() {
    (void)front.prepare(surface);
    when = front.frame(ms, surface, [this](ui::Ui& ui) { draw_(ui); });
    ++frames;
  }

  /// Frames until none is asked for at once; at most 400.
  void settle() {
    for (int i = 0; i < 400 && when.kind == ui::When::Kind::now; ++i) {
      ms += step_ms;
      frame();
    }
  }

  /// Lets time pass with the frames that are asked for.
  void wait(double for_ms) {
    const double end = ms + for_ms;
    while (ms < end) {
      ms = std::min(end, ms + step_ms);
      frame();
    }
  }

  void send(ui::EventKind kind, ui::Vec at, int pointer = 1,
            ui::PointerKind device = ui::PointerKind::touch) {
    ui::Event event;
    event.kind = kind;
    event.at = at;
    event.ms = ms;
    event.pointer = pointer;
    event.device = device;
    front.push(event);
  }

  void key(ui::Key key, bool down, bool shift = false) {
    ui::Event event;
    event.kind = down ? ui::EventKind::key_down : ui::EventKind::key_up;
    event.key = key;
    event.shift = shift;
    event.ms = ms;
    front.push(event);
  }
  void press_key(ui::Key which, bool shift = false) {
    key(which, true, shift);
    key(which, false, shift);
    run();
  }
  void type(std::string_view text) {
    ui::Event event;
    event.kind = ui::EventKind::text;
    event.text = std::string(text);
    event.ms = ms;
    front.push(event);
    run();
  }

  /// One frame for what was sent, then on until still.
  void run() {
    ms += step_ms;
    frame();
    settle();
  }

  const ui::Semantic* find(ui::Role role, std::string_view name) const {
    return front.ui.semantics.find(role, name);
  }
  bool has(ui::Role role, std::string_view name) const { return find(role, name) != nullptr; }

  /// Down and up in the same millisecond, with no frame between. False when it cannot be reached.
  bool tap(ui::Role role, std::string_view name) {
    const ui::Semantic* item = find(role, name);
    if (item == nullptr || !item->visible || !item->enabled) return false;
    tap_at(item->box.centre());
    return true;
  }
  void tap_at(ui::Vec at) {
    send(ui::EventKind::down, at);
    send(ui::EventKind::up, at);
    run();
  }
  /// Presses a hold button for that long.
  bool hold(std::string_view name, double for_ms = 900) {
    const ui::Semantic* item = find(ui::Role::button, name);
    if (item == nullptr || !item->visible || !item->enabled) return false;
    const ui::Vec at = item->box.centre();
    send(ui::EventKind::down, at);
    wait(for_ms);
    send(ui::EventKind::up, at);
    run();
    return true;
  }
  /// Down and up on an item's real element, as the text form of the page sends it.
  void press_element(ui::Role role, std::string_view name, double for_ms) {
    const ui::Semantic* item = find(role, name);
    REQUIRE(item != nullptr);
    const ui::Id id = item->id;
    const ui::Vec at = item->box.centre();
    element(ui::EventKind::down, id, at);
    wait(for_ms);
    element(ui::EventKind::up, id, at);
    run();
  }
  void element(ui::EventKind kind, ui::Id id, ui::Vec at) {
    ui::Event event;
    event.kind = kind;
    event.id = id;
    event.at = at;
    event.ms = ms;
    event.pointer = 1;
    event.device = ui::PointerKind::touch;
    front.push(event);
  }
  /// A click by an assistive tool.
  bool assist(ui::Role role, std::string_view name) {
    const ui::Semantic* item = find(role, name);
    if (item == nullptr) return false;
    ui::Event event;
    event.kind = ui::EventKind::activate;
    event.id = item->id;
    event.ms = ms;
    front.push(event);
    run();
    return true;
  }
  void drag(ui::Vec from, ui::Vec to, int steps = 10) {
    send(ui::EventKind::down, from);
    run_one();
    for (int i = 1; i <= steps; ++i) {
      const float share = static_cast<float>(i) / static_cast<float>(steps);
      ms += step_ms;
      send(ui::EventKind::move, from + (to - from) * share);
      frame();
    }
    send(ui::EventKind::up, to);
    run();
  }
  void run_one() {
    ms += step_ms;
    frame();
    ms += step_ms;
    frame();
  }

 private:
  Draw draw_;
};

}  // namespace kp::test
