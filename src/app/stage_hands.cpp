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

void fill_step_card(Snapshot& out, const Desk& desk, const plan::Step& step,
                    const StepWords& words, const safety::Demand& demand) {
  Card& card = out.card;
  card.id = cat("step-", job::deed_words()[to_size(static_cast<int>(words.deed))], "-", words.what);
  add_cautions(card, words.caution, demand.contacts, true);
  card.sentence = words.sentence;
  std::string how = words.tool;
  if (words.deed != job::Deed::turn) {
    const std::string& where = desk.pack()->positions[to_size(desk.state->unit.position)].title;
    how += cat(how.empty() ? "" : " · ", lower(where));
  }
  card.how = cat(how, how.empty() ? "" : " · ", about(step.cost_ms));
  const bool back = is_back(words.deed);
  if (back) {
    add_checks(card, desk, words);
  } else {
    for (const int check : words.checks) {
      card.facts.push_back(
          cat("On the way back: ", desk.pack()->refit_checks[to_size(check)].title, "."));
    }
  }
  if (desk.practice() && !words.why.empty()) {
    card.facts.insert(card.facts.begin(), words.why);
  }
  Action done = desk.action(Verb::step_done, words.what,
                            job::deed_words()[to_size(static_cast<int>(words.deed))]);
  card.primary = hold_button(words.done, done);
  card.primary->enabled =
      std::all_of(card.checks.begin(), card.checks.end(),
                  [](const CheckBox& box) { return box.ticked; });
  if (!card.primary->enabled) {
    card.primary->detail = "tick the checks first";
  }
  card.ways_out = {tap_button("Why this step", desk.action(Verb::show_sheet, "why")),
                   tap_button("Can't do it", desk.action(Verb::show_sheet, "cannot")),
                   tap_button("Pause", desk.action(Verb::show_sheet, "pause"))};
}

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

}  // namespace

bool fill_next_step(Snapshot& out, const Desk& desk, const plan::Plan& way) {
  StepWords words;
  for (const plan::Step& step : way.steps) {
    if (!words_of(*desk.pack(), step, words)) {
      continue;
    }
    const safety::Demand demand =
        job::demand_of(*desk.pack(), words.deed,
                       job::subject_index(*desk.pack(), desk.state->unit, words.deed, words.what));
    out.exploded = picture_of(desk, &words);
    if (!fill_gate_card(out, desk, demand)) {
      fill_step_card(out, desk, step, words, demand);
    }
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
  if (back && fill_due_test(out, desk, *way)) {
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
  if (fill_gate_card(out, desk, job::demand_of(pack, job::Deed::swap, next))) {
    return;
  }
  card.id = cat("swap-", part.id);
  card.cautions = safety::cautions_of(job::contacts_of(part.contacts), true);
  if (card.cautions.size() > 1) {
    card.cautions.resize(1);
  }
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
