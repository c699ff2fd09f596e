// Open and Close: the drawing, and the next step of the way in or back.
#include "app/desk.hpp"

#include <algorithm>

#include "app/picture.hpp"
#include "app/step_words.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

namespace {

bool is_back(job::Deed deed) { return deed == job::Deed::set || deed == job::Deed::fasten; }

void add_checks(Card& card, const Desk& desk, const StepWords& words) {
  for (const int check : words.checks) {
    const pack::RefitCheck& refit = desk.pack()->refit_checks[to_size(check)];
    CheckBox box;
    box.id = refit.id;
    box.title = refit.title;
    box.detail = refit.how;
    box.ticked = desk.local->ticks.count(refit.id) != 0;
    box.tap = desk.action(Verb::tick_check, refit.id);
    card.checks.push_back(box);
  }
}

bool is_of(const pack::Pack& pack, const StepWords& joint, const std::string& part) {
  const int index = pack.joint(joint.what);
  const int on = pack.part(part);
  if (index < 0 || on < 0) {
    return false;
  }
  const auto& parts = pack.joints[to_size(index)].parts;
  return std::find(parts.begin(), parts.end(), on) != parts.end();
}

/// The steps from this one that are one motion: the fasteners of one part, of one tool, and the part
/// that comes away with them; on the way back the part and its fasteners.
std::vector<StepWords> run_of(const pack::Pack& pack, const plan::Plan& way, std::size_t from) {
  constexpr std::size_t kMost = 4;
  std::vector<StepWords> run;
  std::string part;
  for (std::size_t i = from; i < way.steps.size() && run.size() < kMost; ++i) {
    StepWords words;
    if (!words_of(pack, way.steps[i], words)) {
      continue;   // the tool stands on the card
    }
    const bool away = words.deed == job::Deed::remove;
    const bool fits =
        run.empty() ||
        (run.front().deed == job::Deed::release && words.deed == job::Deed::release &&
         words.tool == run.front().tool) ||
        (run.back().deed == job::Deed::release && away &&
         std::all_of(run.begin(), run.end(),
                     [&](const StepWords& one) { return is_of(pack, one, words.what); })) ||
        (run.front().deed == job::Deed::set && words.deed == job::Deed::fasten &&
         is_of(pack, words, run.front().what) &&
         (run.back().deed == job::Deed::set || words.tool == run.back().tool));
    if (!fits || words.deed == job::Deed::turn) {
      if (run.empty()) run.push_back(words);
      break;
    }
    run.push_back(words);
    if (away) {
      break;
    }
  }
  // Fasteners of different parts without the part that they hold are different motions.
  const bool closed = run.back().deed == job::Deed::remove || run.front().deed == job::Deed::set;
  if (!closed && run.size() > 1) {
    run.resize(1);
  }
  return run;
}

void add_deeds(Card& card, const Desk& desk, const std::vector<StepWords>& run) {
  if (run.size() < 2) {
    return;
  }
  for (const StepWords& words : run) {
    CheckBox box;
    box.id = cat("deed-", words.what);
    box.title = words.sentence;
    box.detail = words.tool;
    box.ticked = desk.local->ticks.count(box.id) != 0;
    box.tap = desk.action(Verb::tick_check, box.id);
    card.checks.push_back(box);
  }
}

void fill_step_card(Snapshot& out, const Desk& desk, std::int64_t cost_ms,
                    const std::vector<StepWords>& run, const safety::Demand& demand) {
  Card& card = out.card;
  const StepWords& words = run.front();
  card.id = cat("step-", job::deed_words()[to_size(static_cast<int>(words.deed))], "-", words.what);
  const bool back = is_back(words.deed);
  const StepWords& main = back ? run.front() : run.back();
  add_cautions(card, desk, words.caution.empty() ? main.caution : words.caution, demand);
  if (demand.act == safety::Act::cover) {
    card.facts.emplace_back("Approach: others 1.1 m away, nothing else is touched.");
  }
  card.sentence = main.sentence;
  std::string how = run.size() > 1 ? std::string() : words.tool;
  if (words.deed != job::Deed::turn) {
    const std::string& where = desk.pack()->positions[to_size(desk.state->unit.position)].title;
    how += cat(how.empty() ? "" : " · ", lower(where));
  }
  card.how = cat(how, how.empty() ? "" : " · ", about(cost_ms));
  add_deeds(card, desk, run);
  for (const StepWords& one : run) {
    if (back) {
      add_checks(card, desk, one);
      continue;
    }
    for (const int check : one.checks) {
      card.facts.push_back(
          cat("On the way back: ", desk.pack()->refit_checks[to_size(check)].title, "."));
    }
  }
  if (desk.practice() && !words.why.empty()) {
    card.facts.insert(card.facts.begin(), words.why);
  }
  Action done = desk.action(Verb::steps_done, words.what);
  for (const StepWords& one : run) {
    done.deeds.push_back({one.deed, one.what});
  }
  card.primary = hold_button(main.done, done);
  card.primary->enabled =
      std::all_of(card.checks.begin(), card.checks.end(),
                  [](const CheckBox& box) { return box.ticked; });
  if (!card.primary->enabled) {
    card.primary->detail = "tick each first";
  }
  card.ways_out = {tap_button("Why this step", desk.action(Verb::show_sheet, "why")),
                   tap_button("Can't do it", desk.action(Verb::show_sheet, "cannot")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

}  // namespace

void fill_no_way(Snapshot& out, const Desk& desk, const plan::Plan* way) {
  Card& card = out.card;
  card.id = "no-way";
  card.sentence = "There is no way on from here.";
  if (way != nullptr && way->error.has_value()) {
    card.how = way->error->text();
  }
  card.ways_out = {tap_button("End the visit", desk.action(Verb::show_sheet, "end")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

bool fill_next_step(Snapshot& out, const Desk& desk, const plan::Plan& way, bool approaching) {
  const pack::Pack& pack = *desk.pack();
  // Where hands go in on this way, what they need is shown before the door is moved for it.
  const bool hands = std::any_of(way.steps.begin(), way.steps.end(), [](const plan::Step& step) {
    return step.kind != plan::Kind::turn && step.kind != plan::Kind::take_tool;
  });
  if (hands && !approaching && fill_gate_card(out, desk, job::hands_demand())) {
    return true;
  }
  for (std::size_t i = 0; i < way.steps.size(); ++i) {
    StepWords words;
    if (!words_of(pack, way.steps[i], words)) {
      continue;
    }
    const int subject = job::subject_index(pack, desk.state->unit, words.deed, words.what);
    const safety::Demand demand = job::demand_of(*desk.model(), *desk.state, words.deed, subject);
    out.exploded = picture_of(desk, &words);
    if (fill_gate_card(out, desk, demand)) {
      return true;
    }
    std::vector<StepWords> run = run_of(pack, way, i);
    const bool back = is_back(words.deed);
    for (std::size_t k = 1; k < run.size(); ++k) {
      // One motion only where every part of it asks for what is shown already.
      const safety::Demand other = job::demand_of(
          *desk.model(), *desk.state, run[k].deed,
          job::subject_index(pack, desk.state->unit, run[k].deed, run[k].what));
      const bool alike = other.act == demand.act &&
                         safety::permit(desk.state->safety, desk.ask(other), desk.clock(), desk.law())
                             .allowed;
      if (!alike) {
        run.resize(back ? k : 1);
        break;
      }
    }
    std::int64_t cost = 0;
    for (std::size_t k = i, left = run.size(); k < way.steps.size() && left > 0; ++k) {
      StepWords one;
      left -= words_of(pack, way.steps[k], one) ? 1U : 0U;
      cost += way.steps[k].cost_ms;
    }
    fill_step_card(out, desk, cost, run, demand);
    return true;
  }
  return false;
}

void fill_hands(Snapshot& out, const Desk& desk) {
  const bool back = desk.state->stage == job::Stage::close;
  const plan::Plan* way = back ? desk.way_back : desk.way_in;
  std::size_t done = 0;
  for (const auto& step : desk.state->steps) {
    done += is_back(step.body.deed) == back ? 1U : 0U;
  }
  std::size_t left = 0;
  if (way != nullptr) {
    for (const plan::Step& step : way->steps) {
      StepWords words;
      left += words_of(*desk.pack(), step, words) ? 1U : 0U;
    }
  }
  if (left == 0) {
    out.exploded = picture_of(desk, nullptr);
    fill_no_way(out, desk, way);
    return;
  }
  out.stage_where = cat(to_int(done) + 1, " of ", to_int(done + left));
  if (back && fill_owed_test(out, desk, way)) {
    return;
  }
  (void)fill_next_step(out, desk, *way);
}

void fill_swap(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  const pack::Pack& pack = *desk.pack();
  int next = -1;
  for (const int target : state.targets) {
    if (!job::is_renewed(state, pack, target) && next < 0) {
      next = target;
    }
  }
  out.exploded = picture_of(desk, nullptr);
  Card& card = out.card;
  if (next < 0) {
    card.id = "swapped";
    card.sentence = "Close the machine.";
    card.primary = tap_button("Close", desk.action(Verb::go_stage, "close"));
    return;
  }
  const pack::Part& part = pack.parts[to_size(next)];
  out.stage_where = part.name;
  const safety::Demand demand = job::demand_of(*desk.model(), state, job::Deed::swap, next);
  if (fill_gate_card(out, desk, demand)) {
    return;
  }
  card.id = cat("swap-", part.id);
  add_cautions(card, desk, {}, demand);
  if (state.mend >= 0) {
    const pack::Fault* fault = &pack.faults[to_size(state.mend)];
    card.id = cat("mend-", fault->id);
    card.sentence = fault->mend;
    card.how = cat(fault->title, ". The part goes back in.");
    Action mended = desk.action(Verb::swap_done, part.id, fault->id);
    mended.flag = true;
    card.primary = hold_button("mended", mended);
    // The part is exchanged after all: it is chosen as such, and the way to it goes on from here.
    card.ways_out = {tap_button("New part", desk.action(Verb::choose_part, part.id)),
                     tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
    return;
  }
  card.sentence = cat("Compare the new ", part.name, " with the old one.");
  card.how = "Same shape, same rating, same terminals.";
  TextField stock;
  stock.id = "stock";
  stock.label = "Part number fitted";
  stock.value = desk.local->stock.empty() ? part.stock : desk.local->stock;
  stock.mono = true;
  stock.changed = desk.action(Verb::set_word, "stock");
  TextField price;
  price.id = "price";
  price.label = cat("Price, ", pack.currency);
  const auto currency = currency_of(pack.currency);
  price.value = !desk.local->price.empty()
                    ? desk.local->price
                    : minor_text(part.price_minor, currency.value_or(Currency{}));
  price.mono = true;
  price.changed = desk.action(Verb::set_word, "price");
  card.texts = {stock, price};
  Action done = desk.action(Verb::swap_done, part.id, stock.value);
  card.primary = hold_button(cat("new ", part.name, " ready"), done);
  card.ways_out = {tap_button("No part", desk.action(Verb::show_sheet, "end")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

}  // namespace kp::app
