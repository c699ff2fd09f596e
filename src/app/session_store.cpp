// Opening and leaving jobs, and what the stores answer.
#include <algorithm>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"

namespace kp::app {

namespace {

constexpr std::int64_t kSecondMs = 1000;

/// Whether the journal ends with the record of a life that recorded nothing else but its screen.
bool nothing_since_resumed(const std::vector<std::string>& lines) {
  const journal::Loaded loaded = journal::read_lines(lines);
  for (auto entry = loaded.entries.rbegin(); entry != loaded.entries.rend(); ++entry) {
    if (entry->kind != job::ScreenChanged::kKind) {
      return entry->kind == job::Resumed::kKind;
    }
  }
  return false;
}

}  // namespace

void Session::ask(port::Request request, Asked asked) {
  auto& asked_here =
      asked.mode == job::Mode::practice ? asked_practice_ : asked_field_;
  asked_here[request] = std::move(asked);
}

void Session::ask_lists() {
  jobs_.clear();
  for (const job::Mode mode : {job::Mode::field, job::Mode::practice}) {
    ask(store_of(mode).list(), {Ask::list, mode, {}});
  }
}

void Session::start(bool demo) {
  for (const char* name : {"person", "tester", "look", "text", "confirm", "touch"}) {
    ask(outside_.field->get(name), {Ask::setting, job::Mode::field, name});
  }
  ask_lists();
  if (demo) {
    create(job::Mode::field, true);
  }
}

void Session::open(const std::string& job, job::Mode mode) {
  leave();
  mode_ = mode;
  opening_ = true;
  wanted_ = job;
  ask(store().acquire(job), {Ask::acquire, mode, job});
  dirty_ = true;
}

void Session::leave() {
  if (open_) {
    (void)store().release(open_job());
    store().watch({});
  }
  standing_.leave();
  open_ = false;
  opening_ = false;
  elsewhere_ = false;
  apart_ = Apart::none;
  trouble_.clear();
  unsaved_.clear();
  unstored_.clear();
  unread_.clear();
  unsure_ = {};
  erasing_ = {};
  owed_.reset();
  then_.reset();
  not_begun_.clear();
  wanted_.clear();
  state_ = {};
  lines_.clear();
  pending_.clear();
  queued_.clear();
  offered_.clear();
  handed_.clear();
  local_ = {};
  planned_ = false;
  ++revision_;
  dirty_ = true;
}

void Session::take_lists(const Asked& asked, const port::Completion& done) {
  if (done.error.has_value()) {
    const bool practice = asked.mode == job::Mode::practice;
    if (practice && outside_.spare != nullptr && outside_.practice != outside_.spare) {
      outside_.practice = outside_.spare;
      asked_practice_.clear();
      ask(outside_.practice->list(), {Ask::list, job::Mode::practice, {}});
    } else if (!practice) {
      refused_ = done.error->what;
    }
    return;
  }
  if (asked.mode == job::Mode::field) {
    refused_.clear();
  }
  for (const std::string& job : done.lines) {
    ask(store_of(asked.mode).load(job), {Ask::load_row, asked.mode, job});
  }
}

void Session::take_acquired(const Asked& asked, const port::Completion& done) {
  if (done.error.has_value()) {
    elsewhere_ = done.error->code == "held";
    trouble_ = elsewhere_ ? "This job is open in another window. Here it can only be read."
                          : done.error->text();
  }
  if (!asked.job.empty()) {
    ask(store().load(asked.job), {Ask::load, mode_, asked.job});
  }
}

void Session::not_begun(const Error& why) {
  const std::string reason = trouble_.empty() ? why.text() : trouble_;
  leave();
  not_begun_ = cat("The job is not saved, so it was not begun: ", reason);
  ask_lists();
}

void Session::take_over_here() {
  if (open_ && elsewhere_ && pending_.empty()) {
    ask(store().take_over(open_job()), {Ask::take_over, mode_, open_job()});
  }
}

void Session::take_taken_over(const port::Completion& done) {
  if (done.error.has_value()) {
    trouble_ = done.error->text();
    return;
  }
  // What the other window wrote in the meantime is in the journal only.
  elsewhere_ = false;
  trouble_.clear();
  unsaved_.clear();
  unstored_.clear();
  local_ = {};
  store().watch({});
  standing_.doubt();
  opening_ = true;
  ask(store().load(wanted_), {Ask::load, mode_, wanted_});
}

void Session::take_loaded(const port::Completion& done) {
  opening_ = false;
  open_ = true;
  if (done.error.has_value()) {
    trouble_ = done.error->text();
    return;
  }
  if (done.lines.size() < lines_.size() && begins_with(lines_, done.lines)) {
    // Taken over, and the store has lost lines that this window read while they were there.
    standing_.write();
    write_again(done.lines.size());
    return;
  }
  if (!take_lines(done.lines)) {
    return;
  }
  if (elsewhere_) {
    read_only();
    look();
    return;
  }
  standing_.write();
  resume(done.lines);
  settle();
}

bool Session::take_lines(const std::vector<std::string>& lines) {
  const journal::Loaded loaded = journal::read_lines(lines);
  job::Replayed replayed = job::replay(loaded, content_.library);
  state_ = std::move(replayed.state);
  lines_ = lines;
  unread_.assign(lines.begin() + to_int(loaded.entries.size()), lines.end());
  lines_.resize(loaded.entries.size());
  planned_ = false;
  tip_ = loaded.tip_hash;
  people_ = std::move(replayed.people);
  for (const std::string& line : lines_) {
    unstored_.erase(std::remove(unstored_.begin(), unstored_.end(), line), unstored_.end());
  }
  if (unstored_.empty()) {
    unsaved_.clear();
  }
  if (state_.job.empty()) {
    state_.job = wanted_;
  }
  apart_ = replayed.damage.has_value()                             ? Apart::damaged
           : state_.job != wanted_                                 ? Apart::fork
           : loaded.entries.empty()                                ? Apart::none
           : replayed.newer                                        ? Apart::newer
           : !replayed.continues()                                 ? Apart::older
           : state_.model < 0 && !state_.machine.pack.empty()      ? Apart::no_pack
                                                                   : Apart::none;
  if (apart_ == Apart::none) {
    return true;
  }
  elsewhere_ = false;
  trouble_ = apart_ == Apart::damaged
                 ? cat("Line ", replayed.damage_line, " of this job cannot be read: ",
                       replayed.damage->text(), " What stands before it is shown, read-only.")
             : apart_ == Apart::fork
                 ? cat("This is a fork of job ", state_.job,
                       ": two devices went on with it. Here it can only be read.")
             : apart_ == Apart::no_pack
                 ? cat("The pack \"", state_.machine.pack,
                       "\" of this job is not here. Add it to go on.")
                 : words_of(apart_);
  return false;
}

void Session::resume(const std::vector<std::string>& lines) {
  if (state_.last_n == 0 || state_.clock.last.life == life_) {
    return;
  }
  const job::Stamp now = stamp_now(state_.last_n + 1);
  const std::int64_t away_ms = now.at.utc_ms - state_.clock.last.at.utc_ms;
  // Below zero the clock was set back meanwhile: that is for safety to judge, so it is not hidden.
  const job::Resumed resumed{away_ms, false};
  const bool brief = away_ms >= 0 &&
                     away_ms <= std::int64_t{safety::bounded(settings_.safety).pause_seconds} * kSecondMs;
  if (brief && nothing_since_resumed(lines)) {
    owed_ = Owed{now, resumed};
  } else {
    (void)propose(resumed, true);
  }
}

void Session::take_answer(const Asked& asked, const port::Completion& done) {
  switch (asked.what) {
    case Ask::list:
      take_lists(asked, done);
      break;
    case Ask::load_row:
      take_row(asked, done);
      break;
    case Ask::acquire:
      take_acquired(asked, done);
      break;
    case Ask::take_over:
      if (elsewhere_ && asked.job == open_job()) {
        take_taken_over(done);
      }
      break;
    case Ask::load:
      if (opening_ && asked.job == wanted_) {
        take_loaded(done);
      }
      break;
    case Ask::look:
    case Ask::follow:
    case Ask::check:
    case Ask::again:
    case Ask::erase:
      take_of_open(asked, done);
      break;
    case Ask::setting:
      if (asked.job == "person" && !done.error.has_value() && !done.text.empty()) {
        person_ = done.text;
      } else if (asked.job == "tester" && !done.error.has_value()) {
        tester_ = done.text;
      } else if (!done.error.has_value()) {
        dirty_ = set_preference(preferences_, asked.job, done.text) || dirty_;
      }
      break;
  }
}

void Session::take_of_open(const Asked& asked, const port::Completion& done) {
  if (!open_ || asked.mode != mode_ || asked.job != open_job()) {
    return;
  }
  if (asked.what == Ask::look && !opening_) {
    take_look(done);
  } else if (asked.what == Ask::follow && !opening_) {
    take_followed(done);
  } else if (asked.what == Ask::check && unsure_.checking) {
    take_check(done);
    ++revision_;
  } else if (asked.what == Ask::again && unsure_.again > 0) {
    take_again(done);
    ++revision_;
  } else if (asked.what == Ask::erase && erasing_.open > 0) {
    take_erased(done);
    ++revision_;
  }
}

bool Session::poll() {
  bool changed = false;
  bool asked_more = false;
  for (const job::Mode mode : {job::Mode::field, job::Mode::practice}) {
    auto& asked_here = mode == job::Mode::practice ? asked_practice_ : asked_field_;
    for (const port::Completion& done : store_of(mode).take_completed()) {
      if (mode == mode_ && take_append(done)) {
        changed = true;
        continue;
      }
      const auto found = asked_here.find(done.request);
      if (found == asked_here.end()) {
        continue;
      }
      const Asked asked = found->second;
      asked_here.erase(found);
      take_answer(asked, done);
      // Looking changes nothing by itself; what it finds says so.
      const bool looked = asked.what == Ask::look || asked.what == Ask::follow;
      changed = changed || !looked;
      asked_more = asked_more || looked;
      revision_ += looked ? 0U : 1U;
    }
    take_lost(mode);
  }
  asked_more = follow() || asked_more;
  changed = take_handed() || changed;
  write_handed();
  if (port::Keeping keeping = outside_.field->keeping(); keeping != keeping_) {
    keeping_ = std::move(keeping);
    changed = true;
  }
  dirty_ = dirty_ || changed;
  return changed || asked_more;
}

}  // namespace kp::app
