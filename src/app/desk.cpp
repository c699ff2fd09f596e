#include "app/desk.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "job/bind_safety.hpp"

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

Action Desk::fact(safety::Fact said) const {
  Action out = action(Verb::fact);
  out.fact = std::move(said);
  return out;
}

safety::Ask Desk::ask(const safety::Demand& demand) const {
  return job::ask_of(*model(), *state, demand, now.by);
}

std::vector<safety::Todo> Desk::put_back(bool power, bool water) const {
  safety::Demand demand;
  demand.act = safety::Act::power_on;
  return safety::put_back(state->safety, power, water, ask(demand), clock(), law(),
                          job::supply_place(*model(), *state));
}

safety::Situation Desk::situation(const safety::Demand& demand) const {
  const safety::State& safe = state->safety;
  const safety::Policy& policy = settings->safety;
  safety::Situation out;
  out.dead = safety::supply_dead(safe, clock(), policy);
  out.discharged = out.dead;
  for (const safety::GroupAsked& asked : demand.groups) {
    out.dead = out.dead && safety::group_dead(safe, asked.place.id, clock(), policy);
    const safety::GroupProof* group = safe.group(asked.place.id);
    out.discharged = out.discharged &&
                     (!asked.charge || (group != nullptr && group->discharged.holds()));
  }
  out.water_off = safety::water_off(safe, clock(), policy);
  out.opens_wet = demand.opens_wet;
  const auto& cooled = safe.cooled_places;
  out.cooled = std::find(cooled.begin(), cooled.end(), demand.place) != cooled.end();
  out.secured = safe.secured.holds() && safe.secured_position == demand.position;
  return out;
}

void add_cautions(Card& card, const Desk& desk, const std::string& own,
                  const safety::Demand& demand) {
  constexpr std::size_t kMost = 2;
  card.cautions = safety::cautions_of(demand.contacts, desk.situation(demand));
  if (!own.empty()) {
    safety::Caution caution;
    caution.word = card.cautions.empty() ? safety::SignalWord::caution
                                         : std::max(card.cautions.front().word,
                                                    safety::SignalWord::caution);
    caution.sentence = own;
    if (!card.cautions.empty()) {
      caution.sign = card.cautions.front().sign;
    }
    card.cautions.insert(card.cautions.begin() + (card.cautions.empty() ? 0 : 1), caution);
  }
  if (card.cautions.size() > kMost) {
    card.cautions.resize(kMost);
  }
}

safety::State as_found(const safety::State& now) {
  safety::State out;
  out.prepared = now.prepared;
  out.connection = now.connection;
  out.system = now.system;
  out.volts = now.volts;
  out.built_in = now.built_in;
  out.frame_first = now.frame_first;
  out.energies = now.energies;
  return out;
}

Row row_of(std::string id, std::string title, Mark mark) {
  Row out;
  out.id = std::move(id);
  out.title = std::move(title);
  out.mark = mark;
  return out;
}

}  // namespace kp::app
