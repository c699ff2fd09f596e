// The card for one thing of safety's lists: shown in Make safe, and in any stage whose gate has
// closed again.
#include <algorithm>

#include "app/desk.hpp"
#include "app/step_words.hpp"
#include "app/todo_fields.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/unit_found.hpp"

namespace kp::app {

namespace {

using safety::TodoKind;

/// What the hold button says was done, and the fact that it records. None: the card asks more.
struct Done {
  const char* words = "done";
  std::optional<safety::Fact> fact;
};

Done done_of(const safety::Todo& todo, const Desk& desk) {
  switch (todo.kind) {
    case TodoKind::doubt_clock:
      return {"the clock is right now", safety::Doubted{safety::Doubt::clock_doubted}};
    case TodoKind::stop:
    case TodoKind::put_away:
      return {"it stands idle", safety::Stopped{true}};
    case TodoKind::shut_water:
      return {"water is shut and tagged", safety::WaterShut{desk.pack()->water.valve}};
    case TodoKind::restart_series:
      return {"start the readings again", safety::SeriesRestarted{}};
    case TodoKind::relieve:
      return {"relieved and empty", safety::Relieved{}};
    case TodoKind::watch:
      return {"the tray is dry", safety::Watched{true}};
    case TodoKind::inspect:
      return {"tools out, all whole", safety::Inspected{}};
    case TodoKind::bar_openings:
      return {"openings are barred", safety::OpeningsBarred{}};
    case TodoKind::warn:
      return {"all are told", safety::Warned{desk.state->safety.helpers}};
    case TodoKind::water_on:
      return {"water is on", safety::WaterOn{false}};
    case TodoKind::water_static:
      return {"water is on, power dead", safety::WaterOn{true}};
    case TodoKind::lock_off:
      return {todo.lock.empty() ? "the plug is at its outlet" : "my lock is off",
              safety::LockOff{todo.lock}};
    case TodoKind::look_clear:
      return {"nobody is at it", safety::LookedClear{}};
    case TodoKind::power_on:
      return {"power is on", safety::PowerOn{}};
    default:
      return {};
  }
}

void add_why(Card& card, const Desk& desk, const safety::Todo& todo) {
  card.why = todo.why;
  if (desk.practice() && !todo.why.empty()) {
    card.facts.push_back(todo.why);
  } else if (!todo.why.empty()) {
    card.ways_out.push_back(tap_button("Why", desk.action(Verb::show_sheet, "why")));
  }
  card.ways_out.push_back(tap_button("Alarm", desk.action(Verb::show_sheet, "alarm")));
  card.ways_out.push_back(tap_button("Pause", desk.action(Verb::show_sheet, "pause")));
}

/// What the pack itself says of valve, isolation and relieving.
std::string how_of(const safety::Todo& todo, const pack::Pack& pack) {
  switch (todo.kind) {
    case TodoKind::isolate:
      return pack.supply.isolation.empty() ? todo.how : cat(pack.supply.isolation, " ", todo.how);
    case TodoKind::shut_water:
      return pack.water.valve.empty() ? todo.how : cat(pack.water.valve, " ", todo.how);
    case TodoKind::relieve:
      return pack.water.relieve.empty() ? todo.how : pack.water.relieve;
    default:
      return todo.how;
  }
}

/// What the last thing said that was not as it should be, and what it means.
void add_alarm(Card& card, const Desk& desk) {
  const safety::State& safe = desk.state->safety;
  // Who left with the lock on has lost the bare terminals only, until one is read again.
  const bool terminals = safe.lost_at.event > safe.supply_dead.event && safe.groups.empty();
  const bool proved = safe.power == safety::Power::supply_dead && !terminals;
  if (safe.lost == safety::Loss::none || proved) {
    return;
  }
  if (said_live(safe)) {
    safety::Caution caution;
    caution.word = safety::SignalWord::danger;
    caution.sign = "W012";
    caution.sentence = safe.lost == safety::Loss::controls_answered
                           ? "It answered: this is not the machine's supply. Hands back."
                           : "Voltage where all must be dead. Treat all of it as live.";
    card.cautions.insert(card.cautions.begin(), caution);
  }
  card.facts.push_back(cat("Proof given up ", clock_text(safe.lost_at.at), ": ",
                           safety::title(safe.lost), "."));
}

/// The first step of a way to where something is to be done. False: nothing can be done there.
bool fill_way(Snapshot& out, const Desk& desk, const plan::Targets& targets) {
  const plan::Plan way = plan::reach(desk.model()->rules, desk.state->unit, targets);
  for (const plan::Step& step : way.steps) {
    StepWords words;
    if (!words_of(*desk.pack(), step, words)) {
      continue;
    }
    // What is touched on the way must not want the proof that it leads to.
    const safety::Act act =
        job::demand_of(*desk.model(), *desk.state, words.deed,
                       job::subject_index(*desk.pack(), desk.state->unit, words.deed, words.what))
            .act;
    if (act != safety::Act::hands_in && act != safety::Act::part_supply &&
        act != safety::Act::lay_down) {
      return fill_next_step(out, desk, way, true);
    }
    break;
  }
  fill_no_way(out, desk, &way);
  return true;
}

}  // namespace

void fill_todo_card(Snapshot& out, const Desk& desk, const safety::Todo& todo) {
  Card& card = out.card;
  card.id = cat("todo-", safety::words(todo.kind));
  card.cautions = todo.cautions;
  card.sentence = todo.sentence;
  card.how = how_of(todo, *desk.pack());
  add_why(card, desk, todo);
  add_alarm(card, desk);
  const Done done = done_of(todo, desk);
  if (done.fact.has_value()) {
    card.primary = hold_button(done.words, desk.fact(*done.fact));
  }
  fill_todo_fields(card, desk, todo);
}

namespace {

/// A later visit begins with the question whether the machine is as it was left.
void fill_as_left(Snapshot& out, const Desk& desk) {
  Card& card = out.card;
  const job::UnitAsFound left = job::as_it_was_left(*desk.state);
  const pack::Pack& pack = *desk.pack();
  card.id = "as-left";
  card.sentence = "Is the machine as it was left? Look, touch nothing.";
  card.how = "Tick what is fast or in its place again.";
  const auto ask = [&](const std::string& id, const std::string& title) {
    CheckBox box;
    box.id = cat("not-so-", id);
    box.title = title;
    box.ticked = desk.local->ticks.count(box.id) != 0;
    box.tap = desk.action(Verb::tick_check, box.id);
    card.checks.push_back(box);
  };
  for (const std::string& id : left.loose) {
    const int joint = pack.joint(id);
    ask(id, cat("Loose: ", joint >= 0 ? pack.joints[to_size(joint)].name : id));
  }
  for (const std::string& id : left.away) {
    const int part = pack.part(id);
    ask(id, cat("Out: ", part >= 0 ? pack.parts[to_size(part)].name : id));
  }
  card.primary = hold_button(card.checks.empty() ? "all closed, as I left it" : "the rest is as it was left",
                             desk.action(Verb::unit_found));
  card.ways_out = {tap_button("Alarm", desk.action(Verb::show_sheet, "alarm")),
                   tap_button("All jobs", desk.action(Verb::leave_job))};
}

}  // namespace

bool fill_gate_card(Snapshot& out, const Desk& desk, const safety::Demand& demand) {
  const job::Model& model = *desk.model();
  if (desk.state->unit_unseen && desk.state->safety.prepared.holds()) {
    fill_as_left(out, desk);
    return true;
  }
  const safety::Ask ask = desk.ask(demand);
  const auto todos = safety::make_safe(desk.state->safety, ask, desk.clock(), desk.law(),
                                       job::supply_place(model, *desk.state));
  if (todos.empty()) {
    return false;
  }
  const safety::Todo& first = todos.front();
  const bool approaching = demand.act == safety::Act::cover;
  if (first.kind == TodoKind::open_way && !approaching) {
    return fill_way(out, desk, job::proof_targets(model));
  }
  const plan::Targets relieving = job::relieve_targets(model);
  if (first.kind == TodoKind::relieve && !job::is_uncovered(model, *desk.state, relieving)) {
    return fill_way(out, desk, relieving);
  }
  if (first.kind == TodoKind::relieve) {
    // A hand goes in for it: what it can meet there is proved first.
    const safety::Ask hand = desk.ask(job::relieve_demand(model, *desk.state));
    const auto before = safety::make_safe(desk.state->safety, hand, desk.clock(), desk.law(),
                                          job::supply_place(model, *desk.state));
    if (!before.empty()) {
      fill_todo_card(out, desk, before.front());
      return true;
    }
  }
  fill_todo_card(out, desk, first);
  return true;
}

}  // namespace kp::app
