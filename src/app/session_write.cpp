// From an intent to a record that is durable, and what is done where the store says it is not.
#include <algorithm>
#include <utility>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/codec.hpp"
#include "job/replay.hpp"
#include "journal/writer.hpp"

namespace kp::app {

namespace {

/// The store has said no, and nothing can have been written behind its back.
bool is_plain_no(const Error& error) {
  return error.code == "full" || error.code == "not-acquired" || error.code == "bad-name";
}

/// The same thing told once more.
bool same_act(const job::Body& a, const job::Body& b) {
  return a.index() == b.index();
}

bool same_record(const job::Body& a, const job::Body& b) {
  return a.index() == b.index() && data::same(job::encode(a), job::encode(b));
}

}  // namespace

/// What is told now is what this record says already: decide() fills in what a person does not say.
bool Session::means(const job::Body& intent, const Pending& pending) const {
  const job::Decision decision = job::decide(state_, intent, pending.stamp, context());
  return std::any_of(decision.events.begin(), decision.events.end(), [&](const job::Body& one) {
    return same_record(one, pending.body);
  });
}

/// What hands wanted and the gate refused is on record, once in a row.
void Session::record_refusal(const job::Body& intent, const job::Decision& decision) {
  const auto refused = job::refusal_of(state_, intent, decision, context());
  const bool again = refused && !state_.refused.empty() &&
                     state_.refused.back().stamp.n == state_.last_n &&
                     same_record(*refused, state_.refused.back().body);
  if (refused && !again) {
    const std::vector<std::string> said = local_.refusal;
    (void)propose(*refused, true);
    local_.refusal = said;
  }
}

bool Session::propose(const job::Body& intent, bool quiet) {
  if (!open_ || !trouble_.empty()) {
    return false;
  }
  if (unsure_.in_doubt) {
    // What stands in the store is asked first; then it is this one's turn.
    then_ = quiet ? std::nullopt : std::optional<Then>(Then{intent, false});
    check();
    return !quiet;
  }
  if (!pending_.empty()) {
    // One decision at a time: the next one must stand on what is durable.
    return false;
  }
  if (unsure_.unkept) {
    // Something that ends a proof has happened and is not recorded: that comes before all else.
    const job::Body loss = *std::exchange(unsure_.unkept, std::nullopt);
    if (propose(loss, true)) {
      if (!quiet && !same_act(loss, intent)) {
        then_ = Then{intent, false};
      }
      return true;
    }
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
      record_refusal(intent, decision);
    }
    return false;
  }
  local_.refusal.clear();
  unsaved_.clear();
  unstored_.clear();
  unsure_.rewrote = false;
  if (owed_) {
    // The first record of this life stands behind the one that it began, with the time of that.
    then_ = Then{intent, quiet};
    const Owed owed = *std::exchange(owed_, std::nullopt);
    add_pending(owed.stamp, owed.body);
    return true;
  }
  write(decision.events);
  return true;
}

bool Session::propose_all(const std::vector<job::Body>& intents) {
  if (intents.size() == 1 || unsure_.in_doubt || unsure_.unkept || owed_) {
    // Something else comes first; what is left of the motion stays on the card.
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
  unsure_.rewrote = false;
  write(all);
  return true;
}

void Session::write(const std::vector<job::Body>& bodies) {
  std::uint32_t n = state_.last_n;
  for (const job::Body& body : bodies) {
    add_pending(stamp_now(++n), body);
  }
}

void Session::add_pending(job::Stamp stamp, const job::Body& body) {
  Pending pending;
  pending.stamp = std::move(stamp);
  pending.body = body;
  pending.people = pending_.empty() ? people_ : pending_.back().people;
  const journal::Entry entry =
      job::entry_of(pending.stamp, body, pending_.empty() ? tip_ : pending_.back().tip,
                    pending.people, [this] {
                      return outside_.identity->fresh() + outside_.identity->fresh();
                    });
  pending.line = journal::write_entry(entry);
  pending.tip = journal::line_hash(pending.line);
  pending.request = store().append(open_job(), pending.stamp.n, pending.line);
  pending_.push_back(std::move(pending));
  dirty_ = true;
}

bool Session::take_append(const port::Completion& done) {
  const auto found =
      std::find_if(pending_.begin(), pending_.end(), [&done](const Pending& pending) {
        return !pending.answered && pending.request == done.request;
      });
  if (found == pending_.end()) {
    return false;
  }
  found->answered = true;
  found->failed = done.error;
  dirty_ = true;
  while (!pending_.empty() && pending_.front().answered && !pending_.front().failed) {
    confirm_first();
  }
  if (pending_.empty()) {
    all_kept();
  } else if (pending_.back().answered) {
    if (is_plain_no(*pending_.front().failed)) {
      drop_pending(*pending_.front().failed);
    } else {
      check();
    }
  }
  return true;
}

void Session::confirm_first() {
  Pending pending = std::move(pending_.front());
  pending_.pop_front();
  job::apply(state_, pending.stamp, pending.body, context());
  lines_.push_back(std::move(pending.line));
  tip_ = std::move(pending.tip);
  people_ = std::move(pending.people);
  ++revision_;
}

void Session::all_kept() {
  const bool refused =
      !state_.refused.empty() && state_.refused.back().stamp.n == state_.last_n;
  if (!refused) {
    local_.ticks.clear();   // a refused act is still to do, with what was ticked for it
  }
  if (const std::optional<Then> then = std::exchange(then_, std::nullopt)) {
    (void)propose(then->body, then->quiet);
  }
  note_screen();   // it may have changed while the record was on its way
  settle();
  go_on();
}

void Session::drop_pending(const Error& why) {
  if (state_.last_n == 0) {
    not_begun(why);
    return;
  }
  if (ends_a_proof()) {
    unsure_.unkept = pending_.front().body;
  }
  unsaved_ = why.text();
  for (Pending& pending : pending_) {
    note_unstored(std::move(pending.line));
  }
  pending_.clear();
  then_.reset();
  queued_.clear();
  after_issue_.clear();
}

void Session::check() {
  unsure_.in_doubt = false;
  unsure_.checking = true;
  ask(store().load(open_job()), {Ask::check, mode_, open_job()});
  dirty_ = true;
}

void Session::take_check(const port::Completion& done) {
  unsure_.checking = false;
  const Error why = pending_.front().failed.value_or(Error{});
  if (done.error && state_.last_n == 0) {
    drop_pending(why);
    return;
  }
  if (done.error) {
    unsure_.in_doubt = true;
    then_.reset();
    unsaved_ = why.text();
    return;
  }
  const std::vector<std::string>& there = done.lines;
  if (there.size() < lines_.size() && begins_with(lines_, there) && !unsure_.rewrote) {
    write_again(there.size());
    return;
  }
  if (!begins_with(there, lines_)) {
    unsure_.only_here = true;
    drop_pending(unsure_.again_failed.value_or(why));
    return;
  }
  while (!pending_.empty() && there.size() > lines_.size() &&
         there[lines_.size()] == pending_.front().line) {
    if (then_ && means(then_->body, pending_.front())) {
      then_.reset();   // pressed once more because nothing was known of the first time
    }
    confirm_first();
  }
  if (pending_.empty()) {
    unsaved_.clear();
    unstored_.clear();
    all_kept();
    return;
  }
  if (there.size() == lines_.size()) {
    const std::optional<Then> then = std::exchange(then_, std::nullopt);
    drop_pending(why);
    if (then) {
      (void)propose(then->body, then->quiet);
    }
    return;
  }
  // An earlier try was kept after all. What was pressed now is told again behind it.
  then_ = Then{pending_.front().body, true};
  pending_.clear();
  unsaved_.clear();
  unstored_.clear();
  if (take_lines(there)) {
    ++revision_;
    all_kept();
  }
}

void Session::write_again(std::size_t from) {
  unsure_.rewrote = true;
  // Where the store knows its writers by a record, that is gone as well.
  ask(store().acquire(open_job()), {Ask::again, mode_, open_job()});
  unsure_.again = 1;
  for (std::size_t i = from; i < lines_.size(); ++i, ++unsure_.again) {
    const auto seq = static_cast<std::uint32_t>(i) + 1;
    ask(store().append(open_job(), seq, lines_[i]), {Ask::again, mode_, open_job()});
  }
  for (Pending& pending : pending_) {
    pending.answered = false;
    pending.failed.reset();
    pending.request = store().append(open_job(), pending.stamp.n, pending.line);
  }
  unsure_.again_failed.reset();
  unsure_.only_here = true;
  unsure_.exported = false;
  unsure_.kept_again = false;
}

void Session::take_again(const port::Completion& done) {
  if (!unsure_.again_failed) {
    unsure_.again_failed = done.error;
  }
  if (--unsure_.again > 0) {
    return;
  }
  unsure_.only_here = unsure_.again_failed.has_value();
  unsure_.kept_again = !unsure_.only_here;
  standing_.doubt();   // a look says whether all of it stands there now
}

}  // namespace kp::app
