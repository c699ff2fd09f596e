#pragma once
// A technician made of rules: looks at the snapshot, does the one thing that the card asks for.
// It knows no stage, so that what it can do, a person can find.

#include <algorithm>
#include <map>
#include <string>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/bind_circuit.hpp"

namespace kp::test {

class Robot {
 public:
  explicit Robot(app::Session& session) : session_(&session) {}

  /// Readings by the field's id where the middle of the band is not wanted.
  std::map<std::string, double> readings;
  /// The fault in the machine, by its id in the pack: tests of the Find stage show it. Empty: none.
  std::string fault;
  /// Row to choose by its list: "complaint" -> "wet-and-cold".
  std::map<std::string, std::string> choices;

  /// Does one thing. False: the card offers nothing that the robot may do.
  bool step() {
    const app::Snapshot snapshot = session_->snapshot();
    const app::Card& card = snapshot.card;
    last = card.id;
    for (const app::CheckBox& box : card.checks) {
      if (!box.ticked) {
        here().taps += 1;
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
  /// What a person's hands would have done, by stage.
  struct Did {
    int holds = 0, taps = 0, readings = 0, words = 0;
  };
  std::map<std::string, Did> did;

 private:
  Did& here() { return did[std::string(job::stage_word(session_->state().stage))]; }

  void fill_words(const app::Card& card) {
    for (const app::TextField& field : card.texts) {
      if (field.value.empty()) {
        app::Action typed = field.changed;
        typed.text = "A1";
        here().words += 1;
        session_->act(typed);
      }
    }
  }

  [[nodiscard]] const job::Model& model() const {
    return session_->content().library.models[to_size(session_->state().model)];
  }
  [[nodiscard]] const pack::Test* test_of(const std::string& id) const {
    const int index = model().pack.test(id);
    return index < 0 ? nullptr : &model().pack.tests[to_size(index)];
  }
  /// Whether the machine's fault shows in a test that has a table.
  [[nodiscard]] bool shows(const pack::Test& test) const {
    const int wanted = model().pack.fault(fault);
    return std::any_of(test.shows.begin(), test.shows.end(),
                       [&](const pack::Shows& one) { return one.fault == wanted && one.chance >= 0.5; });
  }

  /// What the meter shows in a machine with that fault.
  bool measure(const app::NumberField& field, const pack::Test& test) {
    app::Action entered = field.entered;
    if (test.on_circuit()) {
      const int index = model().pack.fault(fault);
      const circuit::Reading shown =
          job::reading_of(model().pack, model().netlist, test,
                          index < 0 ? std::vector<int>{} : std::vector<int>{index});
      if (shown.state == circuit::State::over) {
        session_->act(field.entered_open_loop);
        return true;
      }
      entered.value = shown.value;
    } else {
      entered.value = shows(test) ? field.least : (field.band_low + field.band_high) / 2;
    }
    session_->act(entered);
    return true;
  }

  bool enter(const app::NumberField& field) {
    here().readings += 1;
    if (field.id.rfind("test-", 0) == 0) {
      if (const pack::Test* test = test_of(field.id.substr(5))) return measure(field, *test);
    }
    const auto wanted = readings.find(field.id);
    app::Action entered = field.entered;
    entered.value = wanted != readings.end() ? wanted->second
                                             : (field.band_low + field.band_high) / 2;
    session_->act(entered);
    return true;
  }

  bool press(const app::Snapshot& before, const app::Card& card) {
    if (card.primary.has_value() && !card.primary->enabled && card.primary->detail.rfind("in ", 0) == 0) {
      return true;   // waits: the button says how long
    }
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
    if (now.primary.has_value() && now.primary->action.verb == app::Verb::test_looked) {
      const pack::Test* test = test_of(now.primary->action.id);
      (now.primary->hold ? here().holds : here().taps) += 1;
      session_->act(test != nullptr && shows(*test) ? now.secondary.front().action
                                                    : now.primary->action);
      return true;
    }
    if (now.primary.has_value() && now.primary->enabled) {
      (now.primary->hold ? here().holds : here().taps) += 1;
      session_->act(now.primary->action);
      return true;
    }
    return false;
  }

  app::Session* session_;
};

}  // namespace kp::test
