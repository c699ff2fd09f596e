#include "ui/app_program.hpp"

#include <utility>

namespace kp::ui {

namespace {

void take_preferences(Ui& ui, const app::Preferences& wanted) {
  const Taste before = ui.taste;
  ui.taste.theme = wanted.look == "day"     ? ThemeKind::day
                   : wanted.look == "night" ? ThemeKind::night
                   : wanted.look == "sun"   ? ThemeKind::sun
                                            : ui.surface().theme;
  if (!wanted.text.empty()) {
    ui.taste.text_percent = wanted.text == "170" ? 170 : 130;
  } else {
    ui.taste.text_percent = ui.surface().text_percent;
  }
  ui.taste.two_step = wanted.confirm == "two-step";
  ui.taste.gloves = wanted.touch == "gloves";
  if (!(ui.taste == before)) ui.when.now();   // background and fonts come with the next frame
}

}  // namespace

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
  take_preferences(ui, session_.snapshot().preferences);
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
