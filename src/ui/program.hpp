#pragma once

#include "ui/ui.hpp"

namespace kp::ui {

/// What a platform runs. The platform owns window, loop and clock; the program owns the facts.
class Program {
 public:
  virtual ~Program() = default;
  /// Takes what finished outside. Called before every frame, and by timer while nothing can be
  /// drawn. Milliseconds until it wants to be called again; below 0: only when something happens.
  virtual double think() = 0;
  /// One frame.
  virtual void draw(Ui& ui) = 0;
  /// The screen went off or the page was hidden, or came back.
  virtual void set_hidden(bool) {}
  /// The phone's back key. True when it closed something; false lets the page go.
  virtual bool back() { return false; }
};

}  // namespace kp::ui
