#include "app/desk.hpp"

#include <utility>

#include "base/text.hpp"

namespace kp::app {

const job::Model* Desk::model() const {
  return state->model < 0 ? nullptr : &content->library.models[to_size(state->model)];
}

const pack::Pack* Desk::pack() const {
  const job::Model* bound = model();
  return bound == nullptr ? nullptr : &bound->pack;
}

job::Context Desk::context() const { return job::Context{&content->library, settings}; }

bool Desk::practice() const { return state->mode == job::Mode::practice; }

Action Desk::action(Verb verb, std::string id, std::string text) const {
  Action out;
  out.verb = verb;
  out.id = std::move(id);
  out.text = std::move(text);
  out.revision = revision;
  return out;
}

Button tap_button(std::string label, Action action) {
  Button out;
  out.label = std::move(label);
  out.action = std::move(action);
  return out;
}

Button hold_button(std::string label, Action action) {
  Button out = tap_button(cat("Hold: ", label), std::move(action));
  out.detail = "slide off to cancel";
  out.hold = true;
  return out;
}

void add_cautions(Card& card, const std::string& own, const std::vector<safety::Contact>& contacts,
                  bool power_dead) {
  const std::vector<safety::Caution> tags = safety::cautions_of(contacts, power_dead);
  if (own.empty()) {
    if (!tags.empty()) {
      card.cautions.push_back(tags.front());
    }
    return;
  }
  safety::Caution caution;
  caution.word = safety::worst_word(contacts, power_dead);
  if (caution.word == safety::SignalWord::notice) {
    caution.word = safety::SignalWord::caution;
  }
  caution.sentence = own;
  caution.wear = tags.empty() ? std::string() : tags.front().wear;
  card.cautions.push_back(std::move(caution));
}

Row row_of(std::string id, std::string title, Mark mark) {
  Row out;
  out.id = std::move(id);
  out.title = std::move(title);
  out.mark = mark;
  return out;
}

}  // namespace kp::app
