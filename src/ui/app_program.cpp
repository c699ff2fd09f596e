#include "ui/app_program.hpp"

#include <utility>

namespace kp::ui {

AppProgram::AppProgram(app::Content content, app::Outside outside)
    : session_(std::move(content), outside) {}

double AppProgram::think() {
  (void)session_.poll();
  return static_cast<double>(session_.next_change_ms());
}

void AppProgram::act(const Actions& actions) {
  for (const app::Action& action : actions) session_.act(action);
}

void AppProgram::draw(Ui& ui) {
  Actions actions;
  view_.draw(ui, session_.snapshot(), session_.content().drawings, actions);
  if (actions.empty()) return;
  act(actions);
  ui.when.now();
}

bool AppProgram::back() {
  Actions actions;
  const bool closed = view_.back(session_.snapshot(), actions);
  act(actions);
  return closed;
}

}  // namespace kp::ui
