#pragma once
// A technician made of rules: looks at the snapshot, does the one thing that the card asks for.
// It knows no stage, so that what it can do, a person can find.

#include <map>
#include <string>

#include "app/session.hpp"

namespace kp::test {

class Robot {
 public:
  explicit Robot(app::Session& session) : session_(&session) {}

  /// Readings by the field's id where the middle of the band is not wanted.
  std::map<std::string, double> readings;
  /// Row to choose by its list: "complaint" -> "wet-and-cold".
  std::map<std::string, std::string> choices;

  /// Does one thing. False: the card offers nothing that the robot may do.
  bool step() {
    const app::Snapshot snapshot = session_->snapshot();
    const app::Card& card = snapshot.card;
    last = card.id;
    for (const app::CheckBox& box : card.checks) {
      if (!box.ticked) {
        session_->act(box.tap);
        return true;
      }
    }
    fill_words(card);
    if (card.number.has_value()) {
      return enter(card.number.value());
    }
    if (card.signature) {
      app::Action sign = card.primary.value().action;
      sign.strokes = {0.1, 0.5, 0.4, 0.2, 0.8, 0.6, -1, -1};
      session_->act(sign);
      return true;
    }
    return press(snapshot, card);
  }

  std::string last;

 private:
  void fill_words(const app::Card& card) {
    for (const app::TextField& field : card.texts) {
      if (field.value.empty()) {
        app::Action typed = field.changed;
        typed.text = "A1";
        session_->act(typed);
      }
    }
  }

  bool enter(const app::NumberField& field) {
    const auto wanted = readings.find(field.id);
    app::Action entered = field.entered;
    entered.value = wanted != readings.end() ? wanted->second
                                             : (field.band_low + field.band_high) / 2;
    session_->act(entered);
    return true;
  }

  bool press(const app::Snapshot& before, const app::Card& card) {
    if (!card.primary.has_value() || !card.primary->enabled) {
      for (const app::Row& row : before.rows) {
        const bool wanted = choices.empty() || choices.count(row.id) != 0;
        if (row.tap.has_value() && row.mark == app::Mark::choice && wanted) {
          session_->act(row.tap.value());
          return true;
        }
      }
    }
    // Typing may have changed the card, so the button is taken anew.
    const app::Card now = session_->snapshot().card;
    if (now.primary.has_value() && now.primary->enabled) {
      session_->act(now.primary->action);
      return true;
    }
    return false;
  }

  app::Session* session_;
};

}  // namespace kp::test
