// The button that is pressed and held. It tells the gesture what pointer and keys did, each with
// its own time, and paints what the gesture says; it decides nothing by frames.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "ui/button_label.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {
namespace {

constexpr int kHoldSpot = 0;
constexpr int kFirstSpot = 1;
constexpr int kSecondSpot = 2;

// Who goes to the second button by ear or by Tab needs longer than a finger.
ConfirmPolicy policy() {
  ConfirmPolicy out;
  out.second_within_ms = 20'000;
  return out;
}

std::int64_t whole_ms(double ms) { return static_cast<std::int64_t>(std::llround(ms)); }

bool waits_for_second(ConfirmPhase phase) {
  return phase == ConfirmPhase::first_done || phase == ConfirmPhase::second_down;
}

bool confirms(Key key) { return key == Key::space || key == Key::enter; }

/// One hold button in one frame.
class Hand {
 public:
  Hand(Ui& ui, const Hold& spec, Id id, Gesture& gesture)
      : ui_(ui), in_(ui.in()), spec_(spec), id_(id), gesture_(gesture) {}

  /// Tells the gesture what happened; true when it was confirmed.
  bool feel(const Felt& felt, Box box) {
    if (began_too_soon()) gesture_.machine.reset();
    feel_pointer(felt, box);
    feel_keys();
    if (in_.activate == id_) tap(in_.activate_ms, in_.activate_ms);
    return take();
  }
  /// The second button of the alternative was pressed.
  bool second(Press press) {
    tell(Touch::press, press.from_ms, kSecondSpot);
    tell(Touch::release, press.to_ms, kSecondSpot);
    return take();
  }
  [[nodiscard]] ConfirmPhase phase() const { return gesture_.machine.phase(whole_ms(in_.ms)); }

 private:
  bool take() {
    if (phase() != ConfirmPhase::confirmed) return false;
    gesture_.machine.reset();
    ui_.cancel_active();
    return true;
  }
  void tell(Touch touch, double ms, int spot) {
    (void)gesture_.machine.on(TouchEvent{touch, whole_ms(ms), spot});
  }
  // A press that began before this card stood here as it does was meant for something else.
  [[nodiscard]] bool began_too_soon() const {
    return phase() != ConfirmPhase::idle &&
           static_cast<double>(gesture_.machine.began_ms()) < spec_.from_ms;
  }
  // A short press that asks for the second one.
  void tap(double from_ms, double to_ms) {
    if (from_ms < spec_.from_ms) return;
    tell(Touch::press, from_ms, kFirstSpot);
    tell(Touch::release, to_ms, kFirstSpot);
    ui_.when.now();
  }

  void feel_pointer(const Felt& felt, Box box) {
    if (ui_.active() != id_) {
      // The pointer was taken by something else: a drag, another finger, a part that went away.
      if (gesture_.key == Key::none && phase() != ConfirmPhase::idle && !waits_for_second(phase())) {
        tell(Touch::cancel, in_.ms, kHoldSpot);
      }
      return;
    }
    const bool two_step = ui_.taste.two_step;
    if (in_.pressed && in_.press_ms >= spec_.from_ms) {
      gesture_.key = Key::none;
      if (!two_step) tell(Touch::press, in_.press_ms, kHoldSpot);
    }
    for (const Sample& move : in_.moves) {
      const bool off = in_.press_item == 0 && !box.contains(move.at);
      if (off && !two_step) tell(Touch::move_out, move.ms, kHoldSpot);
    }
    if (!in_.released) return;
    if (two_step) {
      if (felt.clicked) tap(in_.press_ms, in_.release_ms);
      return;
    }
    const bool was_held = phase() == ConfirmPhase::holding;
    tell(felt.clicked ? Touch::release : Touch::cancel, in_.release_ms, kHoldSpot);
    // A real element is for those who cannot hold, too: a short press on it asks again.
    if (felt.clicked && was_held && in_.press_item == id_ && phase() == ConfirmPhase::idle) {
      tap(in_.press_ms, in_.release_ms);
    }
  }

  void feel_keys() {
    const bool mine = ui_.focus() == id_;
    for (const KeyPress& key : in_.keys) {
      if (!confirms(key.key)) continue;
      if (key.down) {
        if (!mine || key.ms < spec_.from_ms) continue;
        gesture_.key = key.key;
        gesture_.key_ms = key.ms;
        tell(Touch::press, key.ms, kHoldSpot);
      } else if (gesture_.key == key.key) {
        lift(key, mine);
      }
    }
    const bool down = gesture_.key == Key::space ? in_.key_space : in_.key_enter;
    if (gesture_.key != Key::none && (!mine || !down)) let_go_of_key();
  }
  void lift(const KeyPress& key, bool mine) {
    gesture_.key = Key::none;
    if (!mine) {
      tell(Touch::cancel, key.ms, kHoldSpot);
      return;
    }
    const bool was_held = phase() == ConfirmPhase::holding || phase() == ConfirmPhase::let_go;
    tell(Touch::release, key.ms, kHoldSpot);
    if (was_held && key.ms - gesture_.key_ms < policy().hold_ms) tap(gesture_.key_ms, key.ms);
  }
  void let_go_of_key() {
    gesture_.key = Key::none;
    tell(Touch::cancel, in_.ms, kHoldSpot);
  }

  Ui& ui_;
  const FrameInput& in_;
  const Hold& spec_;
  Id id_;
  Gesture& gesture_;
};

// "Hold: springs unhooked" asks again as "Press again: springs unhooked".
std::string second_label(const Hold& spec) {
  if (!spec.done.empty()) return cat("Press again: ", spec.done);
  const std::size_t colon = spec.label.find(": ");
  return cat("Press again: ",
             spec.label.substr(colon == std::string_view::npos ? 0 : colon + 2));
}

enum class Second { none, pressed, cancelled };

// The second step stands above the button, at the side of the column, not under the finger.
Second second_step(Ui& ui, const Hold& spec) {
  Second out = Second::none;
  const std::string label = second_label(spec);
  const std::string key = cat(spec.key, "/again");
  const std::string no = cat(spec.key, "/no");
  ui.columns({3, 1}, 8, [&](int column) {
    if (column == 0) {
      if (button(ui, Button{.label = label, .key = key, .look = Button::Look::outline,
                            .height = 56})) {
        out = Second::pressed;
      }
    } else if (button(ui, Button{.label = "Cancel", .key = no,
                                 .look = Button::Look::quiet, .height = 56})) {
      out = Second::cancelled;
    }
  });
  ui.gap(10);
  return out;
}

std::string_view hint_of(const Ui& ui, const Hold& spec, ConfirmPhase phase) {
  if (spec.busy) return "saving";
  if (phase == ConfirmPhase::let_go) return "lift to confirm";
  if (!spec.hint.empty()) return spec.hint;
  if (ui.taste.two_step) return "press, then press again";
  if (ui.surface().shown == Shown::text) return "press and hold, or press twice";
  return ui.surface().size.x >= metric::kThreePanes ? "or hold the space bar"
                                                    : "slide off to cancel";
}

void paint(Ui& ui, const Hold& spec, Box box, bool on, float share, std::string_view hint) {
  const Palette& c = ui.colors();
  ui.fill(box, on ? c.touch : c.off_fill, metric::kRadius);
  if (share > 0) {
    ui.clip(Box{box.x, box.y, box.w * share, box.h});
    ui.fill(box, c.touch_deep, metric::kRadius);
    ui.unclip();
  }
  draw_label(ui, box, type::kTitle, on ? c.on_touch : c.off_text, spec.label, hint);
}

// The next picture: while the bar fills, and when time alone changes it.
void ask_for_frames(Ui& ui, const ConfirmMachine& machine, ConfirmPhase phase) {
  if (phase == ConfirmPhase::holding) ui.when.now();
  const std::int64_t next = machine.changes_ms(whole_ms(ui.in().ms));
  if (next >= 0) ui.when.at(static_cast<double>(next));
}

}  // namespace

bool hold(Ui& ui, const Hold& spec) {
  const Id id = ui.make_id(Role::button, spec.label, spec.key);
  const bool on = spec.enabled && !spec.busy;
  const bool live = on && !ui.inert() && ui.surface().shown != Shown::nothing;
  const std::int64_t now = whole_ms(ui.in().ms);
  const Gesture* known = live ? ui.known_gesture(id) : nullptr;
  const ConfirmPhase before = known == nullptr ? ConfirmPhase::idle : known->machine.phase(now);
  Second second = Second::none;
  if (waits_for_second(before)) second = second_step(ui, spec);
  const Press second_press = ui.fired();
  if (!spec.enabled && !spec.why_not.empty()) {
    words(ui, type::kLine, ui.colors().ink, spec.why_not, Role::status);
    ui.gap(8);
  }
  const std::string_view hint = hint_of(ui, spec, before);
  const Box box = ui.take(label_height(ui, type::kTitle, spec.label, hint,
                                       ui.surface().size.y < 640 ? 64 : metric::kHold));
  Semantic item;
  item.id = id;
  item.role = Role::button;
  item.name = std::string(spec.label);
  item.box = box;
  item.press = Pressing::hold;
  item.hint = std::string(hint);
  item.enabled = on;
  item.busy = spec.busy;
  ui.slot(id).flag = true;   // a drag that begins here does not scroll
  const Felt felt = ui.feel(std::move(item));
  if (!ui.painting()) return false;
  bool confirmed = false;
  float share = 0;
  if (live) {
    Gesture& gesture = ui.gesture(id, policy());
    Hand hand(ui, spec, id, gesture);
    if (second == Second::pressed) confirmed = hand.second(second_press);
    if (second == Second::cancelled) gesture.machine.reset();
    confirmed = hand.feel(felt, box) || confirmed;
    const ConfirmPhase after = hand.phase();
    if (waits_for_second(after) && !waits_for_second(before)) ui.announce(second_label(spec));
    if (waits_for_second(after) != waits_for_second(before)) ui.when.now();
    share = waits_for_second(after) ? 0 : static_cast<float>(gesture.machine.progress(now));
    ask_for_frames(ui, gesture.machine, after);
  }
  paint(ui, spec, box, on, share, hint);
  if (felt.focused) draw_focus(ui, box, metric::kRadius);
  return confirmed;
}

}  // namespace kp::ui
