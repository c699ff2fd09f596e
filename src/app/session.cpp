#include "app/session.hpp"

#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_test.hpp"
#include "job/replay.hpp"
#include "job/rules.hpp"
#include "journal/writer.hpp"

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
  return job::Stamp{n, reading.wall, reading.mono_ms, life_,
                    person_.empty() ? std::string("Technician") : person_};
}

void Session::set_hidden(bool hidden) {
  hidden_ = hidden;
  note_screen();
  dirty_ = true;
}

void Session::note_screen() {
  if (open_ && trouble_.empty() && state_.clock.hidden != hidden_) {
    (void)propose(job::ScreenChanged{hidden_, 0, false}, true);
  }
}

bool Session::propose(const job::Body& intent, bool quiet) {
  if (!open_ || !trouble_.empty()) {
    return false;
  }
  if (!pending_.empty()) {
    // One decision at a time: the next one must stand on what is durable.
    return false;
  }
  const job::Stamp now = stamp_now(state_.last_n + 1);
  job::Decision decision = job::decide(state_, intent, now, context());
  if (now.at.utc_ms < state_.safety.newest.utc_ms && state_.model >= 0) {
    // The clock was set back, so nobody can say how old the proofs are: that is recorded, and the
    // person is asked for new ones before the intent can be told again.
    decision = job::decide(state_, safety::Doubted{safety::Doubt::clock_doubted}, now, context());
  }
  if (!decision.accepted()) {
    if (!quiet) {
      local_.refusal.clear();
      for (const safety::Reason& reason : decision.reasons) {
        local_.refusal.push_back(reason.sentence);
      }
      dirty_ = true;
    }
    return false;
  }
  local_.refusal.clear();
  unsaved_.clear();
  unstored_.clear();
  write(decision.events);
  return true;
}

bool Session::propose_all(const std::vector<job::Body>& intents) {
  if (intents.size() == 1) {
    return propose(intents.front());
  }
  if (!open_ || !trouble_.empty() || !pending_.empty()) {
    return false;
  }
  job::State after = state_;
  std::vector<job::Body> all;
  for (const job::Body& intent : intents) {
    const job::Decision decision =
        job::decide(after, intent, stamp_now(after.last_n + 1), context());
    if (!decision.accepted()) {
      local_.refusal.clear();
      for (const safety::Reason& reason : decision.reasons) {
        local_.refusal.push_back(reason.sentence);
      }
      dirty_ = true;
      return false;
    }
    for (const job::Body& event : decision.events) {
      job::apply(after, stamp_now(after.last_n + 1), event, context());
      all.push_back(event);
    }
  }
  local_.refusal.clear();
  unsaved_.clear();
  unstored_.clear();
  write(all);
  return true;
}

void Session::write(const std::vector<job::Body>& bodies) {
  std::uint32_t n = state_.last_n;
  for (const job::Body& body : bodies) {
    ++n;
    Pending pending;
    pending.stamp = stamp_now(n);
    pending.body = body;
    const journal::Entry entry = job::entry_of(
        pending.stamp, body, pending_.empty() ? tip_ : pending_.back().tip);
    pending.line = journal::write_line(entry);
    pending.tip = journal::line_hash(pending.line);
    pending.request = store().append(open_job(), n, pending.line);
    pending_.push_back(std::move(pending));
  }
  dirty_ = true;
}

bool Session::take_append(const port::Completion& done) {
  if (pending_.empty() || pending_.front().request != done.request) {
    return false;
  }
  Pending pending = std::move(pending_.front());
  pending_.pop_front();
  dirty_ = true;
  if (pending.dropped) {
    note_unstored(std::move(pending.line));
    return true;
  }
  if (done.error.has_value()) {
    if (state_.last_n == 0) {
      not_begun(done.error.value());
      return true;
    }
    unsaved_ = done.error->text();
    note_unstored(std::move(pending.line));
    for (Pending& later : pending_) {
      later.dropped = true;
    }
    demo_.clear();
    after_issue_.clear();
    return true;
  }
  job::apply(state_, pending.stamp, pending.body, context());
  lines_.push_back(std::move(pending.line));
  tip_ = std::move(pending.tip);
  ++revision_;
  if (pending_.empty()) {
    local_.ticks.clear();
    note_screen();   // it may have changed while the record was on its way
    settle();
    go_on();
  }
  return true;
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
  return out;
}

const Snapshot& Session::snapshot() {
  const job::Stamp now = stamp_now(state_.last_n + 1);
  const std::int64_t second =
      open_ ? job::total_ms_at(state_.clock, now, settings_.clock) / kSecondMs : 0;
  if (dirty_ || second != shown_second_) {
    shown_second_ = second;
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
  if (!open_ || state_.outcome != job::Outcome::none) {
    return -1;
  }
  const job::Stamp now = stamp_now(state_.last_n + 1);
  const std::int64_t total = job::total_ms_at(state_.clock, now, settings_.clock);
  return kSecondMs - total % kSecondMs;
}

}  // namespace kp::app
