// What is the same in every stage: strip, rail, clock, practice banner.
#include "app/desk.hpp"

#include "app/place_words.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "safety/strip_words.hpp"

namespace kp::app {

namespace {

/// How far a stage has come: steps done of all that the stage's plan holds.
double plan_share(std::size_t done, const plan::Plan* rest) {
  const std::size_t all = done + (rest == nullptr ? 0 : rest->steps.size());
  return all == 0 ? 0 : static_cast<double>(done) / static_cast<double>(all);
}

std::size_t deeds_of(const job::State& state, bool back) {
  std::size_t count = 0;
  for (const auto& step : state.steps) {
    const bool is_back =
        step.body.deed == job::Deed::set || step.body.deed == job::Deed::fasten;
    count += is_back == back ? 1U : 0U;
  }
  return count;
}

double share_of(const Desk& desk) {
  const job::State& state = *desk.state;
  switch (state.stage) {
    case job::Stage::arrive:
      return (state.model >= 0 ? 0.4 : 0.0) + (state.complaint.said() ? 0.3 : 0.0) +
             (state.customer.name.empty() && !state.customer.erased ? 0.0 : 0.3);
    case job::Stage::make_safe: {
      const job::Model* model = desk.model();
      if (model == nullptr) {
        return 0;
      }
      const safety::Place supply = job::supply_place(*model, state);
      const safety::Ask ask = desk.ask(job::hands_demand());
      safety::Ask fresh = ask;
      fresh.machine.supply_open = false;
      const auto rest = safety::make_safe(state.safety, ask, desk.clock(), desk.law(), supply).size();
      const auto all = safety::make_safe(as_found(state.safety), fresh, desk.clock(), desk.law(), supply).size();
      return all == 0 || rest > all ? 0 : 1.0 - static_cast<double>(rest) / static_cast<double>(all);
    }
    case job::Stage::find:
      return state.tests.empty() ? 0.2 : 0.6;
    case job::Stage::open:
      return plan_share(deeds_of(state, false), desk.way_in);
    case job::Stage::swap:
      return state.targets.empty() ? 0
                                   : static_cast<double>(state.swapped.size()) /
                                         static_cast<double>(state.targets.size());
    case job::Stage::close:
      return plan_share(deeds_of(state, true), desk.way_back);
    case job::Stage::prove: {
      const pack::Pack* pack = desk.pack();
      const std::size_t all = pack == nullptr ? 0 : pack->prove_tests.size();
      return all == 0 ? 0 : static_cast<double>(state.proved.size()) / static_cast<double>(all);
    }
    case job::Stage::bill:
      return state.invoice.body.number.empty() ? 0.5 : 1.0;
  }
  return 0;
}

}  // namespace

void fill_frame(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  out.page = Page::job;
  out.revision = desk.revision;
  safety::Named named;
  if (const job::Model* model = desk.model(); model != nullptr) {
    named = [model, &state](const std::string& id) { return place_words(*model, state.safety, id); };
  }
  out.strip = strip_as_known(
      safety::summarise_named(state.safety, desk.clock(), desk.settings->safety, named), desk.knowledge);
  out.stage = static_cast<int>(state.stage);
  out.stage_title = std::string(job::stage_title(state.stage));
  out.rail.assign(job::kStages, 0.0);
  for (int stage = 0; stage < out.stage; ++stage) {
    out.rail[to_size(stage)] = 1.0;
  }
  out.rail[to_size(out.stage)] = share_of(desk);
  out.clock = duration_text(job::total_ms_at(state.clock, desk.now, desk.settings->clock));
  const job::Phase phase =
      state.clock.segments.empty() ? job::Phase::labour : state.clock.segments.back().phase;
  out.paused = phase == job::Phase::waiting;
  out.clock_runs = state.outcome == job::Outcome::none;
  out.title = cat(out.stage_title, " · Kickplate");
  if (desk.practice()) {
    Notice notice;
    notice.kind = NoticeKind::practice;
    notice.text = "PRACTICE. No real machine, no invoice.";
    out.notices.push_back(notice);
  }
  if (!state.clock.open_questions.empty()) {
    const job::Choice& gap = state.clock.open_questions.front();
    Notice notice;
    notice.kind = NoticeKind::advice;
    notice.text = gap.wall_ms < 0
                      ? std::string("The clock was set back while nobody looked. How much was work?")
                      : cat("Nothing was recorded for ", duration_words(gap.wall_ms / 1000),
                            ". How much of it was work?");
    Action none = desk.action(Verb::settle_gap, integer_text(gap.before));
    notice.buttons.push_back(tap_button("None", none));
    notice.buttons.push_back(
        tap_button("Other", desk.action(Verb::show_sheet, "gap")));
    out.notices.push_back(notice);
  }
}

}  // namespace kp::app
