// Opening and leaving jobs, and what the stores answer.
#include <algorithm>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"

namespace kp::app {

namespace {

std::string digits_of(std::string date) {
  date.erase(std::remove(date.begin(), date.end(), '-'), date.end());
  return date;
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
  for (const char* name : {"person", "look", "text", "confirm", "touch"}) {
    ask(outside_.field->get(name), {Ask::setting, job::Mode::field, name});
  }
  ask_lists();
  if (demo) {
    create(job::Mode::field, true);
  }
}

void Session::create(job::Mode mode, bool demo) {
  leave();
  const job::Stamp now = stamp_now(1);
  const std::string job =
      cat(digits_of(date_text(now.at)), "-", outside_.identity->fresh().substr(0, 4));
  mode_ = mode;
  open_ = true;
  wanted_ = job;
  state_ = {};
  lines_.clear();
  tip_ = std::string(journal::kNoPrev);
  demo_.clear();
  if (demo) {
    for (job::Body& body : demo_records(content_)) {
      demo_.push_back(std::move(body));
    }
  }
  job::JobOpened opened;
  opened.job = job;
  opened.mode = mode;
  opened.shop = content_.has_rates ? content_.rates.shop.name : std::string();
  ask(store().acquire(job), {Ask::acquire, mode, {}});
  (void)propose(opened, true);
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
  }
  open_ = false;
  opening_ = false;
  elsewhere_ = false;
  trouble_.clear();
  unsaved_.clear();
  unstored_.clear();
  unread_.clear();
  not_begun_.clear();
  wanted_.clear();
  state_ = {};
  lines_.clear();
  pending_.clear();
  demo_.clear();
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

void Session::take_row(const Asked& asked, const port::Completion& done) {
  const journal::Loaded loaded = journal::read_lines(done.lines);
  const job::Replayed replayed = job::replay(loaded, context());
  const job::State& state = replayed.state;
  Row row;
  row.id = asked.job;
  row.group = asked.mode == job::Mode::practice ? "Practice" : "Jobs";
  row.title = state.customer.name.empty() ? cat("Job ", asked.job) : state.customer.name;
  const pack::Pack* pack =
      state.model < 0 ? nullptr : &content_.library.models[to_size(state.model)].pack;
  const int symptom = pack == nullptr ? -1 : pack->symptom(state.complaint.symptom);
  row.detail = symptom < 0 ? (pack == nullptr ? std::string("Machine not known yet")
                                              : pack->about.title)
                           : pack->symptoms[to_size(symptom)].title;
  row.figure = std::string(state.outcome == job::Outcome::none
                               ? job::stage_title(state.stage)
                               : job::outcome_title(state.outcome));
  row.mark = replayed.damage.has_value() ? Mark::failed
             : state.outcome == job::Outcome::none ? Mark::now
                                                   : Mark::done;
  Action tap;
  tap.verb = Verb::open_job;
  tap.id = asked.job;
  tap.flag = asked.mode == job::Mode::practice;
  row.tap = tap;
  jobs_.push_back(std::move(row));
  // Field jobs before practice, the newest first: job numbers begin with the day.
  std::stable_sort(jobs_.begin(), jobs_.end(), [](const Row& a, const Row& b) {
    return a.group != b.group ? a.group < b.group : a.id > b.id;
  });
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
  opening_ = true;
  wanted_ = open_job();
  ask(store().load(wanted_), {Ask::load, mode_, wanted_});
}

void Session::take_lost(job::Mode mode) {
  for (const std::string& job : store_of(mode).take_lost()) {
    if (open_ && mode == mode_ && job == open_job()) {
      elsewhere_ = true;
      trouble_ = "This job was taken over in another window. Here it can only be read.";
      demo_.clear();
      after_issue_.clear();
      dirty_ = true;
      ++revision_;
    }
  }
}

void Session::take_loaded(const port::Completion& done) {
  opening_ = false;
  open_ = true;
  if (done.error.has_value()) {
    trouble_ = done.error->text();
    return;
  }
  const journal::Loaded loaded = journal::read_lines(done.lines);
  job::Replayed replayed = job::replay(loaded, context());
  state_ = std::move(replayed.state);
  lines_ = done.lines;
  unread_.assign(done.lines.begin() + to_int(loaded.entries.size()), done.lines.end());
  lines_.resize(loaded.entries.size());
  planned_ = false;
  tip_ = loaded.tip_hash;
  if (state_.job.empty()) {
    state_.job = wanted_;
  }
  if (replayed.damage.has_value()) {
    elsewhere_ = false;
    trouble_ = cat("Line ", replayed.damage_line, " of this job cannot be read: ",
                   replayed.damage->text(), " What stands before it is shown, read-only.");
    return;
  }
  if (state_.model < 0 && !state_.machine.pack.empty()) {
    trouble_ = cat("The pack \"", state_.machine.pack,
                   "\" of this job is not here. Add it to go on.");
    return;
  }
  if (state_.last_n > 0 && state_.clock.last.life != life_) {
    const job::Stamp now = stamp_now(state_.last_n + 1);
    job::Resumed resumed;
    resumed.away_seconds =
        std::max<std::int64_t>(0, (now.at.utc_ms - state_.clock.last.at.utc_ms) / 1000);
    (void)propose(resumed, true);
  }
  settle();
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
    case Ask::setting:
      if (asked.job == "person" && !done.error.has_value() && !done.text.empty()) {
        person_ = done.text;
      } else if (!done.error.has_value()) {
        dirty_ = set_preference(preferences_, asked.job, done.text) || dirty_;
      }
      break;
  }
}

bool Session::poll() {
  bool changed = false;
  for (const job::Mode mode : {job::Mode::field, job::Mode::practice}) {
    auto& asked_here = mode == job::Mode::practice ? asked_practice_ : asked_field_;
    for (const port::Completion& done : store_of(mode).take_completed()) {
      changed = true;
      if (mode == mode_ && take_append(done)) {
        continue;
      }
      const auto found = asked_here.find(done.request);
      if (found == asked_here.end()) {
        continue;
      }
      const Asked asked = found->second;
      asked_here.erase(found);
      take_answer(asked, done);
      ++revision_;
    }
    take_lost(mode);
  }
  changed = take_handed() || changed;
  write_handed();
  if (port::Keeping keeping = outside_.field->keeping(); keeping != keeping_) {
    keeping_ = std::move(keeping);
    changed = true;
  }
  dirty_ = dirty_ || changed;
  return changed;
}

}  // namespace kp::app
