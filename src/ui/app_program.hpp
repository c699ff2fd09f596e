#pragma once

#include "app/session.hpp"
#include "ui/program.hpp"
#include "ui/view.hpp"

namespace kp::ui {

/// The tool itself: one session of the app behind the screens.
class AppProgram final : public Program {
 public:
  AppProgram(app::Content content, app::Outside outside);

  /// Asks the stores which jobs there are; with `demo` the demo job is opened at once.
  void start(bool demo) { session_.start(demo); }
  [[nodiscard]] app::Session& session() { return session_; }

  double think() override;
  void draw(Ui& ui) override;
  void set_hidden(bool hidden) override { session_.set_hidden(hidden); }
  bool back() override;

 private:
  void act(const Actions& actions);

  app::Session session_;
  View view_;
};

}  // namespace kp::ui
