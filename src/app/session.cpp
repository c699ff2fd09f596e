#include "app/session.hpp"

#include <algorithm>
#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_test.hpp"
#include "job/rules.hpp"

namespace kp::app {

namespace {
constexpr std::int64_t kSecondMs = 1000;
}  // namespace

Session::Session(Content content, Outside outside, job::Settings settings)
    : content_(std::move(content)), outside_(outside), settings_(settings) {
  KP_CHECK(outside_.field != nullptr && outside_.practice != nullptr);
  KP_CHECK(outside_.clock != nullptr && outside_.identity != nullptr && outside_.share != nullptr);
  life_ = outside_.identity->fresh();
}

port::Store& Session::store_of(job::Mode mode) const {
  return mode == job::Mode::practice ? *outside_.practice : *outside_.field;
}

port::Store& Session::store() const { return store_of(mode_); }

job::Stamp Session::stamp_now(std::uint32_t n) {
  const port::ClockReading reading = outside_.clock->read();
  return job::Stamp{n, reading.wall, reading.mono_ms, life_, person_};
}

void Session::set_hidden(bool hidden) {
  hidden_ = hidden;
  standing_.doubt();   // a page that was away catches up before it shows anything green
  note_screen();
  if (!hidden) {
    follow(true);
  }
  dirty_ = true;
}

void Session::note_screen() {
  if (open_ && trouble_.empty() && state_.clock.hidden != hidden_) {
    (void)propose(job::ScreenChanged{hidden_, 0, false}, true);
  }
}

void Session::settle() {
  if (!pending_.empty() || !open_ || !trouble_.empty()) {
    return;
  }
  const job::Stage next =
      job::next_stage(state_, stamp_now(state_.last_n + 1), context());
  if (next != state_.stage) {
    (void)propose(job::StageEntered{next}, true);
  }
}

void Session::replan() {
  if (planned_ && planned_for_ == state_.last_n) {
    return;
  }
  planned_ = true;
  planned_for_ = state_.last_n;
  way_in_ = {};
  way_back_ = {};
  if (state_.model < 0) {
    return;
  }
  const job::Model& model = content_.library.models[to_size(state_.model)];
  const bool inward = state_.stage == job::Stage::open || state_.stage == job::Stage::find ||
                      state_.stage == job::Stage::make_safe;
  if (inward && !state_.targets.empty()) {
    way_in_ = job::plan_in(model, state_);
  }
  if (state_.stage == job::Stage::close || state_.stage == job::Stage::swap) {
    way_back_ = job::plan_back(model, state_);
  }
  if (state_.stage == job::Stage::find && !model.pack.faults.empty()) {
    if (!finder_ || finder_model_ != state_.model) {
      finder_.emplace(model);
      finder_model_ = state_.model;
    }
    finder_->think(state_, context(), content_.rates.labour_per_hour_minor);
  }
}

void Session::replan_test() {
  if (way_test_ == local_.test && way_test_for_ == state_.last_n) {
    return;
  }
  way_test_ = local_.test;
  way_test_for_ = state_.last_n;
  way_to_test_ = {};
  if (state_.model < 0 || local_.test.empty()) {
    return;
  }
  const job::Model& model = content_.library.models[to_size(state_.model)];
  const int test = model.pack.test(local_.test);
  if (test >= 0) {
    way_to_test_ = job::plan_to_test(model, state_.unit, model.pack.tests[to_size(test)]);
  }
}

Desk Session::desk() {
  replan();
  replan_test();
  Desk out;
  out.state = &state_;
  out.content = &content_;
  out.settings = &settings_;
  out.local = &local_;
  out.now = stamp_now(state_.last_n + 1);
  out.way_in = &way_in_;
  out.way_back = &way_back_;
  out.way_to_test = &way_to_test_;
  const bool seeking = open_ && state_.stage == job::Stage::find && finder_ &&
                       finder_model_ == state_.model;
  out.finder = seeking ? &finder_.value() : nullptr;
  out.tester = tester_;
  out.person = person_;
  out.revision = revision_;
  out.preferences = &preferences_;
  out.knowledge = shown_knowledge_;
  return out;
}

const Snapshot& Session::snapshot() {
  const job::Stamp now = stamp_now(state_.last_n + 1);
  const std::int64_t second =
      open_ ? job::total_ms_at(state_.clock, now, settings_.clock) / kSecondMs : 0;
  const Knowledge known = knowledge();
  if (dirty_ || second != shown_second_ || known != shown_knowledge_) {
    shown_second_ = second;
    shown_knowledge_ = known;
    dirty_ = false;
    rebuild(now);
    snapshot_.preferences = preferences_;
  }
  return snapshot_;
}

std::int64_t Session::next_change_ms() {
  if (dirty_) {
    return 0;
  }
  const std::int64_t look = standing_.next_ms(outside_.clock->read());
  if (!open_ || state_.outcome != job::Outcome::none) {
    return look;
  }
  const job::Stamp now = stamp_now(state_.last_n + 1);
  const std::int64_t total = job::total_ms_at(state_.clock, now, settings_.clock);
  const std::int64_t tick = kSecondMs - total % kSecondMs;
  return look < 0 ? tick : std::min(look, tick);
}

}  // namespace kp::app
